"""Drawing and laying out 10,000 partner calls: `python benchmarks/partner.py`.

Five drills of 2,000 calls (more would pass six hours), six kinds of call with two answers, for the student and for the
feeder, with estimated speech lengths, so that it needs no voice. Prints medians, with the bare draws of as many calls
beside them; exits 1 where laying out 10,000 calls takes one second or more.
"""

from __future__ import annotations

import random
import sys
import time
from collections.abc import Callable
from functools import partial
from itertools import islice
from statistics import median

from cornercue.script.model import Drill
from cornercue.script.read import parse_drill
from cornercue.technique.sides import SIDES
from cornercue.timing.draws import Kind, draws
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.setting import Request

ROUNDS = 9
CALLS, DRILLS = 10_000, 5
LIMIT = 1.0
LISTENERS = ("student", "feeder")

STEP = """\
- partner: [parry, cover, weave]
  reps: 500
  pace: sharp
  listener: {listener}
  answers: [[jab, cross], [lead hook]]
"""


def drill_for(listener: str) -> Drill:
    steps = STEP.format(listener=listener) * (CALLS // DRILLS // 500)
    return parse_drill(f"drill: Benchmark\nsafety: short\nsteps:\n{steps}")


def lay_out(drill: Drill) -> int:
    """Lays the drill out from as many seeds as it takes; the number of calls that came of it."""
    lines = [expand(drill, Request(seed), estimated_seconds) for seed in range(DRILLS)]
    return sum(cue.kind == "call" and cue.due is not None for line in lines for cue in line.cues)


def draw() -> int:
    kinds = [Kind(side, 1.0, side, name) for name in ("parry", "cover", "weave") for side in SIDES]
    return len(list(islice(draws(kinds, random.Random(0)), CALLS)))


def median_seconds(work: Callable[[], int]) -> float:
    """Median of the rounds; the first call warms up, and counts the calls."""
    if (calls := work()) != CALLS:
        raise AssertionError(f"{calls} calls instead of {CALLS}")
    return median(_seconds(work) for _ in range(ROUNDS))


def _seconds(work: Callable[[], int]) -> float:
    begun = time.perf_counter()
    work()
    return time.perf_counter() - begun


def main() -> int:
    print(f"{CALLS} bare draws: {median_seconds(draw):.3f} s")
    kept = True
    for listener in LISTENERS:
        drill = drill_for(listener)
        taken = median_seconds(partial(lay_out, drill))
        print(f"{CALLS} calls for the {listener} drawn and laid out: {taken:.3f} s (limit {LIMIT:g} s)")
        kept = kept and taken < LIMIT
    print("the limit is kept" if kept else "THE LIMIT IS PASSED")
    return 0 if kept else 1


if __name__ == "__main__":
    sys.exit(main())
