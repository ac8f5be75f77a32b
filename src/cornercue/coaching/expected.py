"""How often a drill has each thing called, counting random calls as they fall on average."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from cornercue.coaching.traversal import Occurrence
from cornercue.script.model import Drill
from cornercue.technique.move import Move
from cornercue.technique.sides import STANCES, Stance


@dataclass(frozen=True, slots=True)
class ExpectedCall:
    """Moves that are called `times` times, on average, by a student standing in `stance`."""

    moves: tuple[Move, ...]
    stance: Stance
    times: float
    seen: Occurrence


def expected(seen: Occurrence, level: int) -> Iterator[ExpectedCall]:
    """The calls of one step at a level; none of a step without techniques."""
    for stance in stances_of(seen.drill):
        for one in seen.practice(level, stance):
            if not one.held:
                yield ExpectedCall(one.moves, stance, one.times * seen.times, seen)


def stances_of(drill: Drill) -> tuple[Stance, ...]:
    """The stances that a script asks for."""
    return STANCES if drill.stance == "both" else (drill.stance,)
