"""Partner work: defences called for the student, or feeds prompted for the feeder alone.

Partners face each other, so the student's left is the feeder's right: every prompt names the feeder's own
side (`exchange.py`).
"""

from __future__ import annotations

import random
from collections.abc import Collection, Iterable, Iterator, Mapping
from functools import partial
from operator import attrgetter

from cornercue.feed.table import FEEDS
from cornercue.script.partner import Partner, left_out
from cornercue.technique.move import Move
from cornercue.technique.sides import SIDES, Side, Stance, limb_of, other_side
from cornercue.timing.calls import Allotment, calls_in, check_room, lay_calls, stream
from cornercue.timing.draws import Kind, draws, in_turn, is_one_defence
from cornercue.timing.exchange import Calling, Exchange, cues, exchange
from cornercue.timing.faults import TimingFault
from cornercue.timing.feeding import places, to_feeder, to_student
from cornercue.timing.levelling import called as called_before
from cornercue.timing.levelling import evened, owed
from cornercue.timing.segments import Segment, Talk, Work
from cornercue.timing.setting import Details, Layout, Setting, called
from cornercue.timing.stances import in_stances
from cornercue.timing.walk_through import walk_through

_Answered = tuple[Move, tuple[Move, ...]]
"""A defence and its answer."""


def segments_of(step: Partner, setting: Setting) -> Iterator[Segment]:
    """Each stance in turn: what is done and how it is fed (once in a drill), walked through if asked; the calls."""
    _check_audience(step, setting)
    book = setting.book
    titles = dict.fromkeys(setting.stances, book.listed(_names(step)))
    for stance, here in in_stances(setting.paced(step.pace), "partner", titles):
        if len(titles) > 1:
            yield Talk(here, book.say(stance), details=Details(stance=stance))
        yield Talk(here, book.say("partner", names=book.listed(_names(step))))
        if step.order == "even":
            yield Talk(here, book.say("even"))
        yield from _taught(step, here, stance)
        if step.answers:
            answers = _answers(step, _kinds(step, stance, stance != here.written), stance)
            yield Talk(here, book.say("out_of_reach"), once=True)
            yield _what_follows(step, here, stance, answers.values())
        yield Work(here, ", ".join(_names(step)), partial(_round, step, stance))


def _names(step: Partner) -> list[str]:
    return [weighted.name for weighted in step.partner]


def _check_audience(step: Partner, setting: Setting) -> None:
    """Raises `TimingFault` for what is not fed to juniors, where an adults' drill stands in a juniors' one."""
    for weighted in step.partner:
        if weighted.technique.name not in FEEDS[setting.whom]:
            raise TimingFault(setting.line, left_out(weighted.technique.name))


def _taught(step: Partner, setting: Setting, stance: Stance) -> Iterator[Segment]:
    """Who stands where and what each of the two does, and slow walk-throughs; each once in a drill."""
    if setting.brief:
        yield Talk(setting, setting.book.say(f"{step.listener}_listens"), once=True)
        return
    for text in places(setting.book, setting.whom, step.partner[0].technique.name):
        yield Talk(setting, text, once=True)
    yield Talk(setting, setting.book.say(f"{step.listener}_listens"), once=True)
    for weighted in step.partner:
        defence = weighted.technique.name
        yield Talk(setting, to_student(setting.book, setting.whom, defence, weighted.name), once=True)
        yield Talk(setting, to_feeder(setting.book, setting.whom, defence, weighted.name), once=True)
        if step.teach:
            label = setting.book.say("walk_through", names=weighted.name)
            moves = [kind.value for kind in _kinds(step, stance, stance != setting.written)]
            body = partial(walk_through, [move for move in moves if move.technique.name == defence], stance)
            yield Work(setting, label, body, once=True, warned=False)


_Answers = Mapping[Move, tuple[tuple[Move, ...], ...]]
"""What may follow each defence of a round."""


def _answers(step: Partner, kinds: Iterable[Kind[Move]], stance: Stance) -> _Answers:
    names = {weighted.technique.name: weighted.name for weighted in step.partner}
    return {kind.value: step.answers.to(kind.value, names[kind.value.technique.name], stance) for kind in kinds}


