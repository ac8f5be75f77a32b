"""Reviewing a library of 200 drills, side by side with reading and laying them out: `python benchmarks/review.py`.

The drills are files made here, each different: those of `benchmarks/check.py` with random calls and partner work added,
so that every rule has something to look at. Seconds are those of one core, so that a busy machine counts for little.
Prints the medians and their ratio; exits 1 where the whole takes 10 s or more.
"""

from __future__ import annotations

import random
import sys
import tempfile
import time
from pathlib import Path
from statistics import median

from check import script
from cornercue.coaching.rules import review
from cornercue.script.read import read_drill
from cornercue.technique.table import TECHNIQUES
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.setting import Request

ROUNDS = 3
DRILLS = 200
LIMIT = 10.0

_STRIKES = [technique.name for technique in TECHNIQUES if technique.kind in ("strike", "kick")]


def drill(number: int) -> str:
    """A script with random calls; seeded, so every process makes the same."""
    draw = random.Random(number)
    calls = [f"[{', '.join(draw.sample(_STRIKES, draw.randint(2, 4)))}]" for _ in range(8)]
    return (
        "junior: no\n"
        + script(number)
        + f"- shadow: [{', '.join(calls)}]\n  for: 2 min\n  gap: [8 s, 14 s]\n"
        + f"- partner: [parry, cover, weave, slip, duck]\n  for: 90 s\n  answers: [{', '.join(calls[:4])}]\n"
        + "- partner: [high block, low block]\n  for: 1 min\n  listener: feeder\n"
    )


def seconds(paths: list[Path], reviewed: bool) -> tuple[float, int]:
    """Seconds of one core to read and lay out every drill, reviewed or not, and how much was found."""
    found = 0
    begun = time.process_time()
    for path in paths:
        one = read_drill(path)
        timeline = expand(one, Request(seed=0), estimated_seconds)
        if reviewed:
            found += len(review(one, timeline))
    return time.process_time() - begun, found


def main() -> int:
    with tempfile.TemporaryDirectory() as folder:
        paths = [Path(folder, f"{number}.yaml") for number in range(DRILLS)]
        for number, path in enumerate(paths):
            path.write_text(drill(number), encoding="utf-8")
        first, found = seconds(paths, reviewed=True)
        taken: dict[bool, list[float]] = {False: [], True: []}
        for _ in range(ROUNDS):
            for reviewed in (False, True):
                taken[reviewed].append(seconds(paths, reviewed)[0])
    plain, whole = median(taken[False]), median(taken[True])
    print(f"{DRILLS} drills: read and laid out {plain:.2f} s, reviewed too {whole:.2f} s ({whole / plain:.2f} times)")
    print(f"the first time, the dictionary of sounds and all: {first:.2f} s (limit {LIMIT:.0f} s); {found} findings")
    kept = max(first, whole) < LIMIT and found > DRILLS
    print("the limit is kept" if kept else "THE LIMIT IS PASSED")
    return 0 if kept else 1


if __name__ == "__main__":
    sys.exit(main())
