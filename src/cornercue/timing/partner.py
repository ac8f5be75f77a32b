"""Partner work: defences called for the student, or feeds prompted for the feeder alone.

Partners face each other, so the student's left is the feeder's right: every prompt names the feeder's own
side. A prompt comes early enough to be heard, understood and fed slowly; `due` is when the feed arrives and
the student defends.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from types import MappingProxyType

from cornercue.feed.table import FEEDS
from cornercue.script.partner import Partner, left_out
from cornercue.technique.move import Move
from cornercue.technique.sides import SIDES, Side, Stance, limb_of, other_side
from cornercue.timing.calls import check_room, choice_reaction, lay_calls, recovery, stream
from cornercue.timing.draws import Kind, draws, in_turn
from cornercue.timing.faults import TimingFault
from cornercue.timing.feeding import places, prompt, to_feeder, to_student
from cornercue.timing.levelling import called as called_before
from cornercue.timing.levelling import evened, owed
from cornercue.timing.pace import REACTION, execution
from cornercue.timing.phrasebook import Phrasebook
from cornercue.timing.segments import Segment, Talk, Work
from cornercue.timing.setting import Details, Layout, Setting, actions, called
from cornercue.timing.stances import in_stances
from cornercue.timing.timeline import Cue
from cornercue.timing.walk_through import walk_through

FEEDER_EXTRA = 0.35
"""Seconds that a feeder who has never fed needs beyond the reaction time of the laboratory; common practice,
no source."""

FEED = MappingProxyType({"learning": 1.0, "steady": 0.8, "sharp": 0.6})
"""Seconds that a feed is on its way, by pace: slow enough to be read. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Exchange:
    """One call: the student's defence and what is thrown back, which may be nothing."""

    defence: Move
    answer: tuple[Move, ...]


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
            yield _what_follows(step, here, stance)
        yield Work(here, ", ".join(_names(step)), partial(_round, step, stance))


def _names(step: Partner) -> list[str]:
    return [weighted.technique.name for weighted in step.partner]


def _check_audience(step: Partner, setting: Setting) -> None:
    """Raises `TimingFault` for what is not fed to juniors, where an adults' drill stands in a juniors' one."""
    for name in _names(step):
        if name not in FEEDS[setting.whom]:
            raise TimingFault(setting.line, left_out(name))


def _taught(step: Partner, setting: Setting, stance: Stance) -> Iterator[Segment]:
    """Who stands where and what each of the two does, and slow walk-throughs; each once in a drill."""
    if setting.brief:
        yield Talk(setting, setting.book.say(f"{step.listener}_listens"), once=True)
        return
    for text in places(setting.book, setting.whom, _names(step)[0]):
        yield Talk(setting, text, once=True)
    yield Talk(setting, setting.book.say(f"{step.listener}_listens"), once=True)
    for name in _names(step):
        yield Talk(setting, to_student(setting.book, setting.whom, name), once=True)
        yield Talk(setting, to_feeder(setting.book, setting.whom, name), once=True)
        if step.teach:
            label = setting.book.say("walk_through", names=name)
            moves = [kind.value for kind in _kinds(step, stance, stance != setting.written)]
            body = partial(walk_through, [move for move in moves if move.technique.name == name], stance)
            yield Work(setting, label, body, once=True, warned=False)


def _what_follows(step: Partner, setting: Setting, stance: Stance) -> Talk:
    """What the student throws after each defence, as far as it is known beforehand."""
    if len(step.answers) == 1 and step.listener == "student":
        return Talk(setting, setting.book.say("answer", moves=called(step.answers[0], stance, setting.numbers)))
    return Talk(setting, setting.book.say("answers_called"), once=True)


def _kinds(step: Partner, stance: Stance, mirrored: bool) -> list[Kind[Move]]:
    """Every defence on every side asked for; a mirrored stance mirrors the side."""
    kinds: list[Kind[Move]] = []
    for weighted in step.partner:
        if not weighted.technique.sided:
            kinds.append(Kind(Move(weighted.technique), weighted.weight, defence=weighted.technique.name))
            continue
        sides = _sides(step, mirrored)
        weight = weighted.weight / len(sides)
        kinds += [
            Kind(Move(weighted.technique, limb_of(side, stance)), weight, side, weighted.technique.name)
            for side in sides
        ]
    return kinds


def _sides(step: Partner, mirrored: bool) -> tuple[Side, ...]:
    if step.sides == "both":
        return SIDES
    return (other_side(step.sides) if mirrored else step.sides,)


