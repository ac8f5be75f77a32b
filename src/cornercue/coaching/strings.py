"""A call has to be kept in mind until it is done.

Who begins needs most of the head for the single technique; who has done each a thousand times keeps whole strings in
mind as one thing. So how many techniques a call may have goes with the level: 4 at level 1, one more with each level, 8
at level 5, and as many as the language has room for from level 6 on. What is longer is learnt in halves, each called by
itself. Steps and defences count: they are to be kept in mind, too. A defence that a partner feeds does not: it is seen.
"""

from __future__ import annotations

from collections.abc import Iterator

from cornercue.coaching.problem import Problem
from cornercue.coaching.traversal import Occurrence, own
from cornercue.script.model import Drill
from cornercue.script.partner import Partner
from cornercue.technique.move import Move
from cornercue.timing.timeline import Timeline

NAME = "strings"
SUMMARY = "more techniques in one call than can be kept in mind at the level: 4 at level 1, one more with each, 8 at 5"
SOURCE = "common practice, no source"
FAILING = """\
drill: Six at once
steps:
- combination: [jab, cross, lead hook, cross, lead uppercut, cross]  # here
"""
PASSING = """\
drill: Three and three
steps:
- combination: [jab, cross, lead hook]
- combination: [cross, lead uppercut, cross]
"""

FIRST = 4
"""Techniques of one call at level 1; one more with each level. Common practice, no source."""

FREE_FROM = 6
"""The level from which a call may have any number."""


def most_at(level: int) -> int | None:
    """How many techniques one call may have at a level; None where any number may."""
    return FIRST + level - 1 if level < FREE_FROM else None


def review(drill: Drill, timeline: Timeline) -> Iterator[Problem]:
    most = most_at(timeline.level)
    for step in own(drill) if most else ():
        seen = Occurrence(step, drill, step)
        for moves in dict.fromkeys(_calls(seen, timeline.level)):
            if most and len(moves) > most:
                yield Problem(
                    seen.place_of(moves[most]), NAME, "warning",
                    f"a call of {len(moves)} techniques is long for {drill.level_words(timeline.level)}: up to {most} "
                    "can be kept in mind there",
                    "make two calls of it, or give the script a higher `level`",
                )  # fmt: skip


def _calls(seen: Occurrence, level: int) -> Iterator[tuple[Move, ...]]:
    for one in seen.practice(level):
        yield one.moves[1:] if isinstance(seen.step, Partner) else () if one.held else one.moves
