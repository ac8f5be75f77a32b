"""Laying out 10,000 cues in time: `python benchmarks/expand.py`.

A drill of combinations, counted exercises and rests, with estimated speech lengths, so that it needs no voice. Prints
the median; exits 1 where 10,000 cues take more than half a second.
"""

from __future__ import annotations

import sys
import time
from statistics import median

from cornercue.script.model import Drill
from cornercue.script.read import parse_drill
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.setting import Request

ROUNDS = 9
CUES = 10_000
LIMIT = 0.5

SCRIPT = """
drill: Benchmark
stance: both
pace: 0.2
steps:
- repeat: 16
  rest: 5 s
  steps:
  - combination: [jab, slip left, cross]
    teach: 1
    reps: 60
    angles: [ahead, right 90, left 30]
  - exercise: sit-ups
    reps: 250
    every: 1 s
"""


def fast_talker(text: str, rate: float) -> float:
    """An estimate for a voice three times as fast, so that so many cues fit into six hours."""
    return estimated_seconds(text, 3 * rate)


def laid_out(drill: Drill) -> tuple[float, int]:
    """Seconds taken, and how many cues came of it."""
    begun = time.perf_counter()
    timeline = expand(drill, Request(seed=0), fast_talker)
    return time.perf_counter() - begun, len(timeline.cues)


def main() -> int:
    drill = parse_drill(SCRIPT)
    laid_out(drill)
    rounds = [laid_out(drill) for _ in range(ROUNDS)]
    cues = rounds[0][1]
    taken = median(seconds for seconds, _ in rounds)
    share = taken * CUES / cues
    print(f"{cues} cues in {taken:.3f} s: {share:.3f} s for {CUES} (limit {LIMIT} s)")
    kept = cues >= CUES and share <= LIMIT
    print("the limit is kept" if kept else "THE LIMIT IS PASSED")
    return 0 if kept else 1


if __name__ == "__main__":
    sys.exit(main())