def _round(step: Partner, stance: Stance, setting: Setting, start: float, ready: float) -> Layout:
    rng = stream(setting, stance)
    kinds = _kinds(step, stance, stance != setting.written)
    before = called_before(kinds, setting.ledger)
    orders = {"random": draws(kinds, rng, before), "alternate": in_turn(kinds), "even": evened(kinds, before)}
    owing = owed(kinds, before) if step.order == "even" else 0
    answers = draws([Kind(moves) for moves in step.answers or ((),)], rng)
    call = _FeederCall if step.listener == "feeder" else _StudentCall
    laid = call(step, setting, stance, len(kinds))
    longest = max((Exchange(kind.value, moves) for kind in kinds for moves in step.answers or ((),)), key=laid.floor)
    check_room(setting, step.gap, laid.floor(longest), laid.text(longest))
    exchanges = (Exchange(defence, answer) for defence, answer in zip(orders[step.order], answers, strict=False))

    def cues(exchange: Exchange, at: float, rep: int) -> Layout:
        if step.sides == "both":
            setting.ledger[exchange.defence.technique.name, exchange.defence.side(stance)] += 1
        return laid.cues(exchange, at, rep)

    end = start + step.for_ if step.for_ else None
    count = max(owing, step.reps.at(setting.level)) if step.reps else None
    return (
        yield from lay_calls(
            setting,
            exchanges,
            laid.floor,
            cues_of=cues,
            asked=step.gap,
            rng=rng,
            ready=ready,
            end=end,
            count=count,
            least=owing,
        )
    )


def said_after(step: Partner, book: Phrasebook) -> str | None:
    """What is said after each exchange: the script's words, and to a feeder who has stepped back for an answer."""
    if not step.answers:
        return step.between
    step_in = book.say("step_in")
    return book.say("between_and_in", between=step.between, step_in=step_in) if step.between else step_in


@dataclass(frozen=True, slots=True)
class _Call:
    """What both ways of calling share: when the feed arrives, and when the student is done."""

    step: Partner
    setting: Setting
    stance: Stance
    kinds: int

    def text(self, exchange: Exchange) -> str:
        """The words of the call."""
        raise NotImplementedError

    def due(self, exchange: Exchange) -> float:
        """Seconds from the start of the call until the feed arrives: the feeder hears it, chooses and feeds."""
        pace = self.setting.pace
        travel = FEED[pace] if isinstance(pace, str) else max(FEED["sharp"], pace)
        reaction = choice_reaction(self.kinds)
        return self.setting.seconds(self.text(exchange), 1.0) + reaction + FEEDER_EXTRA + max(travel, reaction)

    def defended(self, exchange: Exchange) -> float:
        """Seconds from the start of the call to the end of the defence."""
        return self.due(exchange) + execution((exchange.defence,), self.setting.pace)

    def busy(self, exchange: Exchange) -> float:
        """Seconds from the start of the call to the end of the answer."""
        return self.defended(exchange) + execution(exchange.answer, self.setting.pace)

    def floor(self, exchange: Exchange) -> float:
        """Seconds from this call until the student is back on guard."""
        return self.busy(exchange) + recovery(self.setting, self.afterwards)

    def answer(self, exchange: Exchange) -> str:
        """The words of the answer."""
        return called(exchange.answer, self.stance, self.setting.numbers)

    @property
    def afterwards(self) -> str | None:
        """What is said after each exchange, if anything."""
        return said_after(self.step, self.setting.book)

    def after(self, exchange: Exchange, at: float, rep: int) -> Iterator[Cue]:
        """The cue of what is said after an exchange, if anything."""
        if self.afterwards:
            where = Details(rep=rep, stance=self.stance)
            yield self.setting.cue(at + self.busy(exchange), "say", self.afterwards, details=where)


class _StudentCall(_Call):
    """The voice calls the defence with its side, and the answer where it is not always the same."""

    def text(self, exchange: Exchange) -> str:
        words = exchange.defence.words(self.stance)
        return f"{words}, {self.answer(exchange)}" if len(self.step.answers) > 1 else words

    def cues(self, exchange: Exchange, at: float, rep: int) -> Layout:
        moves = actions((exchange.defence, *exchange.answer), self.stance)
        due = at + self.due(exchange)
        asks = Details(rep=rep, stance=self.stance, listener="student", due=due, moves=moves)
        yield self.setting.cue(at, "call", self.text(exchange), details=asks)
        yield from self.after(exchange, at, rep)
        return at


class _FeederCall(_Call):
    """The voice prompts the feeder; the answer, if there is one, is called to the room after the defence."""

    def text(self, exchange: Exchange) -> str:
        defence = exchange.defence
        return prompt(self.setting.book, self.setting.whom, defence.technique.name, defence.side(self.stance))

    def busy(self, exchange: Exchange) -> float:
        if not exchange.answer:
            return self.defended(exchange)
        spoken = self.setting.seconds(self.answer(exchange), 1.0)
        return self.defended(exchange) + spoken + REACTION + execution(exchange.answer, self.setting.pace)

    def cues(self, exchange: Exchange, at: float, rep: int) -> Layout:
        due, moves = at + self.due(exchange), actions((exchange.defence,), self.stance)
        asks = Details(rep=rep, stance=self.stance, listener="feeder", due=due, moves=moves)
        yield self.setting.cue(at, "call", self.text(exchange), details=asks)
        if exchange.answer:
            moves = actions(exchange.answer, self.stance)
            asks = Details(rep=rep, stance=self.stance, listener="student", moves=moves)
            yield self.setting.cue(at + self.defended(exchange), "call", self.answer(exchange), details=asks)
        yield from self.after(exchange, at, rep)
        return at
