"""Shadow rounds: combinations drawn at random, with room to do them and to move."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from cornercue.script.shadow import Shadow
from cornercue.technique.move import Move
from cornercue.technique.sides import Stance
from cornercue.timing.calls import Allotment, check_room, doing, lay_calls, recovery, stream, words_between
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
    rng = stream(setting, stance)
    kinds = [Kind(moves) for moves in step.shadow]
    between = words_between(setting, step.between, stance)
    then = doing(step.between, step.then, setting.pace, setting.person.movement)

    def text(moves: tuple[Move, ...]) -> str:
        return called(moves, stance, setting.numbers)

    def busy(moves: tuple[Move, ...]) -> float:
        return setting.seconds(text(moves), 1.0) + setting.choice_reaction(len(kinds)) + setting.execution(moves)

    def floor(moves: tuple[Move, ...]) -> float:
        return busy(moves) + recovery(setting, between, then)

    def cues(moves: tuple[Move, ...], at: float, rep: int) -> Layout:
        done, does = at + busy(moves), actions(moves, stance)
        asks = Details(stance=stance, rep=rep, done=done, moves=does, drawn=True)
        yield setting.cue(at, "call", text(moves), details=asks)
        if between:
            yield setting.cue(done, "say", between, details=Details(stance=stance, rep=rep))
        return at

    longest = max(step.shadow, key=floor)
    check_room(setting, step.gap, floor(longest), text(longest))
    calls = draws(kinds, rng)
    allotment = Allotment(ready, end=start + step.for_.at(setting.level), count=None, asked=step.gap)
    return (yield from lay_calls(setting, calls, allotment, rng, floor_of=floor, cues_of=cues))
