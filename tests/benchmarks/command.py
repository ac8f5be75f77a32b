"""`cornercue render` of a real 30-minute drill with its clips cached, against sox joining the same clips.

- The whole command takes at most 0.6 s longer than sox needs to join the same clips and silences, or on a slower
  machine 2.2 times as long as Python takes, by turns with it, to load the libraries that this needs;
- its peak memory stays below 150 MB, and a drill of 3 hours needs at most 5 % more.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from statistics import median

import numpy as np
import soundfile

from benchmarks.harness import Figure, LeftOut, Line, Run, cornercue, loading, process, sox_joining

ROUNDS = 5
LONGER, LOADING = 0.6, 2.2
MEMORY, GROWTH = 150.0, 1.05
IN_VOICE = ("--seed", "1", "--voice", "system")

TEN_MINUTES = """\
- combination: [jab, cross]
  reps: 150
  every: 2 s
  pace: sharp
- exercise: push-ups
  reps: 150
  every: 2 s
"""


def script(folder: Path, minutes: int) -> Path:
    """A drill of so many minutes, half of it calls and half counts, which says the same words however long it is."""
    path = folder / f"{minutes}.yaml"
    path.write_text("drill: Benchmark\nsteps:\n" + TEN_MINUTES * (minutes // 10), encoding="utf-8")
    return path


def pieces(folder: Path, track: Path, timeline: dict[str, list[dict[str, float]]]) -> list[Path]:
    """The track's own sounds and silences, each a file cut out beforehand, named as often as it comes."""
    samples, rate = soundfile.read(track, dtype="int16")
    starts = [cue["start"] for cue in timeline["cues"]]
    ends = [*starts[1:], len(samples) / rate]
    files: dict[bytes, Path] = {}
    inputs = []
    for lo, hi in pairwise([0, *(round(second * rate) for second in ends)]):
        piece = samples[lo:hi]
        path = files.setdefault(piece.tobytes(), folder / f"piece{len(files)}.wav")
        if not path.exists():
            soundfile.write(path, np.asarray(piece), rate)
        inputs.append(path)
    return inputs


def figures(folder: Path, rounds: int) -> Iterator[Line]:
    cache, track = folder / "cache", folder / "track.wav"

    def render(minutes: int) -> Run:
        return cornercue("render", str(script(folder, minutes)), "-o", str(track), *IN_VOICE, cache=cache)

    render(180)  # its clips come into the cache
    long = render(180).megabytes
    render(30)
    shown = cornercue("show", "--json", str(script(folder, 30)), *IN_VOICE, cache=cache)
    joining = sox_joining(pieces(folder, track, json.loads(shown.output)), folder / "joined.wav")
    runs: list[Run] = []
    sox, libraries = [], []
    for _ in range(rounds):
        runs.append(render(30))
        libraries.append(loading("soundfile").seconds)
        if joining:
            sox.append(process(*joining).seconds)
    taken, memory = median(run.seconds for run in runs), median(run.megabytes for run in runs)
    loaded = median(libraries)
    yield Figure("rendering half an hour", taken, "s")
    yield Figure("loading the libraries", loaded, "s")
    if joining:
        yield Figure("sox joining the clips", median(sox), "s")
        limit = max(LONGER, LOADING * loaded)
        yield Figure("how much longer the command takes than sox", taken - median(sox), "s", limit=limit)
    else:
        yield LeftOut("sox joining the clips", "there is no sox")
    yield Figure("memory at the peak, half an hour", memory, "MB", limit=MEMORY)
    yield Figure("memory at the peak, 3 hours, against half an hour", long / memory, "x", limit=GROWTH)
