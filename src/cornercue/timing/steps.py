"""The step kinds that stand alone: say, rest, repeat, include, exercise and hold, as segments."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import partial
from typing import assert_never

from cornercue.script.combination import Combination
from cornercue.script.exercise import Exercise
from cornercue.script.hold import Hold
from cornercue.script.model import Drill, Include, Repeat, Step
from cornercue.script.partner import Partner
from cornercue.script.rest import Rest
from cornercue.script.say import Say
from cornercue.script.shadow import Shadow
from cornercue.technique.move import Move
from cornercue.technique.sides import SIDES, STANCES, Side, Stance
from cornercue.timing import combination, partner, shadow
from cornercue.timing.pace import rep_seconds
from cornercue.timing.segments import Pause, Segment, Talk, Work
from cornercue.timing.setting import Layout, Setting, actions, fit, too_fast


def segments_of(step: Step, setting: Setting) -> Iterator[Segment]:
    """The step unfolded into talk, rest and work."""
    match step:
        case Say():
            yield Talk(setting, step.say)
        case Rest():
            yield Pause(setting, step.rest)
        case Combination():
            yield from combination.segments_of(step, setting)
        case Shadow():
            yield from shadow.segments_of(step, setting)
        case Partner():
            yield from partner.segments_of(step, setting)
        case Exercise():
            yield from _exercise(step, setting)
        case Hold():
            yield from _hold(step, setting)
        case Repeat():
            yield from _repeat(step, setting)
        case Include():
            yield from _include(step, setting)
        case _:
            assert_never(step)


def _steps(steps: Iterable[Step], setting: Setting) -> Iterator[Segment]:
    for n, step in enumerate(steps, start=1):
        yield from segments_of(step, setting.within(n).at(step))


def _repeat(step: Repeat, setting: Setting) -> Iterator[Segment]:
    for n in range(1, step.repeat + 1):
        if step.repeat > 1:
            number = setting.book.number
            yield Talk(setting, setting.book.say("round", n=number(n), rounds=number(step.repeat)))
        yield from _steps(step.steps, setting.within(n))
        if step.rest and n < step.repeat:
            yield Pause(setting, step.rest)


def _include(step: Include, setting: Setting) -> Iterator[Segment]:
    """Another drill with its own stance, calls and pace; lines stay those of the script that includes it."""
    drill = step.include.drill
    yield Talk(setting, setting.book.say("chapter", title=drill.drill))
    yield from _steps(drill.steps, replace(drill_setting(drill, setting), included=True))


def drill_setting(drill: Drill, setting: Setting) -> Setting:
    """The setting inside a drill: what is asked for wins, then what the drill says, then what was before."""
    written: Stance = "southpaw" if drill.stance == "southpaw" else "orthodox"
    asked = setting.request.stance
    stances = (asked,) if asked else STANCES if drill.stance == "both" else (written,)
    pace = setting.request.pace or drill.pace or setting.pace
    numbers = drill.calls == "numbers"
    return replace(
        setting, stances=stances, written=written, pace=pace, numbers=numbers, counting=drill.counting,
        brief=setting.brief or drill.brief,
    )  # fmt: skip


def _sets(step: Exercise | Hold, setting: Setting) -> Iterator[tuple[int, list[Segment]]]:
    """For each set: its number and what comes before it (the rest since the last one, which set it is)."""
    for n in range(1, step.sets + 1):
        before: list[Segment] = [Pause(setting, step.rest)] if step.rest and n > 1 else []
        if step.sets > 1:
            number = setting.book.number
            before.append(
                Talk(setting, setting.book.say("set", n=number(n), sets=number(step.sets)), more=(("set", n),))
            )
        yield n, before


def _exercise(step: Exercise, setting: Setting) -> Iterator[Segment]:
    book = setting.book
    reps = step.reps.at(setting.level) if step.reps else 0
    dose = {"time": book.time(step.for_)} if step.for_ else {"reps": book.number(reps)}
    phrase = ("timed" if step.for_ else "counted") + ("_sets" if step.sets > 1 else "")
    yield Talk(setting, book.say(phrase, exercise=step.exercise, sets=book.number(step.sets), **dose))
    for point in step.check:
        yield Talk(setting, point)
    for n, before in _sets(step, setting):
        yield from before
        if step.for_:
            yield Work(setting, step.exercise, partial(timed, step.for_))
        else:
            yield Work(setting, step.exercise, partial(_counts, setting, reps, step.every, n))


def timed(seconds: float, start: float, ready: float) -> Layout:
    """Work without words, for exactly so long."""
    yield from ()
    return start + seconds


def _counts(setting: Setting, reps: int, every: float | None, n: int, start: float, ready: float) -> Layout:
    """Repetitions counted aloud, on even beats, at the pace asked for or as near to it as the words allow."""
    words = [setting.count(rep) for rep in range(1, reps + 1)]
    asked = every or rep_seconds(setting.pace)
    rate, interval = fit(lambda rate: setting.beat_to_beat(words, rate), asked)
    if interval > asked:
        yield too_fast(setting, setting.longest(words), asked, interval)
    first = ready + setting.beat(words[0], rate)
    for rep, word in enumerate(words, start=1):
        yield setting.on_beat(first + (rep - 1) * interval, "count", word, rate, set=n, rep=rep)
    return first + reps * interval


def _hold(step: Hold, setting: Setting) -> Iterator[Segment]:
    book = setting.book
    holds = list(_positions(step, setting))
    for n, before in _sets(step, setting):
        yield from before
        for index, (move, stance) in enumerate(holds):
            side = move.side(stance)
            technique = move.technique.base if len(step.hold) > 1 else move.technique.name
            kind = "kick" if move.technique.with_the_leg else move.technique.kind
            limb = f"{book.sides[side]} {book.limbs[kind]}" if side else ""
            text = book.say("hold", technique=technique, limb=limb, time=book.time(step.for_)).replace(", .", ".")
            yield Talk(setting, text, more=(("moves", actions((move,), stance)), ("stance", stance), ("set", n)))
            if n == 1 and index == 0:
                yield from (Talk(setting, point) for point in step.check)
            yield Work(setting, step_label(technique, side), partial(_held, setting, move, stance, n, step.for_))


def step_label(technique: str, side: Side | None) -> str:
    """What the picture and the page write over a hold."""
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


def _held(setting: Setting, move: Move, stance: Stance, n: int, seconds: float, start: float, ready: float) -> Layout:
    cue = setting.cue(ready, "call", setting.book.say("holding"), moves=actions((move,), stance), stance=stance, set=n)
    if cue.end < start + seconds:
        yield cue
    return start + seconds
