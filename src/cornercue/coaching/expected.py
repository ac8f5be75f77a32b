"""How often a drill has each thing called, counting random calls as they fall on average."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from cornercue.coaching.traversal import Occurrence, written_stance
from cornercue.script.model import Drill
from cornercue.script.random_calls import Partner, Shadow
from cornercue.script.solo import Combination
from cornercue.technique.move import Move
from cornercue.technique.sides import SIDES, STANCES, Side, Stance, limb_of, other_side

CALL_TO_CALL = 6.0
"""Seconds from one random call to the next where the script gives no `gap`: about what the demo drills come to."""


@dataclass(frozen=True, slots=True)
class Call:
    """Moves that are called `times` times, on average, by a student standing in `stance`."""

    moves: tuple[Move, ...]
    stance: Stance
    times: float
    seen: Occurrence


def expected(seen: Occurrence, level: int) -> Iterator[Call]:
    """The calls of one step at a level; none of a step without techniques."""
    for stance in stances_of(seen.drill):
        for moves, times in _kinds(seen, level, stance):
            yield Call(moves, stance, times * seen.times, seen)


def stances_of(drill: Drill) -> tuple[Stance, ...]:
    """The stances that a script asks for."""
    return STANCES if drill.stance == "both" else (drill.stance,)


def _kinds(seen: Occurrence, level: int, stance: Stance) -> Iterator[tuple[tuple[Move, ...], float]]:
    match seen.step:
        case Combination() as step:
            yield step.moves, step.teach + step.reps.at(level) * len(step.angles)
        case Shadow() as step:
            for moves in step.shadow:
                yield moves, _calls(step.for_, step.gap) / len(step.shadow)
        case Partner() as step:
            calls = step.reps.at(level) if step.reps else _calls(step.for_ or 0, step.gap)
            share = calls / sum(weighted.weight for weighted in step.partner)
            sides = _sides(step, mirrored=stance != written_stance(seen.drill))
            for weighted in step.partner:
                for side in sides:
                    move = Move(weighted.technique, limb_of(side, stance) if weighted.technique.sided else None)
                    for answer in step.answers or ((),):
                        yield (move, *answer), share * weighted.weight / len(sides) / (len(step.answers) or 1)


def _calls(seconds: float, gap: tuple[float, float] | None) -> float:
    return seconds / (sum(gap) / 2 if gap else CALL_TO_CALL)


def _sides(step: Partner, mirrored: bool) -> tuple[Side, ...]:
    if step.sides == "both":
        return SIDES
    return (other_side(step.sides) if mirrored else step.sides,)
