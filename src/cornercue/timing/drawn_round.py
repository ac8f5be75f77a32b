"""What shadow rounds and reactions share: calls drawn at random, each known beforehand, laid out with what is said
after it."""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from cornercue.script.react import React
from cornercue.script.shadow import Shadow
from cornercue.technique.sides import Stance
from cornercue.timing.calls import Allotment, check_room, doing, lay_calls, recovery, words_between
from cornercue.timing.setting import Details, Layout, Setting
from cornercue.timing.timeline import Action


@dataclass(frozen=True, slots=True)
class DrawnCall:
    """A call, what it asks for, and the seconds from its start until that is done."""

    text: str
    moves: tuple[Action, ...]
    busy: float


@dataclass(frozen=True, slots=True)
class DrawnRound:
    """A step's round in a stance: all that may be called in it, and the room that the calls have."""

    step: React | Shadow
    stance: Stance
    may_come: Sequence[DrawnCall]
    allotment: Allotment


def lay_drawn(one: DrawnRound, setting: Setting, calls: Iterator[DrawnCall], rng: random.Random) -> Layout:
    """Lays out calls in the order in which they are drawn, and after each what is said between. Returns the end."""
    step, stance = one.step, one.stance
    between = words_between(setting, step.between, stance)
    back = recovery(setting, between, doing(step.between, step.then, setting.pace, setting.person.movement))

    def floor(call: DrawnCall) -> float:
        return call.busy + back

    def cues(call: DrawnCall, at: float, rep: int) -> Layout:
        done = at + call.busy
        asks = Details(stance=stance, rep=rep, done=done, moves=call.moves, drawn=True)
        yield setting.cue(at, "call", call.text, details=asks)
        if between:
            yield setting.cue(done, "say", between, details=Details(stance=stance, rep=rep))
        return at

    longest = max(one.may_come, key=floor)
    check_room(setting, step.gap, floor(longest), longest.text)
    return (yield from lay_calls(setting, calls, one.allotment, rng, floor_of=floor, cues_of=cues))
