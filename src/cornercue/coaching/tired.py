"""What is new to the student in the last third of a session, for the rule `order`."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cornercue.coaching.problem import Problem
from cornercue.coaching.traversal import Occurrence, place_of
from cornercue.durations import lasting
from cornercue.script.model import Drill
from cornercue.technique.table import Technique
from cornercue.technique.vocabulary import USUAL
from cornercue.timing.phrasebook import phrasebook
from cornercue.timing.timeline import Cue, Timeline

FRESH = 2 / 3
"""The part of a full session in which something new may come."""


def new_when_tired(drill: Drill, seen: Sequence[Occurrence], timeline: Timeline, rule: str) -> Iterator[Problem]:
    """What is taught slowly too late in a full session, or comes for the first time there; told as `rule`."""
    yield from _taught(drill, timeline, rule)
    yield from _first(seen, timeline, rule)


def _taught(drill: Drill, timeline: Timeline, rule: str) -> Iterator[Problem]:
    """Slow repetitions that begin in the last third; each step once."""
    slowly = phrasebook().say("teach", times="\0").partition("\0")[0]
    late = {
        cue.line: cue.start
        for cue in reversed(timeline.cues)
        if cue.kind == "say" and cue.text.startswith(slowly) and cue.start > FRESH * timeline.duration
    }
    for line, start in late.items():
        yield Problem(
            place_of(drill, line), rule, "warning",
            f"something new is taught after {lasting(start)}, when everybody is tired",
            "teach it in the first half, and repeat it here",
        )  # fmt: skip


def _first(seen: Sequence[Occurrence], timeline: Timeline, rule: str) -> Iterator[Problem]:
    """Techniques that come for the first time in the last third, and not slowly; each step once."""
    first: dict[str, Cue] = {}
    for cue in timeline.cues:
        for action in cue.moves:
            first.setdefault(action.technique, cue)
    met, told = set[str](), set[tuple[int, int]]()
    for one in seen:
        for move in (move for practised in one.practice(timeline.level) for move in practised.moves):
            technique, late = move.technique, first.get(move.technique.name)
            base = technique.base.removesuffix(" chamber")  # held halfway is no other technique
            new = base not in met and _burdens(technique)
            met.add(base)
            if not new or late is None or late.taught or late.start <= FRESH * timeline.duration:
                continue
            if one.place.at not in told:
                told.add(one.place.at)
                yield Problem(
                    one.place_of(move), rule, "hint",
                    f"the {technique.name} comes for the first time after {lasting(late.start)}, when all are tired",
                    "show it in the first half, if it is new",
                )  # fmt: skip


def _burdens(technique: Technique) -> bool:
    """Whether it is not to be met for the first time when tired; defences and steps of the table are light."""
    if technique.base not in USUAL:
        return True
    return technique.kind in ("strike", "kick", "ground") and technique.number is None
