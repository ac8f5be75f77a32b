"""Holds: a technique held still, on one side or on both, in sets."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from cornercue.script.hold import Hold
from cornercue.technique.move import Move
from cornercue.technique.sides import SIDES, Side, Stance
from cornercue.timing.segments import Segment, Talk, Work
from cornercue.timing.sets import doses, in_sets, rest_between
from cornercue.timing.setting import Details, Layout, Setting, actions


def segments_of(step: Hold, setting: Setting) -> Iterator[Segment]:
    """Each set: every side in turn, what is held and how long; what to look for before the first one."""
    setting = setting.opened(_name(step, step.hold[0], setting.stances[0]), "hold", points=step.check)
    seconds = step.seconds_at(setting.level)
    rest = rest_between(step.rest, setting.level, seconds)
    for n, here, before in in_sets(setting, doses(seconds, setting.book.time), rest):
        yield from before
        lasts = seconds[n - 1]
        for index, (move, stance) in enumerate(_positions(step, here)):
            asks = Details(set=n, stance=stance, moves=actions((move,), stance))
            yield Talk(here, _words(step, here, move, stance, lasts), details=asks)
            if n == 1 and index == 0 and not setting.brief:
                yield from (Talk(here, point) for point in step.check)
            body = partial(_held, asks, lasts)
            label = _label(_name(step, move, stance), move.side(stance))
            yield Work(here, label, body, settled=True, seconds=lasts)


def _name(step: Hold, move: Move, stance: Stance) -> str:
    """What is held, as it is written; where both sides are, without a side."""
    if move.written:
        return move.words(stance)
    return move.technique.base if len(step.hold) > 1 else move.technique.name


def _words(step: Hold, setting: Setting, move: Move, stance: Stance, seconds: float) -> str:
    book, side = setting.book, move.side(stance)
    kind = "kick" if move.technique.with_the_leg else move.technique.kind
    limb = f"{book.sides[side]} {book.limbs[kind]}" if side else ""
    text = book.say("hold", technique=_name(step, move, stance), limb=limb, time=book.time(seconds))
    return text.replace(", .", ".")


def _label(technique: str, side: Side | None) -> str:
    """What the work is called: "side kick, left"."""
    return f"{technique}, {side}" if side else technique


def _positions(step: Hold, setting: Setting) -> Iterator[tuple[Move, Stance]]:
    """What is held, in order. A technique that leaves its side open is held on both, in one stance only."""
    if len(step.hold) == 1:
        yield from ((step.hold[0], stance) for stance in setting.stances)
        return
    stance = setting.stances[0]
    for side in SIDES:
        if step.sides in (None, "both", side):
            yield next(move for move in step.hold if move.side(stance) == side), stance


def _held(asks: Details, seconds: float, setting: Setting, start: float, ready: float) -> Layout:
    cue = setting.cue(ready, "call", setting.book.say("holding"), details=asks)
    if cue.end < start + seconds:
        yield cue
    return start + seconds
