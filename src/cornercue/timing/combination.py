"""Combinations: taught technique by technique, then called as one, at every angle and in every stance."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from cornercue.script.combination import Combination
from cornercue.technique.move import in_stance
from cornercue.technique.sides import Stance
from cornercue.timing.calls import recovery
from cornercue.timing.pace import TURN, round_up, to_guard
from cornercue.timing.segments import Segment, Talk, Work
from cornercue.timing.setting import GAP, Details, Layout, Setting, actions, called, fit, too_fast
from cornercue.timing.stances import in_stances


def segments_of(step: Combination, setting: Setting) -> Iterator[Segment]:
    """Each stance in turn: what it is, the slow repetitions, the called ones."""
    points = tuple(f"{one.move.name}: {one.cue}" for one in step.combination if one.cue)
    titles = {stance: called(step.moves, stance) for stance in setting.stances}
    for stance, here in in_stances(setting.paced(step.pace), "combination", titles, points):
        moves = here.book.say("combination", moves=called(step.moves, stance))
        if len(titles) > 1:
            yield Talk(here, here.book.say(stance), details=Details(stance=stance))
        yield Talk(here, moves, details=Details(stance=stance))
        if step.teach and not setting.brief:
            yield Talk(here, here.book.say("teach", times=here.book.times(step.teach)))
            yield Work(here, called(step.moves, stance), partial(_taught, step, stance))
            yield Talk(here, here.book.say("together"))
        yield Work(here, called(step.moves, stance), partial(_called, step, stance))


def _taught(step: Combination, stance: Stance, setting: Setting, start: float, ready: float) -> Layout:
    """Technique by technique at learning pace, each with its coaching cue."""
    at = ready
    for rep in range(1, step.teach + 1):
        for taught, (move, now) in zip(step.combination, in_stance(step.moves, stance), strict=True):
            words = move.words(now)
            told = at + setting.seconds(words, 1.0)
            point = setting.cue(told + GAP, "say", taught.cue) if taught.cue else None
            slow = move.seconds("learning") * setting.person.movement
            done = (point.end if point else told) + setting.reaction + slow
            asks = Details(stance=stance, angle=0, rep=rep, done=done, moves=actions((move,), now), taught=True)
            yield setting.cue(at, "call", words, details=asks)
            if point:
                yield point
            at = done + to_guard("learning") * setting.person.movement
    return at


def _called(step: Combination, stance: Stance, setting: Setting, start: float, ready: float) -> Layout:
    """Every angle with all its repetitions, evenly spaced; at the end the student faces the front."""
    text = called(step.moves, stance, setting.numbers)
    busy = setting.reaction + setting.execution(step.moves)
    rate, interval = spacing(step, setting, text, busy)
    if step.every and interval > step.every:
        yield too_fast(setting, text, step.every, interval)
    moves = actions(step.moves, stance)
    spoken = setting.seconds(text, rate)
    reps = step.reps.at(setting.level)
    # The same word each time, so its beats are as even as its starts; in a longer call no one moment is the beat.
    lead = setting.beat(text, rate) if text.isalpha() else None
    at, facing = ready, 0
    for angle in step.angles:
        angle = angle if stance == setting.written else mirrored(angle)
        at = yield from turned(setting, at, facing, angle)
        facing = angle
        for rep in range(1, reps + 1):
            beat = None if lead is None else at + lead
            done = at + spoken + busy
            asks = Details(stance=stance, angle=angle, rep=rep, done=done, moves=moves)
            cue = setting.cue(at, "call", text, rate=rate, details=asks, beat=beat)
            yield cue
            if step.between:
                where = Details(stance=stance, angle=angle, rep=rep)
                yield setting.cue(cue.end + busy, "say", step.between, rate=rate, details=where)
            at += interval
    return (yield from turned(setting, at, facing, 0))


def spacing(step: Combination, setting: Setting, text: str, busy: float) -> tuple[float, float]:
    """The rate to call at and the seconds from call to call.

    `busy` is the time (s) from the end of a call to the end of the last technique. The next call waits
    until the student is back on guard, and has done what is said between.
    """

    def need(rate: float) -> float:
        return setting.seconds(text, rate) + busy + recovery(setting, step.between, rate)

    rate, interval = fit(need, step.every)
    return rate, interval if step.every else round_up(interval)


def mirrored(angle: int) -> int:
    """The same turn to the other side; behind stays behind."""
    return angle if angle == 180 else -angle


def turned(setting: Setting, at: float, facing: int, angle: int) -> Layout:
    """Says the turn from one facing to another and leaves time for it; nothing where there is none."""
    if angle == facing:
        return at
    book = setting.book
    by = (angle - facing + 180) % 360 - 180
    if angle == 0:
        text = book.say("front")
    elif by == -180:
        text = book.say("turn_around")
    else:
        text = book.say("turn", side=book.sides["left" if by > 0 else "right"], degrees=book.number(abs(by)))
    cue = setting.cue(at, "say", text, details=Details(angle=angle))
    yield cue
    return cue.end + TURN * setting.person.movement
