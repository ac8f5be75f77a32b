"""Mixing and writing a drill against writing the same bytes, side by side.

A drill of 900 calls from 40 clips in 30 minutes, with made-up clips, so that it needs no voice.
- Mixing and writing the WAV takes at most 3 times as long as writing the same bytes;
- its peak memory stays below 150 MB, and 3 hours need at most 5 % more than 30 minutes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
import soundfile

from benchmarks.harness import Figure, LeftOut, Line, on_the_wall, process, python, side_by_side, sox_joining
from cornercue.sound import SAMPLE_RATE
from cornercue.timing.timeline import Cue, Timeline
from cornercue.track.sound_files import write
from cornercue.voice.clip import Clip

ROUNDS = 9
CLIPS = 40
EVERY = 2.0
SLOWER, MEMORY, GROWTH = 3.0, 150.0, 1.05


def made_up_clips() -> dict[str, Clip]:
    """Noise from 0.3 to 1.2 s long; seeded, so every process makes the same."""
    random = np.random.default_rng(2026)
    names = [f"phrase {number}" for number in range(CLIPS)]
    lengths = random.integers(SAMPLE_RATE * 3 // 10, SAMPLE_RATE * 12 // 10, CLIPS)
    return {
        name: Clip(name, random.integers(-9000, 9000, length, np.int16))
        for name, length in zip(names, lengths.tolist(), strict=True)
    }


def made_up_drill(clips: dict[str, Clip], minutes: int) -> Timeline:
    """A call every two seconds."""
    names = [*clips]
    cues = [
        Cue(k * EVERY, k * EVERY + clips[name].seconds, "call", name, 1, 0)
        for k in range(round(minutes * 60 / EVERY))
        for name in (names[k % CLIPS],)
    ]
    return Timeline("Benchmark", 1, 0, "none", minutes * 60.0, tuple(cues), ())


def render(path: Path, minutes: int) -> None:
    clips = made_up_clips()
    write(path, made_up_drill(clips, minutes), lambda text, rate: clips[text])


def write_raw(path: Path, data: memoryview) -> None:
    """The floor: the same bytes in the same portions, already in memory."""
    with path.open("wb") as file:
        for at in range(0, len(data), 131_072):
            file.write(data[at : at + 131_072])


def clip_files(folder: Path, clips: dict[str, Clip], calls: int) -> list[Path]:
    """For sox: the same clips, each with the silence that follows it, as often as they come."""
    pairs: list[Path] = []
    for number, clip in enumerate(clips.values()):
        sound, silence = folder / f"clip{number}.wav", folder / f"silence{number}.wav"
        soundfile.write(sound, clip.samples, SAMPLE_RATE)
        gap = round(EVERY * SAMPLE_RATE) - len(clip.samples)
        soundfile.write(silence, np.zeros(gap, np.int16), SAMPLE_RATE)
        pairs += [sound, silence]
    return [pairs[at % len(pairs)] for at in range(2 * calls)]


RENDERED = """\
import pathlib, sys
from benchmarks.render import render
render(pathlib.Path(sys.argv[1]), int(sys.argv[2]))
"""


def peak_memory(path: Path, minutes: int) -> float:
    """Megabytes at the peak of a process that renders this long a drill and nothing else."""
    return python(RENDERED, str(path), str(minutes)).megabytes


def figures(folder: Path, rounds: int) -> Iterator[Line]:
    wav, raw = folder / "track.wav", folder / "track.raw"
    half_hour, three_hours = peak_memory(wav, 30), peak_memory(wav, 180)
    clips = made_up_clips()
    line = made_up_drill(clips, 30)
    render(wav, 30)
    data = memoryview(wav.read_bytes())
    ways: dict[str, Callable[[], object]] = {
        "floor": lambda: write_raw(raw, data),
        "mixed": lambda: write(wav, line, lambda text, rate: clips[text]),
    }
    if joining := sox_joining(clip_files(folder, clips, len(line.cues)), folder / "joined.wav"):
        ways["sox"] = lambda: process(*joining)
    times = side_by_side(ways, rounds, on_the_wall)
    floor, mixed = times["floor"], times["mixed"]
    yield Figure("writing the bytes of half an hour", floor, "s")
    yield Figure("mixing and writing, against writing the same bytes", mixed / floor, "x", limit=SLOWER)
    if joining:
        yield Figure("sox joining the clips, against writing the same bytes", times["sox"] / floor, "x")
    else:
        yield LeftOut("sox joining the clips", "there is no sox")
    yield Figure("memory at the peak, half an hour", half_hour, "MB", limit=MEMORY)
    yield Figure("memory at the peak, 3 hours", three_hours, "MB", limit=MEMORY)
    yield Figure("memory at the peak, 3 hours, against half an hour", three_hours / half_hour, "x", limit=GROWTH)
