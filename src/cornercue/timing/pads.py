"""Pads: combinations struck at what a helper holds, called to both, or shown by a holder who alone is told."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from operator import attrgetter

from cornercue.script.pads import Pads, why_not
from cornercue.technique.move import Move, in_stance
from cornercue.technique.sides import Stance
from cornercue.timing.calls import (
    Allotment,
    check_room,
    doing,
    lay_calls,
    length_in_words,
    recovery,
    stream,
    words_between,
)
from cornercue.timing.draws import Kind, draws, in_turn
from cornercue.timing.exchange import FEEDER_EXTRA
from cornercue.timing.faults import TimingFault
from cornercue.timing.holding import explained, places, prompt, to_student
from cornercue.timing.pace import MOVE, to_guard
from cornercue.timing.segments import Segment, Talk, Work
from cornercue.timing.setting import GAP, Details, Layout, Setting, actions, called
from cornercue.timing.stances import in_stances

SHOW = 2.0
"""Seconds for a holder who has just heard how to hold; common practice, no source."""

RAISE = 0.6
"""Seconds to bring the pads to their places, while the student steps in; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Strike:
    """A combination as it is called. Seconds from the start of the call: the pads are up at `due`, the student is done
    at `busy` and out of reach and on guard again at `floor`."""

    moves: tuple[Move, ...]
    call: str
    shows: str
    due: float
    busy: float
    floor: float


def segments_of(step: Pads, setting: Setting) -> Iterator[Segment]:
    """Each stance in turn: how it is held (once in a drill), walked through if asked; the calls."""
    for moves in step.pads:
        if told := why_not(moves, setting.whom):
            raise TimingFault(setting.line, told)
    book, what = setting.book, "pads" if step.thing == "pads" else "shield"
    length = length_in_words(setting, step.for_, step.reps)
    titles = dict.fromkeys(setting.stances, book.say(f"{what}_label"))
    for stance, here in in_stances(setting.paced(step.pace), "pads", titles):
        if len(titles) > 1:
            yield Talk(here, book.say(stance), details=Details(stance=stance))
        yield Talk(here, book.say(what, length=length))
        yield from _taught(step, here, stance)
        yield Talk(here, book.say("holder_shows" if step.listener == "holder" else "student_strikes"), once=True)
        if step.order == "alternate" and len(step.pads) > 1:
            yield Talk(here, book.say("in_turn"))
        yield Work(here, titles[stance], partial(_round, step, stance))


def _taught(step: Pads, setting: Setting, stance: Stance) -> Iterator[Segment]:
    """Who stands where, what is held where, and slow walk-throughs; each once in a drill."""
    if setting.brief:
        return
    for text in places(setting.book, step.thing):
        yield Talk(setting, text, once=True)
    for moves in step.pads:
        for text in explained(setting.book, moves, stance):
            yield Talk(setting, text, once=True)
        if step.teach:
            label = setting.book.say("walk_through", names=called(moves, stance))
            yield Work(setting, label, partial(_walk_through, moves, stance), once=True, warned=False)


def _walk_through(moves: tuple[Move, ...], stance: Stance, setting: Setting, start: float, ready: float) -> Layout:
    """Each technique alone: what to hold, what to aim at, then slowly; at the end all together, just as slowly."""
    at, book = ready, setting.book
    for move, now in in_stance(moves, stance):
        if shows := prompt(book, (move,), now):
            cue = setting.cue(at, "say", book.say("show", what=shows[:1].lower() + shows[1:]))
            aim = setting.cue(cue.end + SHOW, "say", to_student(book, move, now))
            yield from (cue, aim)
            at = aim.end + 2 * GAP
        at = yield from _slowly(move.words(now), (move,), now, setting, at)
    if len(moves) > 1:
        cue = setting.cue(at, "say", book.say("together"))
        yield cue
        at = yield from _slowly(called(moves, stance), moves, stance, setting, cue.end + 2 * GAP)
    return at


def _slowly(words: str, moves: tuple[Move, ...], stance: Stance, setting: Setting, at: float) -> Layout:
    """Called and done at a learning pace, whatever the step's own; returns the time when the student is back."""
    slow = sum(move.seconds("learning") for move in moves) * setting.person.movement
    due = at + setting.seconds(words, 1.0) + setting.reaction + FEEDER_EXTRA + RAISE
    done = due + setting.reaction + slow
    asks = Details(
        stance=stance, due=due, done=done, moves=actions(moves, stance), shows=prompt(setting.book, moves, stance)
    )
    yield setting.cue(at, "call", words, details=asks)
    return done + (to_guard("learning") + MOVE) * setting.person.movement


def _round(step: Pads, stance: Stance, setting: Setting, start: float, ready: float) -> Layout:
    strikes = [_strike(step, moves, stance, setting) for moves in step.pads]
    between = words_between(setting, step.between, stance)
    longest = max(strikes, key=attrgetter("floor"))
    check_room(setting, step.gap, longest.floor, longest.call)
    count = step.reps.at(setting.level) if step.reps else None
    allotment = Allotment(ready, start + step.for_.at(setting.level) if step.for_ else None, count, step.gap)
    kinds, rng = [Kind(strike) for strike in strikes], stream(setting, stance)
    order = draws(kinds, rng) if step.order == "random" else in_turn(kinds)

    def cues(one: Strike, at: float, rep: int) -> Layout:
        asks = Details(
            rep=rep, stance=stance, listener="holder" if step.listener == "holder" else None, due=at + one.due,
            done=at + one.busy, moves=actions(one.moves, stance), shows=one.shows, drawn=step.order == "random",
        )  # fmt: skip
        yield setting.cue(at, "call", one.call, details=asks)
        if between:
            yield setting.cue(at + one.busy, "say", between, details=Details(rep=rep, stance=stance))
        return at

    return (yield from lay_calls(setting, order, allotment, rng, floor_of=attrgetter("floor"), cues_of=cues))


def _strike(step: Pads, moves: tuple[Move, ...], stance: Stance, setting: Setting) -> Strike:
    """One combination: the holder hears, chooses and raises the pads; the student steps in, strikes and steps back."""
    shows = prompt(setting.book, moves, stance)
    call = shows if step.listener == "holder" else called(moves, stance, setting.numbers)
    choose = setting.choice_reaction(len(step.pads))
    due = setting.seconds(call, 1.0) + choose + FEEDER_EXTRA + RAISE
    busy = due + (choose if step.listener == "holder" else setting.reaction) + setting.execution(moves)
    return Strike(moves, call, shows, due, busy, floor=busy + _back(step, setting, stance))


def _back(step: Pads, setting: Setting, stance: Stance) -> float:
    """Seconds from the last blow until the next call may come: a step back, on guard, and what is said between."""
    then = doing(step.between, step.then, setting.pace, setting.person.movement)
    between = words_between(setting, step.between, stance)
    return max(recovery(setting, between, then), MOVE * setting.person.movement)