def _all_alike(answers: Iterable[tuple[tuple[Move, ...], ...]]) -> bool:
    """Whether one and the same combination, or none, follows every defence."""
    return len({one for each in answers for one in each}) == 1


def _what_follows(
    step: Partner, setting: Setting, stance: Stance, answers: Collection[tuple[tuple[Move, ...], ...]]
) -> Talk:
    """What the student throws after each defence, as far as it is known beforehand."""
    if _all_alike(answers) and step.listener == "student":
        ((moves,), *_) = answers
        return Talk(setting, setting.book.say("answer", moves=called(moves, stance, setting.numbers)))
    return Talk(setting, setting.book.say("some_answers_called" if ((),) in answers else "answers_called"), once=True)


def _kinds(step: Partner, stance: Stance, mirrored: bool) -> list[Kind[Move]]:
    """Every defence on every side asked for; a mirrored stance mirrors the side."""
    kinds: list[Kind[Move]] = []
    for weighted in step.partner:
        if not weighted.technique.sided:
            kinds.append(Kind(weighted.move(), weighted.weight, defence=weighted.technique.name))
            continue
        sides = _sides(step, mirrored)
        weight = weighted.weight / len(sides)
        kinds += [
            Kind(weighted.move(limb_of(side, stance)), weight, side, weighted.technique.name)
            for side in sides
        ]
    return kinds


def _sides(step: Partner, mirrored: bool) -> tuple[Side, ...]:
    if step.sides == "both":
        return SIDES
    return (other_side(step.sides) if mirrored else step.sides,)


def _round(step: Partner, stance: Stance, setting: Setting, start: float, ready: float) -> Layout:
    kinds = _kinds(step, stance, stance != setting.written)
    answers = _answers(step, kinds, stance)
    calling = Calling(step, setting, stance, len(kinds), varied=not _all_alike(answers.values()))
    exchanges = {pair: exchange(calling, *pair) for pair in _pairs(answers)}
    longest = max(exchanges.values(), key=attrgetter("floor"))
    check_room(setting, step.gap, longest.floor, longest.call)
    owing = owed(kinds, called_before(kinds, setting.ledger)) if step.order == "even" else 0
    count = max(owing, step.reps.at(setting.level)) if step.reps else None
    allotment = Allotment(ready, start + step.for_.at(setting.level) if step.for_ else None, count, step.gap, owing)
    rng = gaps = stream(setting, stance)
    alike, calls = None, None
    if step.order == "random" and is_one_defence(kinds):  # Every call takes as long, so that their number is known.
        alike, gaps = longest.floor, stream(setting, stance, "gaps")
        calls = calls_in(setting, allotment, stream(setting, stance, "gaps"), alike)

    def noted_cues(one: Exchange, at: float, rep: int) -> Layout:
        if step.sides == "both":
            setting.ledger[one.defence.technique.name, one.defence.side(stance)] += 1
        return cues(calling, one, at, rep)

    drawn = (exchanges[pair] for pair in _drawn(step, kinds, answers, setting, rng, calls))
    floor_of = attrgetter("floor") if alike is None else lambda one: alike
    return (yield from lay_calls(setting, drawn, allotment, gaps, floor_of=floor_of, cues_of=noted_cues))


def _pairs(answers: _Answers) -> Iterator[_Answered]:
    """All that can come in a round."""
    return ((defence, answer) for defence, each in answers.items() for answer in each)


def _drawn(
    step: Partner, kinds: list[Kind[Move]], answers: _Answers, setting: Setting, rng: random.Random, calls: int | None
) -> Iterator[_Answered]:
    """Defences in the order asked for, each with an answer; `calls` is how many will be taken, where that is known.

    Defences that have the same answers share one fair draw of them.
    """
    before = called_before(kinds, setting.ledger)
    orders = {"random": draws(kinds, rng, before, calls), "alternate": in_turn(kinds), "even": evened(kinds, before)}
    drawn = {each: draws([Kind(moves) for moves in each], rng) for each in answers.values()}
    return ((defence, next(drawn[answers[defence]])) for defence in orders[step.order])
