"""Every step kind as segments: the short ones here, the others each in a file of its own."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import assert_never

from cornercue.script.combination import Combination
from cornercue.script.exercise import Exercise
from cornercue.script.hold import Hold
from cornercue.script.model import Drill, Include, Repeat, Step
from cornercue.script.pads import Pads
from cornercue.script.partner import Partner
from cornercue.script.react import React
from cornercue.script.rest import Rest
from cornercue.script.say import Say
from cornercue.script.shadow import Shadow
from cornercue.technique.sides import STANCES, Stance
from cornercue.timing import combination, exercise, hold, pads, partner, react, shadow
from cornercue.timing.parts import turn
from cornercue.timing.segments import Pause, Segment, Talk
from cornercue.timing.setting import Setting


def segments_of(step: Step, setting: Setting) -> Iterator[Segment]:
    """The step unfolded into talk, rest and work, in parts that it opens itself."""
    match step:
        case Say():
            words = setting.sided(step.say)
            yield Talk(setting.opened(words, "say"), words, then=step.then or 0.0)
        case Rest():
            yield Pause(setting.opened(setting.book.say("rest_label"), "rest"), step.rest.at(setting.level))
        case Combination():
            yield from combination.segments_of(step, setting)
        case Shadow():
            yield from shadow.segments_of(step, setting)
        case React():
            yield from react.segments_of(step, setting)
        case Partner():
            yield from partner.segments_of(step, setting)
        case Pads():
            yield from pads.segments_of(step, setting)
        case Exercise():
            yield from exercise.segments_of(step, setting)
        case Hold():
            yield from hold.segments_of(step, setting)
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
    book, rounds = setting.book, step.repeat
    setting = setting.opened(f"{rounds} round{'s' if rounds > 1 else ''}", "repeat")
    for n in range(1, rounds + 1):
        inner = setting.within(n)
        if rounds > 1:
            inner = inner.divided("round", n, rounds, turn("round", n, rounds))
            words = book.say("round", n=book.number(n), rounds=book.number(rounds))
            yield Talk(inner, words, belongs="next")
        yield from _steps(step.steps, inner)
        if step.rest and n < rounds:
            yield Pause(setting, step.rest.at(setting.level))


def _include(step: Include, setting: Setting) -> Iterator[Segment]:
    """Another drill with its own stance, calls and pace; lines stay those of the script that includes it."""
    drill = step.include.drill
    setting = setting.opened(drill.drill, "include")
    yield Talk(setting, setting.book.say("chapter", title=drill.drill), belongs="next")
    yield from _steps(drill.steps, replace(drill_setting(drill, setting), included=True))


def drill_setting(drill: Drill, setting: Setting) -> Setting:
    """The setting inside a drill: what is asked for wins, then what the drill says, then what was before."""
    written: Stance = "southpaw" if drill.stance == "southpaw" else "orthodox"
    asked = setting.request.stance
    stances = (asked,) if asked else STANCES if drill.stance == "both" else (written,)
    named = setting.request.pace or drill.pace
    pace, rep_pace = named or setting.pace, named or setting.rep_pace
    numbers = drill.calls == "numbers"
    return replace(
        setting, stances=stances, written=written, pace=pace, rep_pace=rep_pace, numbers=numbers,
        counting=drill.counting, brief=setting.request.brief or setting.brief or drill.brief,
    )  # fmt: skip
