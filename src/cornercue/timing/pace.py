"""How long things take a person. Common practice, no source, unless a source is named."""

from __future__ import annotations

import math
from collections.abc import Iterable
from types import MappingProxyType

from cornercue.script.model import Drill
from cornercue.technique.move import Move
from cornercue.technique.table import PaceName

REACTION = 0.25
"""Seconds from the end of a known call to the first move: above the simple reaction to sound of about
0.16 s (Kosinski's review of reaction times, secondary copy), for people who are not laboratory subjects."""

A_BIT = 0.155
"""Seconds more for each doubling of what may be called: as a textbook gives it after Hick 1952 and Hyman 1953
(secondary copy). Hick's own figure is 0.2 (abstract read); 0.138 fits Merkel's of 1885 (from memory, fit computed)."""

TO_GUARD = MappingProxyType({"learning": 1.0, "steady": 0.4, "sharp": 0.25})
"""Seconds from the last technique back to guard, by pace."""

REP = MappingProxyType({"learning": 4.0, "steady": 3.0, "sharp": 2.0})
"""Seconds from count to count of an exercise. Steady is one repetition in 3 s, 20 a minute."""

MOST_REST = MappingProxyType({"learning": 60.0, "steady": 45.0, "sharp": 30.0})
"""Seconds of rest between sets, by the pace of the level: a minute suits most children (Lloyd and others 2014,
secondary copy); less with practice is common practice, no source."""

LEAST_REST = 10.0
"""Seconds in which a rest can be called, taken and counted out of; own choice."""

TURN = 1.2
"""Seconds to turn on the spot and settle."""

MOVE = 0.8
"""Seconds to do what is said between repetitions ("circle left")."""


def choice_reaction(kinds: int) -> float:
    """Seconds to react to one of so many equally likely calls, by Hick's law: so much more a bit."""
    return REACTION + A_BIT * math.log2(kinds)


def pace_for(level: int) -> PaceName:
    """The pace that suits a level for techniques: slow while they are new."""
    return "learning" if level <= 3 else "steady" if level <= 7 else "sharp"


def usual_pace(drill: Drill, level: int | None = None) -> PaceName:
    """The pace of techniques in a script that names none: that of the level played or written, steady where none is."""
    level = level or (drill.level if "level" in drill.model_fields_set else None)
    return pace_for(level) if level else "steady"


def rest_for(level: int, work: float) -> float:
    """Seconds of rest between sets of `work` seconds where a script leaves it open: as long as the set was, at most."""
    return max(LEAST_REST, min(work, MOST_REST[pace_for(level)]))


def to_guard(pace: PaceName | float) -> float:
    """Seconds back to guard; where the pace is a number, as long as one technique, but not below sharp."""
    return TO_GUARD[pace] if isinstance(pace, str) else max(TO_GUARD["sharp"], min(pace, TO_GUARD["learning"]))


def rep_seconds(pace: PaceName | float) -> float:
    """Seconds from count to count of an exercise; where the pace is a number, that."""
    return REP[pace] if isinstance(pace, str) else pace


def execution(moves: Iterable[Move], pace: PaceName | float) -> float:
    """Seconds to do the moves one after the other."""
    return sum(move.seconds(pace) for move in moves)


def round_up(seconds: float, step: float = 0.05) -> float:
    """The next multiple of `step`, so that a rhythm that was worked out is a round figure."""
    return round(math.ceil(round(seconds / step, 6)) * step, 6)
