"""How every benchmark measures, states a limit and prints.

A benchmark is a file beside this one with `ROUNDS` and `figures(folder, rounds)`: it may write into the folder, and
yields its figures one after the other. What is compared takes turns in one run, so that a busy moment of the machine
meets every side; of the rounds the median counts. Work that one core does alone is counted in seconds of the processor;
what is read or heard while somebody waits, in seconds on the wall. One figure is one line:

    mixing and writing, against writing the same bytes                    1.62 x    limit 3 x      ok
"""

from __future__ import annotations

import os
import resource
import shutil
import subprocess
import sys
import time
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from statistics import median
from typing import Protocol

TESTS = Path(__file__).parent.parent
WIDTH = 66
"""Of what was measured, in letters, so that the figures stand below each other."""


YARDSTICK = 0.046
"""Seconds of the processor that counting takes on the machine whose times the limits are from: there 10,000 calls were
laid out in 0.55 s, and the same commit took 1.19 s where counting took 0.099 s."""


@cache
def slowness() -> float:
    """How many times as long as that machine this one takes to count, never less than once: so much later may it be."""

    def counted() -> float:
        begun, total = time.process_time(), 0
        for n in range(1_000_000):
            total += n * n % 7
        return time.process_time() - begun

    return max(1.0, min(counted() for _ in range(5)) / YARDSTICK)


@dataclass(frozen=True)
class Figure:
    """What was measured: in its unit, with the most that it may be where it is limited."""

    what: str
    found: float
    unit: str = ""
    limit: float | None = None

    @property
    def kept(self) -> bool:
        allowed = slowness() if self.unit in ("s", "ms") else 1.0
        return self.limit is None or self.found <= self.limit * allowed

    def __str__(self) -> str:
        limit = "" if self.limit is None else f"limit {_digits(self.limit)} {self.unit}".rstrip()
        verdict = "" if self.limit is None else ("ok" if self.kept else "FAIL")
        return f"{self.what:{WIDTH}} {f'{_digits(self.found)} {self.unit}':>12}    {limit:16} {verdict}".rstrip()


@dataclass(frozen=True)
class LeftOut:
    """What could not be measured here, and why."""

    what: str
    why: str
    kept = True

    def __str__(self) -> str:
        return f"{self.what:{WIDTH}} left out: {self.why}"


Line = Figure | LeftOut


class Benchmark(Protocol):
    """The file of a benchmark."""

    ROUNDS: int

    def figures(self, folder: Path, rounds: int) -> Iterator[Line]: ...


def _digits(number: float) -> str:
    """Three digits that count, and never a power of ten."""
    return f"{number:.0f}" if number >= 100 or number == int(number) else f"{number:#.3g}"


def report(lines: Iterable[Line]) -> bool:
    """Print each line as soon as it is known; true where every limit is kept."""
    kept = True
    for line in lines:
        print(line, flush=True)
        kept = kept and line.kept
    return kept


def on_the_wall() -> float:
    return time.perf_counter()


def of_the_processor() -> float:
    """Seconds that this process and those that it started and saw end have kept a core busy.

    The same as those on the wall where one core works and nothing waits; a busy machine counts for little.
    """
    used = (resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    return sum(one.ru_utime + one.ru_stime for one in used)


def seconds(work: Callable[[], object], clock: Callable[[], float]) -> float:
    """What one run takes by a clock."""
    begun = clock()
    work()
    return clock() - begun


def side_by_side(ways: Mapping[str, Callable[[], object]], rounds: int, clock: Callable[[], float]) -> dict[str, float]:
    """Median seconds of each way: once for nothing, so that all is warm, then by turns."""
    for work in ways.values():
        work()
    taken: dict[str, list[float]] = {name: [] for name in ways}
    for _ in range(rounds):
        for name, work in ways.items():
            taken[name].append(seconds(work, clock))
    return {name: median(times) for name, times in taken.items()}


@dataclass(frozen=True)
class Run:
    """What a process printed, the seconds that it took, and its memory at the peak in megabytes."""

    output: str
    seconds: float
    megabytes: float


_WATCHER = """\
import resource, subprocess, sys, time
hard = resource.getrlimit(resource.RLIMIT_NOFILE)[1]
resource.setrlimit(resource.RLIMIT_NOFILE, (20000 if hard < 0 else min(hard, 20000), hard))
begun = time.perf_counter()
done = subprocess.run(sys.argv[1:])
taken = time.perf_counter() - begun
print(f"\\n{taken} {resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024}", file=sys.stderr)
sys.exit(done.returncode)
"""
"""Runs a command from a small process, since a child's peak begins at the size of whoever started it.

It may open many files: sox, which joins many, opens all of them at once.
"""


def process(*command: str, env: Mapping[str, str] | None = None) -> Run:
    """One run of a command; `env` comes on top of the environment. Ends the benchmark if the command fails."""
    done = subprocess.run(
        [sys.executable, "-c", _WATCHER, *command],
        env={**os.environ, **(env or {})}, capture_output=True, text=True, check=False,
    )  # fmt: skip
    if done.returncode:
        sys.exit(f"{' '.join(command)[:200]} ended with {done.returncode}: {done.stderr}")
    taken, peak = done.stderr.split()[-2:]
    return Run(done.stdout, float(taken), float(peak))


def python(code: str, *arguments: str) -> Run:
    """A Python of its own that runs this code, which may import what the tests import."""
    path = os.pathsep.join([str(TESTS), *filter(None, [os.environ.get("PYTHONPATH")])])
    return process(sys.executable, "-c", code, *arguments, env={"PYTHONPATH": path})


def cornercue(*arguments: str, cache: Path) -> Run:
    """One run of the command, with this cache of clips."""
    return process(sys.executable, "-m", "cornercue", *arguments, env={"XDG_CACHE_HOME": str(cache)})


def loading(library: str) -> Run:
    """Python loading what the command needs and this library: the yardstick for how slow a machine is."""
    return python(f"import click, {library}, numpy, yaml; from pydantic import BaseModel")


def sox_joining(files: Iterable[Path], joined: Path) -> list[str] | None:
    """The command with which sox joins sounds; none where there is no sox."""
    sox = shutil.which("sox")
    return [sox, *map(str, files), str(joined)] if sox else None
