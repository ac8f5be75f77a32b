"""Reviewing a library of 200 drills, beside reading and laying them out: less than 10 s for the whole.

The drills are files made here, each different: those of `check.py` with random calls and partner work added, so that
every rule has something to look at. Seconds are those of one core, so that a busy machine counts for little.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from pathlib import Path

from benchmarks.check import check_all, script
from benchmarks.harness import Figure, of_the_processor, seconds, side_by_side
from cornercue.coaching.rules import review
from cornercue.script.read import read_drill
from cornercue.technique.table import TECHNIQUES
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.setting import Request

ROUNDS = 3
DRILLS = 200

_STRIKES = [technique.name for technique in TECHNIQUES if technique.kind in ("strike", "kick")]


def drill(number: int) -> str:
    """A script with random calls; seeded, so every process makes the same."""
    draw = random.Random(number)
    calls = [f"[{', '.join(draw.sample(_STRIKES, draw.randint(2, 4)))}]" for _ in range(8)]
    return (
        "junior: no\n"
        + script(number)
        + f"- shadow: [{', '.join(calls)}]\n  for: 2 min\n  gap: [8 s, 24 s]\n"
        + f"- partner: [parry, cover, weave, slip, duck]\n  for: 90 s\n  answers: [{', '.join(calls[:4])}]\n"
        + "- partner: [high block, low block]\n  for: 1 min\n  listener: feeder\n"
    )


def review_all(paths: list[Path]) -> int:
    """Reads, lays out and reviews every drill; how much is found."""
    found = 0
    for path in paths:
        one = read_drill(path)
        found += len(review(one, expand(one, Request(seed=0), estimated_seconds)))
    return found


def figures(folder: Path, rounds: int) -> Iterator[Figure]:
    paths = [folder / f"{number}.yaml" for number in range(DRILLS)]
    for number, path in enumerate(paths):
        path.write_text(drill(number), encoding="utf-8")
    found: list[int] = []
    first = seconds(lambda: found.append(review_all(paths)), of_the_processor)
    assert found[0] > DRILLS, "the drills must give the rules something to find"
    ways: dict[str, Callable[[], object]] = {"plain": lambda: check_all(paths), "whole": lambda: review_all(paths)}
    times = side_by_side(ways, rounds, of_the_processor)
    yield Figure(f"{DRILLS} drills read and laid out", times["plain"], "s")
    yield Figure(f"{DRILLS} drills reviewed too", times["whole"], "s", limit=10)
    yield Figure("the same the first time, the dictionary of sounds and all", first, "s", limit=10)
    yield Figure("reviewing too, against reading and laying out", times["whole"] / times["plain"], "x", limit=2)
