"""Holds: a technique, a stance, a chamber or what free words name, held still, on one side or on both, in sets."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from cornercue.script.hold import Hold
from cornercue.technique.move import Move
from cornercue.technique.sides import SIDES, Side, Stance
from cornercue.timing.segments import Segment, Talk, Work
from cornercue.timing.sets import in_sets, rest_between
from cornercue.timing.setting import Details, Layout, Setting, actions


def segments_of(step: Hold, setting: Setting) -> Iterator[Segment]:
    """Each set: every side in turn, what is held and how long; what to look for, before the first set or each one."""
    points = tuple(map(setting.sided, step.check))
    setting = setting.opened(_name(step, step.positions[0], setting.stances[0]), "hold", points=points)
    seconds = step.seconds_at(setting.level)
    rest = rest_between(step.rest, setting.level, seconds)
    for n, here, before in in_sets(setting, ("",) * len(seconds), rest):
        yield from before
        lasts = seconds[n - 1]
        for index, (move, stance) in enumerate(_positions(step, here)):
            asks = Details(set=n, stance=None if _same_in_both(move) else stance, moves=actions((move,), stance))
            yield Talk(here, _words(step, here, move, stance, lasts), details=asks)
            if index == 0 and (n == 1 or step.points == "each set") and not setting.brief:
                yield from (Talk(here, here.sided(point, stance)) for point in step.check)
            body = partial(_held, asks, lasts)
            label = ", ".join(filter(None, (_name(step, move, stance), _side(step, move, stance))))
            yield Work(here, label, body, settled=True, seconds=lasts)


def _name(step: Hold, move: Move, stance: Stance) -> str:
    """What is held, as it is written; where both sides are, without a side."""
    if move.written:
        return move.words(stance)
    return move.technique.base if len(step.positions) > 1 else move.technique.name


def _side(step: Hold, move: Move, stance: Stance) -> Side | None:
    """The side that is told besides the name: none where the name tells it."""
    side = move.side(stance)
    return None if side in _name(step, move, stance).split() else side


def _words(step: Hold, setting: Setting, move: Move, stance: Stance, seconds: float) -> str:
    book, side = setting.book, _side(step, move, stance)
    kind = "kick" if move.technique.with_the_leg else move.technique.kind
    limb = f"{book.sides[side]} {book.limbs[kind]}".strip() if side else ""
    text = book.say("hold", technique=_name(step, move, stance), limb=limb, time=book.time(seconds))
    return text.replace(", .", ".")


def _positions(step: Hold, setting: Setting) -> Iterator[tuple[Move, Stance]]:
    """What is held, in order. A technique that leaves its side open is held on both, in one stance only."""
    stance, positions = setting.stances[0], step.positions
    if len(positions) == 1:
        stances = (stance,) if _same_in_both(positions[0]) else setting.stances
        yield from ((positions[0], stance) for stance in stances)
        return
    for side in SIDES:
        if step.sides in (None, "both", side):
            yield next(move for move in positions if move.side(stance) == side), stance


def _same_in_both(move: Move) -> bool:
    """Whether it does not matter which foot was in front: free words, and stances that have no front foot."""
    kind = move.technique.kind
    return kind == "position" or (kind == "stance" and move.limb is None)


def _held(asks: Details, seconds: float, setting: Setting, start: float, ready: float) -> Layout:
    cue = setting.cue(ready, "call", setting.book.say("holding"), details=asks)
    if cue.end < start + seconds:
        yield cue
    return start + seconds
