"""Reactions: calls of any kind drawn at random, each with the time to hear, choose and do it."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from types import MappingProxyType

from cornercue.script.react import React, ReactCall
from cornercue.technique.sides import Stance
from cornercue.technique.table import PaceName
from cornercue.timing.calls import Allotment, length_in_words, stream
from cornercue.timing.drawn_round import DrawnCall, DrawnRound, lay_drawn
from cornercue.timing.draws import Kind, draws
from cornercue.timing.segments import Segment, Talk, Work
from cornercue.timing.setting import Details, Layout, Setting, actions
from cornercue.timing.stances import in_stances

FREE = MappingProxyType({"learning": 2.0, "steady": 1.5, "sharp": 1.0})
"""Seconds for a free word such as "left" or "freeze" where the script gives no time, by pace: a step, a touch or a stop
and up again. Common practice, no source."""


APART = 2
"""How many times as far apart as combinations three words or more may come, which makes them harder to guess
(draws.py). Of two, one that is far behind would hardly be practised."""


def free_seconds(pace: PaceName | float) -> float:
    """Seconds for a free word; where the pace is a number, as long as one technique."""
    return FREE[pace] if isinstance(pace, str) else pace


def segments_of(step: React, setting: Setting) -> Iterator[Segment]:
    """Each stance in turn: what may be called, then the calls."""
    book = setting.book
    titles = dict.fromkeys(setting.stances, book.say("react_label"))
    length = length_in_words(setting, step.for_, step.reps)
    for stance, here in in_stances(setting.paced(step.pace), "react", titles):
        if len(titles) > 1:
            yield Talk(here, book.say(stance), details=Details(stance=stance))
        names = book.listed([call.words(stance, here.numbers) for call in step.react])
        yield Talk(here, book.say("react", length=length, names=names))
        yield Work(here, titles[stance], partial(_round, step, stance))


def _round(step: React, stance: Stance, setting: Setting, start: float, ready: float) -> Layout:
    rng, reaction = stream(setting, stance), setting.choice_reaction(len(step.react))

    def drawn(call: ReactCall) -> DrawnCall:
        text = call.words(stance, setting.numbers)
        does = actions((call.move,), stance) if call.move else ()
        return DrawnCall(text, does, setting.seconds(text, 1.0) + reaction + _to_do(step, call, setting))

    kinds = [Kind(drawn(call), call.weight) for call in step.react]
    count = step.reps.at(setting.level) if step.reps else None
    allotment = Allotment(ready, start + step.for_.at(setting.level) if step.for_ else None, count, step.gap)
    one = DrawnRound(step, stance, [kind.value for kind in kinds], allotment)
    return (yield from lay_drawn(one, setting, draws(kinds, rng, apart=APART if len(kinds) > 2 else 1), rng))


def _to_do(step: React, call: ReactCall, setting: Setting) -> float:
    """Seconds to do what is called: as the script says, else by the technique, else those of a free word."""
    if stated := step.seconds_for(call):
        return stated
    return setting.execution((call.move,)) if call.move else free_seconds(setting.pace) * setting.person.movement
