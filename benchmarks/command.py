"""`cornercue render` of a real 30-minute drill with its clips cached, against sox joining the same clips.

`python benchmarks/command.py`. Prints medians; exits 1 where a limit is passed:
- the whole command takes at most 0.6 s longer than sox needs to join the same clips and silences, or on a slower
  machine `LOADING` times as long as Python takes, by turns with it, to load the libraries that this needs;
- its peak memory stays below 150 MB, and a drill of 3 hours needs at most 5 % more.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import tempfile
import time
from itertools import pairwise
from pathlib import Path
from statistics import median

import numpy as np
import soundfile

ROUNDS = 5
TIME_LIMIT, MEMORY_LIMIT, GROWTH_LIMIT = 0.6, 150.0, 1.05
LOADING = 2.2
LIBRARIES = "import click, numpy, soundfile, yaml; from pydantic import BaseModel"

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


WATCHED = """\
import resource, subprocess, sys
done = subprocess.run(sys.argv[1:])
print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024, file=sys.stderr)
sys.exit(done.returncode)
"""
"""Runs a command from a small process: a child's peak begins at the size of the process that started it."""


def command(*arguments: str, cache: Path) -> tuple[str, float, float]:
    """Output, seconds and peak megabytes of one run of the command in a process of its own."""
    begun = time.perf_counter()
    done = subprocess.run(
        [sys.executable, "-c", WATCHED, sys.executable, "-m", "cornercue", *arguments],
        env={**os.environ, "XDG_CACHE_HOME": str(cache)}, capture_output=True, text=True, check=False,
    )  # fmt: skip
    if done.returncode:
        sys.exit(f"{' '.join(arguments)} ended with {done.returncode}: {done.stderr}")
    return done.stdout, time.perf_counter() - begun, float(done.stderr.split()[-1])


def sox_join(folder: Path, track: Path, timeline: dict[str, list[dict[str, float]]]) -> list[str]:
    """sox joining the track's own sounds and silences, each a file cut out beforehand and used as often as it comes."""
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
        inputs.append(str(path))
    return ["sox", *inputs, str(folder / "sox.wav")]


def timed(joined: list[str]) -> float:
    begun = time.perf_counter()
    subprocess.run(["bash", "-c", 'ulimit -n 20000 2>/dev/null; exec "$@"', "sox", *joined], check=True)
    return time.perf_counter() - begun


def loaded() -> float:
    """Seconds that Python takes to load the libraries."""
    begun = time.perf_counter()
    subprocess.run([sys.executable, "-c", LIBRARIES], check=True)
    return time.perf_counter() - begun


def main() -> int:
    with tempfile.TemporaryDirectory() as name:
        folder, cache = Path(name), Path(name) / "cache"
        half_hour, three_hours = (script(folder, minutes) for minutes in (30, 180))
        track = folder / "track.wav"
        arguments = ("render", str(half_hour), "-o", str(track), "--seed", "1", "--voice", "system")
        command(*arguments, cache=cache)
        shown = command("show", "--json", str(half_hour), "--seed", "1", "--voice", "system", cache=cache)
        timeline = json.loads(shown[0])
        joined = sox_join(folder, track, timeline) if shutil.which("sox") else []
        runs, sox, loading = [], [], []
        for _ in range(ROUNDS):
            runs.append(command(*arguments, cache=cache))
            loading.append(loaded())
            if joined:
                sox.append(timed(joined))
        taken, memory = median(run[1] for run in runs), median(run[2] for run in runs)
        hours = ("render", str(three_hours), "-o", str(track), "--voice", "system")
        command(*hours, cache=cache)  # its clips come into the cache
        long = command(*hours, cache=cache)[2]
    print(f"a drill of {timeline['duration'] / 60:.0f} minutes, {len(timeline['cues'])} cues")
    print(f"cornercue render       {taken:.2f} s, peak {memory:.1f} MB; 3 hours {long:.1f} MB")
    kept = memory < MEMORY_LIMIT and long <= memory * GROWTH_LIMIT
    if sox:
        print(f"sox joining the clips  {median(sox):.2f} s; the command takes {taken - median(sox):.2f} s longer")
        limit = max(TIME_LIMIT, LOADING * median(loading))
        print(f"loading the libraries  {median(loading):.2f} s; so the limit is {limit:.2f} s")
        kept = kept and taken - median(sox) <= limit
    print("every limit is kept" if kept else "A LIMIT IS PASSED")
    return 0 if kept else 1


if __name__ == "__main__":
    sys.exit(main())
