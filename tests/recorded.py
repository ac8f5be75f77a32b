"""A made-up recording of a reading sheet: another voice than the reference, uneven pauses, noise, faults on request."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import soxr  # type: ignore[import-untyped]  # it ships no types

from cornercue.sound import SAMPLE_RATE
from cornercue.voice.speech import Speech

Samples = npt.NDArray[np.float64]

TEXTS = [
    "one", "two", "three", "four", "five", "six", "jab", "cross", "lead hook", "rear uppercut", "jab, cross",
    "parry left", "parry right", "cover left", "weave right", "Rest, thirty seconds.", "Now all together.",
    "Stand as if on a boat. Elbows low. Both knees soft all the time.", "Shake your arms out.",
    "Orthodox stance, left foot in front.", "You need a clear floor and water.", "Well done. That is the end.",
]  # fmt: skip

NOISE = -50.0
"""dBFS of the noise of the room, white."""


@dataclass(frozen=True)
class Faults:
    """Indices of the lines that are not read, read twice, followed by a cough, and read in a special way."""

    missing: int = -1
    double: int = -1
    cough: int = -1
    clipped: int = -1
    quiet: int = -1


def taken(speech: Speech, text: str, rate: float, pitch: float) -> Samples:
    """The phrase at a rate, its pitch (and tempo) raised by resampling."""
    clip = speech.clip(text, rate).samples / 32768
    raised: Samples = soxr.resample(clip, SAMPLE_RATE, SAMPLE_RATE / pitch)
    return raised


def recording(
    speech: Speech, texts: Sequence[str], faults: Faults, seed: int = 1
) -> tuple[Samples, dict[int, list[float]]]:
    """The recording, at `SAMPLE_RATE`, and for each line (-1 for the cough) the seconds at which it begins."""
    rng = np.random.default_rng(seed)
    parts: list[Samples] = []
    starts: dict[int, list[float]] = {}

    def add(line: int, sound: Samples) -> None:
        parts.append(np.zeros(round(SAMPLE_RATE * rng.uniform(0.8, 1.8))))
        starts.setdefault(line, []).append(sum(map(len, parts)) / SAMPLE_RATE)
        parts.append(sound)

    for line, text in enumerate(texts):
        if line == faults.missing:
            continue
        sound = taken(speech, text, 0.9, 1.06) * rng.uniform(0.3, 0.5)
        if line == faults.clipped:
            sound = np.clip(sound * 12, -1, 1)
        add(line, sound * 0.2 if line == faults.quiet else sound)
        if line == faults.double:
            add(line, 0.4 * taken(speech, text, 1.0, 1.09))
        if line == faults.cough:
            add(-1, rng.normal(0, 0.2, 6000) * np.exp(-np.arange(6000) / 2000))
    parts.append(np.zeros(SAMPLE_RATE))
    whole = np.concatenate(parts)
    return np.clip(whole + rng.normal(0, 10 ** (NOISE / 20), len(whole)), -1, 32767 / 32768), starts
