"""An evening's recording made into a voice: how much memory it needs, and how memory and time grow with its length.

Made-up lines of a buzz whose tone wanders, `DIFFERENT` ones over and over, further apart than a line is looked for,
with a pause between them, compared with the same at another pitch: no voice is needed. A recording of an hour and a
half stays below 300 MB at the peak and needs at most 2.5 times the memory of a quarter of an hour; a minute of it takes
at most half as long again as one of the short one, and at most a twentieth of a minute.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from itertools import pairwise
from pathlib import Path

import numpy as np
import numpy.typing as npt
import soundfile

from benchmarks.harness import Figure, Line, python
from cornercue.sound import SAMPLE_RATE
from cornercue.voice.clip import Clip
from cornercue.voice.pack import write_pack
from cornercue.voice.pack_import import import_recording
from cornercue.voice.reading_sheet import SheetLine
from cornercue.voice.recording_file import read_recording

ROUNDS = 1
EVERY = 8.0
"""Seconds from line to line."""

DIFFERENT = 30

MEMORY, GROWTH, SLOWER, SLOWEST = 300.0, 2.5, 1.5, 0.05

IMPORTED = """\
import os, pathlib, sys
os.environ["OMP_NUM_THREADS"] = os.environ["OPENBLAS_NUM_THREADS"] = "1"
from benchmarks.importing import imported
imported(pathlib.Path(sys.argv[1]), int(sys.argv[2]))
"""


def buzz(number: int, pitch: float) -> npt.NDArray[np.float64]:
    """Some two seconds, 20 harmonics whose weights wander; the same number wanders alike at any pitch."""
    rng = np.random.default_rng(number)
    seconds = rng.uniform(1.5, 3.0)
    at = np.arange(round(seconds * SAMPLE_RATE)) / SAMPLE_RATE
    turns = [rng.uniform(0, 1, 8) for _ in range(20)]
    weights = (np.interp(at, np.linspace(0, seconds, 8), turn) ** 2 for turn in turns)
    sound = sum(weight * np.sin(2 * np.pi * pitch * k * at) / k for k, weight in enumerate(weights, 1))
    return 0.2 * np.asarray(sound)


def record(path: Path, minutes: int) -> None:
    """A WAV file that lasts so long, written line by line."""
    rng = np.random.default_rng(1)
    sounds = rng.normal(0, 0.001, (DIFFERENT, round(EVERY * SAMPLE_RATE)))
    for number, sound in enumerate(sounds):
        said = buzz(number, 120)
        sound[SAMPLE_RATE // 2 : SAMPLE_RATE // 2 + len(said)] += said
    with soundfile.SoundFile(path, "w", SAMPLE_RATE, 1) as file:
        for number in range(round(minutes * 60 / EVERY)):
            file.write(sounds[number % DIFFERENT])


def imported(folder: Path, minutes: int) -> None:
    """The pack of such a recording."""
    lines = [SheetLine(number + 1, f"line {number}") for number in range(round(minutes * 60 / EVERY))]
    sound = read_recording(folder / f"{minutes}.wav")
    found = import_recording(sound, lines, lambda text: Clip(text, _samples(int(text.split()[1]) % DIFFERENT)))
    write_pack(folder / f"pack {minutes}", found.clips)


@cache
def _samples(number: int) -> npt.NDArray[np.int16]:
    return np.round(32767 * buzz(number, 140)).astype(np.int16)


def figures(folder: Path, rounds: int) -> Iterator[Line]:
    lengths = (15, 90)
    for minutes in lengths:
        record(folder / f"{minutes}.wav", minutes)
    runs = [python(IMPORTED, str(folder), str(minutes)) for minutes in lengths]
    for minutes, run in zip(lengths, runs, strict=True):
        yield Figure(f"importing {minutes} minutes, memory at the peak", run.megabytes, "MB", limit=MEMORY)
    for short, long in pairwise(runs):
        yield Figure("memory for the long one, against the short one", long.megabytes / short.megabytes, "x", GROWTH)
        slower = long.seconds / lengths[1] / (short.seconds / lengths[0])
        yield Figure("a minute of the long one, against one of the short one", slower, "x", SLOWER)
    yield Figure("importing 90 minutes, against their length", runs[-1].seconds / 5400, "x", limit=SLOWEST)
