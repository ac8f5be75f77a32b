"""Drawing and laying out 10,000 partner calls, beside the bare draws of as many: less than a second.

Five drills of 2,000 calls (more would pass six hours), six kinds of call with two answers, for the student and for the
feeder, with estimated speech lengths, so that it needs no voice.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from functools import partial
from itertools import islice
from pathlib import Path

from benchmarks.harness import Figure, of_the_processor, side_by_side
from cornercue.script.model import Drill
from cornercue.script.read import parse_drill
from cornercue.technique.sides import SIDES
from cornercue.timing.draws import Kind, draws
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.setting import Request

ROUNDS = 9
CALLS, DRILLS = 10_000, 5
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


def lay_out(drill: Drill) -> None:
    """Lays the drill out from as many seeds as it takes for all the calls."""
    lines = [expand(drill, Request(seed), estimated_seconds) for seed in range(DRILLS)]
    calls = sum(cue.kind == "call" and cue.due is not None for line in lines for cue in line.cues)
    assert calls == CALLS


def draw() -> None:
    kinds = [Kind(side, 1.0, side, name) for name in ("parry", "cover", "weave") for side in SIDES]
    assert len(list(islice(draws(kinds, random.Random(0)), CALLS))) == CALLS


def figures(folder: Path, rounds: int) -> Iterator[Figure]:
    laying = {listener: partial(lay_out, drill_for(listener)) for listener in LISTENERS}
    times = side_by_side({"draws": draw, **laying}, rounds, of_the_processor)
    yield Figure(f"{CALLS} bare draws", times["draws"], "s")
    for listener in LISTENERS:
        yield Figure(f"{CALLS} calls for the {listener} drawn and laid out", times[listener], "s", limit=1)
        yield Figure("the same, against the bare draws", times[listener] / times["draws"], "x", limit=20)
