"""How long things take a person. Common practice, no source, unless a source is named."""

from __future__ import annotations

import math
from collections.abc import Iterable
from types import MappingProxyType

from cornercue.technique.move import Move
from cornercue.technique.table import PaceName

REACTION = 0.25
"""Seconds from the end of a known call to the first move: above the simple reaction to sound of about
0.16 s (Kosinski's review of reaction times, secondary copy), for people who are not laboratory subjects."""

TO_GUARD = MappingProxyType({"learning": 1.0, "steady": 0.4, "sharp": 0.25})
"""Seconds from the last technique back to guard, by pace."""

REP = MappingProxyType({"learning": 4.0, "steady": 3.0, "sharp": 2.0})
"""Seconds from count to count of an exercise. Steady is one repetition in 3 s, 20 a minute."""

TURN = 1.2
"""Seconds to turn on the spot and settle."""

MOVE = 0.8
"""Seconds to do what is said between repetitions ("circle left")."""


def pace_for(level: int) -> PaceName:
    """The pace that suits a level for partner work: slow while it is new."""
    return "learning" if level <= 3 else "steady" if level <= 7 else "sharp"


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
