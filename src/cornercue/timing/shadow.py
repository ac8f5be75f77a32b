"""Shadow rounds: combinations drawn at random, with room to do them and to move."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from cornercue.script.shadow import Shadow
from cornercue.technique.move import Move
from cornercue.technique.sides import Stance
from cornercue.timing.calls import check_room, choice_reaction, lay_calls, recovery, stream
from cornercue.timing.draws import Kind, draws
from cornercue.timing.pace import execution
from cornercue.timing.segments import Segment, Talk, Work
from cornercue.timing.setting import Layout, Setting, actions, called


def segments_of(step: Shadow, setting: Setting) -> Iterator[Segment]:
    """Each stance in turn, for the whole time asked for."""
    setting = setting.paced(step.pace)
    book = setting.book
    for stance in setting.stances:
        if len(setting.stances) > 1:
            yield Talk(setting, book.say(stance), more=(("stance", stance),))
        yield Talk(setting, book.say("shadow", time=book.time(step.for_)))
        yield Work(setting, book.say("shadow_label"), partial(_round, step, setting, stance))


def _round(step: Shadow, setting: Setting, stance: Stance, start: float, ready: float) -> Layout:
    rng = stream(setting, stance)
    kinds = [Kind(moves) for moves in step.shadow]

    def text(moves: tuple[Move, ...]) -> str:
        return called(moves, stance, setting.numbers)

    def busy(moves: tuple[Move, ...]) -> float:
        return setting.seconds(text(moves), 1.0) + choice_reaction(len(kinds)) + execution(moves, setting.pace)

    def floor(moves: tuple[Move, ...]) -> float:
        return busy(moves) + recovery(setting, step.between)

    def cues(moves: tuple[Move, ...], at: float, rep: int) -> Layout:
        yield setting.cue(at, "call", text(moves), stance=stance, rep=rep, moves=actions(moves, stance))
        if step.between:
            yield setting.cue(at + busy(moves), "say", step.between, stance=stance, rep=rep)
        return at

    longest = max(step.shadow, key=floor)
    check_room(setting, step.gap, floor(longest), text(longest))
    calls = draws(kinds, rng)
    return (yield from lay_calls(setting, calls, floor, cues, step.gap, rng, ready, start + step.for_, None))
