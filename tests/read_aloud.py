"""Made-up readings of a sheet, each with its own trouble: other accents, pauses inside lines, slips, lines left out."""

from __future__ import annotations

import subprocess
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
import numpy.typing as npt
import soundfile
import soxr  # type: ignore[import-untyped]  # it ships no types

from cornercue.sound import SAMPLE_RATE

Samples = npt.NDArray[np.float64]

ENGLISH = (
    "Ready? Hands up.", "jab", "cross", "jab, cross", "lead hook", "rear uppercut", "Rest, thirty seconds.",
    "Stand as if on a boat. Elbows low. Both knees soft.", "Shake your arms out.", "Well done. That is the end.",
)  # fmt: skip
KOREAN = (
    "준비, 시작.", "하나", "둘", "셋", "왼쪽으로 막아.", "오른쪽으로 돌아, 손을 올려.", "삼십 초 쉬어.", "잘했어. 끝.",
)  # fmt: skip


@dataclass(frozen=True)
class Reader:
    """A voice of espeak-ng, its words a minute, and its pitch from 0 to 99."""

    voice: str
    rate: int = 150
    pitch: int = 50


@dataclass(frozen=True)
class Reading:
    """How a sheet is read. `inside` are the seconds of each pause inside a line, at commas and full stops; `said` are
    the lines by their places in the order in which they are read; before each line in `slips` its first part is said,
    and broken off. `noise` is the room's in dBFS, `gain` how loud it is recorded; `cough` is the line a cough is after.
    """

    reader: Reader
    said: tuple[int, ...]
    texts: Sequence[str] = ENGLISH
    inside: float = 0.0
    slips: tuple[int, ...] = ()
    noise: float = -60.0
    gain: float = 0.4
    cough: int = -1
    between: tuple[float, float] = (1.1, 1.8)
    seed: int = 1


@cache
def spoken(reader: Reader, text: str) -> Samples:
    """What espeak-ng says, without the silence round it."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "said.wav"
        options = ["-v", reader.voice, "-s", str(reader.rate), "-p", str(reader.pitch)]
        subprocess.run(["espeak-ng", *options, "-w", str(path), "--", text], check=True)
        sound, rate = soundfile.read(path)
    heard = np.flatnonzero(np.abs(sound) > 0.004)
    resampled: Samples = soxr.resample(sound[heard[0] : heard[-1] + 1], rate, SAMPLE_RATE)
    level: Samples = resampled / np.abs(resampled).max()
    return level


def line(reader: Reader, text: str, inside: float) -> Samples:
    """A line, its parts said one by one with pauses between them, if any are asked for."""
    parts = text.replace("?", ",").replace(".", ",").strip(",").split(",") if inside else [text]
    sounds = [sound for part in parts for sound in (spoken(reader, part.strip()), silence(inside))]
    return np.concatenate(sounds[:-1])


def silence(seconds: float) -> Samples:
    return np.zeros(round(seconds * SAMPLE_RATE))


def read_aloud(how: Reading) -> tuple[Samples, list[tuple[int, float, float]]]:
    """The recording at `SAMPLE_RATE`, and where each line begins and ends: its place on the sheet, then seconds."""
    rng = np.random.default_rng(how.seed)
    parts = [silence(1)]
    takes: list[tuple[int, float, float]] = []

    def now() -> float:
        return sum(map(len, parts)) / SAMPLE_RATE

    for at in how.said:
        whole = line(how.reader, how.texts[at], how.inside)
        if at in how.slips:
            parts += [whole[: round(0.4 * len(whole))], silence(1.2)]
        begins = now()
        parts.append(whole)
        takes.append((at, begins, now()))
        if at == how.cough:
            parts += [silence(0.9), rng.normal(0, 0.4, 6000) * np.exp(-np.arange(6000) / 2000)]
        parts.append(silence(rng.uniform(*how.between)))
    sound = how.gain * np.concatenate(parts)
    return np.clip(sound + rng.normal(0, 10 ** (how.noise / 20), len(sound)), -1, 32767 / 32768), takes
