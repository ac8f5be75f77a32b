"""Combinations: taught technique by technique, then called as one, at every angle and in every stance."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from cornercue.script.combination import Combination
from cornercue.script.doses import Spacing
from cornercue.technique.move import in_stance
from cornercue.technique.sides import Stance
from cornercue.timing.calls import doing, recovery, words_between
from cornercue.timing.pace import TURN, round_up, to_guard
from cornercue.timing.segments import Segment, Talk, Work
from cornercue.timing.sets import doses, in_sets, rest_between
from cornercue.timing.setting import GAP, Details, Layout, Setting, actions, called, fit, too_fast
from cornercue.timing.stances import in_stances


def segments_of(step: Combination, setting: Setting) -> Iterator[Segment]:
    """Each stance in turn: what it is, the slow repetitions, the called ones."""
    points = tuple(setting.sided(f"{one.move.name}: {one.cue}") for one in step.combination if one.cue)
    titles = {stance: called(step.moves, stance) for stance in setting.stances}
    for stance, here in in_stances(setting.paced(step.pace), "combination", titles, points):
        label = called(step.moves, stance)
        sets = step.reps_at(here.level)
        first = here if len(sets) == 1 else here.opened(label, "combination")
        if len(titles) > 1:
            yield Talk(first, here.book.say(stance), details=Details(stance=stance))
        yield Talk(first, here.book.say("combination", moves=label), details=Details(stance=stance))
        if step.teach and not setting.brief:
            yield Talk(first, here.book.say("teach", times=here.book.times(step.teach)))
            yield Work(first, label, partial(_taught, step, stance))
            yield Talk(first, here.book.say("together"))
        rest = rest_between(step.rest, here.level, _set_seconds(step, here, stance))
        for n, one, before in in_sets(here, doses(sets, here.book.number), rest):
            yield from before
            yield Work(one, label, partial(_called, step, stance, sets[n - 1]))


def _set_seconds(step: Combination, setting: Setting, stance: Stance) -> list[float]:
    """Seconds of work in each set, turns aside."""
    text = called(step.moves, stance, setting.numbers)
    busy = setting.reaction + setting.execution(step.moves)
    _, least = spacing(step, setting, text, busy, words_between(setting, step.between, stance))
    every = step.every.at(setting.level) if step.every else Spacing(least, least)
    return [sum(every.after_each(reps)) * len(step.angles) for reps in step.reps_at(setting.level)]


def _taught(step: Combination, stance: Stance, setting: Setting, start: float, ready: float) -> Layout:
    """Technique by technique at learning pace, each with its coaching cue."""
    at = ready
    for rep in range(1, step.teach + 1):
        for taught, (move, now) in zip(step.combination, in_stance(step.moves, stance), strict=True):
            words = move.words(now)
            told = at + setting.seconds(words, 1.0)
            point = setting.cue(told + GAP, "say", setting.sided(taught.cue, stance)) if taught.cue else None
            slow = move.seconds("learning") * setting.person.movement
            done = (point.end if point else told) + setting.reaction + slow
            asks = Details(stance=stance, angle=0, rep=rep, done=done, moves=actions((move,), now), taught=True)
            yield setting.cue(at, "call", words, details=asks)
            if point:
                yield point
            at = done + to_guard("learning") * setting.person.movement
    return at


def _called(step: Combination, stance: Stance, reps: int, setting: Setting, start: float, ready: float) -> Layout:
    """Every angle with all its repetitions, spaced as asked for; at the end the student faces the front."""
    text = called(step.moves, stance, setting.numbers)
    busy = setting.reaction + setting.execution(step.moves)
    between = words_between(setting, step.between, stance)
    rate, least = spacing(step, setting, text, busy, between)
    every = step.every.at(setting.level) if step.every else Spacing(least, least)
    if least > every.least:
        yield too_fast(setting, text, every, least)
    moves = actions(step.moves, stance)
    spoken = setting.seconds(text, rate)
    # The same word each time, so its beats are as even as its starts; in a longer call no one moment is the beat.
    lead = setting.beat(text, rate) if text.isalpha() else None
    at, facing = ready, 0
    for angle in step.angles:
        angle = angle if stance == setting.written else mirrored(angle)
        at = yield from turned(setting, at, facing, angle)
        facing = angle
        for rep, seconds in enumerate(every.after_each(reps), start=1):
            beat = None if lead is None else at + lead
            done = at + spoken + busy
            asks = Details(stance=stance, angle=angle, rep=rep, done=done, moves=moves)
            cue = setting.cue(at, "call", text, rate=rate, details=asks, beat=beat)
            yield cue
            if between:
                where = Details(stance=stance, angle=angle, rep=rep)
                yield setting.cue(cue.end + busy, "say", between, rate=rate, details=where)
            at += max(seconds, least)
    return (yield from turned(setting, at, facing, 0))


def spacing(step: Combination, setting: Setting, text: str, busy: float, between: str | None) -> tuple[float, float]:
    """The rate to call at and the least seconds from call to call.

    `busy` is the time (s) from the end of a call to the end of the last technique. The next call waits
    until the student is back on guard, and has done what is said between.
    """
    then = doing(step.between, step.then, setting.pace, setting.person.movement)

    def need(rate: float) -> float:
        return setting.seconds(text, rate) + busy + recovery(setting, between, then, rate)

    if step.every is None:
        rate, interval = fit(need, None)
        return rate, round_up(interval)
    return fit(need, step.every.at(setting.level).least)


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
