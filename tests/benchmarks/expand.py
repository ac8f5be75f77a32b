"""Laying out 10,000 cues in time: at most half a second.

A drill of combinations, counted exercises and rests, with estimated speech lengths, so that it needs no voice.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from benchmarks.harness import Figure, of_the_processor, side_by_side
from cornercue.script.read import parse_drill
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.setting import Request

ROUNDS = 9
CUES = 10_000

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


def figures(folder: Path, rounds: int) -> Iterator[Figure]:
    drill = parse_drill(SCRIPT)
    cues = len(expand(drill, Request(seed=0), fast_talker).cues)
    assert cues >= CUES
    times = side_by_side({"laid out": lambda: expand(drill, Request(seed=0), fast_talker)}, rounds, of_the_processor)
    yield Figure(f"{CUES} cues laid out", times["laid out"] * CUES / cues, "s", limit=0.5)
