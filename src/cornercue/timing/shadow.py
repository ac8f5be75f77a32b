"""Shadow rounds: combinations drawn at random, with room to do them and to move."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from cornercue.script.shadow import Shadow
from cornercue.technique.move import Move
from cornercue.technique.sides import Stance
from cornercue.timing.calls import Allotment, stream
from cornercue.timing.drawn_round import DrawnCall, DrawnRound, lay_drawn
from cornercue.timing.draws import Kind, draws
from cornercue.timing.segments import Segment, Talk, Work
from cornercue.timing.setting import Details, Layout, Setting, actions, called
from cornercue.timing.stances import in_stances


def segments_of(step: Shadow, setting: Setting) -> Iterator[Segment]:
    """Each stance in turn, for the whole time asked for."""
    book = setting.book
    what = "shadow" if step.boxing else "shadow_work"
    title = book.say(f"{what}_label")
    titles = dict.fromkeys(setting.stances, title)
    for stance, here in in_stances(setting.paced(step.pace), "shadow", titles):
        if len(titles) > 1:
            yield Talk(here, book.say(stance), details=Details(stance=stance))
        yield Talk(here, book.say(what, time=book.time(step.for_.at(setting.level))))
        yield Work(here, title, partial(_round, step, stance))


def _round(step: Shadow, stance: Stance, setting: Setting, start: float, ready: float) -> Layout:
    rng, reaction = stream(setting, stance), setting.choice_reaction(len(step.shadow))

    def drawn(moves: tuple[Move, ...]) -> DrawnCall:
        text = called(moves, stance, setting.numbers)
        busy = setting.seconds(text, 1.0) + reaction + setting.execution(moves)
        return DrawnCall(text, actions(moves, stance), busy)

    kinds = [Kind(drawn(moves)) for moves in step.shadow]
    allotment = Allotment(ready, end=start + step.for_.at(setting.level), count=None, asked=step.gap)
    one = DrawnRound(step, stance, [kind.value for kind in kinds], allotment)
    return (yield from lay_drawn(one, setting, draws(kinds, rng), rng))
