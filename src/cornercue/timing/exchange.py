"""One exchange of partner work: the feed, the defence and the answer; when each is called and when it is done.

A call comes early enough to be heard, understood and fed slowly; `due` is when the feed arrives and the student
defends.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterator
from dataclasses import dataclass
from types import MappingProxyType

from cornercue.script.partner import Partner
from cornercue.technique.move import Move
from cornercue.technique.sides import Stance
from cornercue.timing.calls import recovery
from cornercue.timing.feeding import prompt
from cornercue.timing.phrasebook import Phrasebook
from cornercue.timing.setting import Details, Layout, Setting, actions, called
from cornercue.timing.timeline import Cue

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


def said_after(step: Partner, book: Phrasebook) -> str | None:
    """What is said after each exchange: the script's words, and to a feeder who has stepped back for an answer."""
    if not step.answers:
        return step.between
    step_in = book.say("step_in")
    return book.say("between_and_in", between=step.between, step_in=step_in) if step.between else step_in


@dataclass(frozen=True, slots=True)
class Call(ABC):
    """What both ways of calling share: when the feed arrives, and when the student is done."""

    step: Partner
    setting: Setting
    stance: Stance
    kinds: int

    @abstractmethod
    def text(self, exchange: Exchange) -> str:
        """The words of the call."""

    @abstractmethod
    def cues(self, exchange: Exchange, at: float, rep: int) -> Layout:
        """The cues of an exchange that starts at `at`, the nth of its round."""

    def due(self, exchange: Exchange) -> float:
        """Seconds from the start of the call until the feed arrives: the feeder hears it, chooses and feeds."""
        pace = self.setting.pace
        travel = FEED[pace] if isinstance(pace, str) else max(FEED["sharp"], pace)
        reaction = self.setting.choice_reaction(self.kinds)
        return self.setting.seconds(self.text(exchange), 1.0) + reaction + FEEDER_EXTRA + max(travel, reaction)

    def defended(self, exchange: Exchange) -> float:
        """Seconds from the start of the call to the end of the defence."""
        return self.due(exchange) + self.setting.execution((exchange.defence,))

    def busy(self, exchange: Exchange) -> float:
        """Seconds from the start of the call to the end of the answer."""
        return self.defended(exchange) + self.setting.execution(exchange.answer)

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


class StudentCall(Call):
    """The voice calls the defence with its side, and the answer where it is not always the same."""

    def text(self, exchange: Exchange) -> str:
        words = exchange.defence.words(self.stance)
        return f"{words}, {self.answer(exchange)}" if len(self.step.answers) > 1 else words

    def cues(self, exchange: Exchange, at: float, rep: int) -> Layout:
        moves = actions((exchange.defence, *exchange.answer), self.stance)
        due, done = at + self.due(exchange), at + self.busy(exchange)
        asks = Details(rep=rep, stance=self.stance, listener="student", due=due, done=done, moves=moves)
        yield self.setting.cue(at, "call", self.text(exchange), details=asks)
        yield from self.after(exchange, at, rep)
        return at


class FeederCall(Call):
    """The voice prompts the feeder; the answer, if there is one, is called to the room after the defence."""

    def text(self, exchange: Exchange) -> str:
        defence = exchange.defence
        return prompt(self.setting.book, self.setting.whom, defence.technique.name, defence.side(self.stance))

    def busy(self, exchange: Exchange) -> float:
        if not exchange.answer:
            return self.defended(exchange)
        spoken = self.setting.seconds(self.answer(exchange), 1.0)
        return self.defended(exchange) + spoken + self.setting.reaction + self.setting.execution(exchange.answer)

    def cues(self, exchange: Exchange, at: float, rep: int) -> Layout:
        due, done, moves = at + self.due(exchange), at + self.busy(exchange), actions((exchange.defence,), self.stance)
        asks = Details(rep=rep, stance=self.stance, listener="feeder", due=due, done=done, moves=moves)
        yield self.setting.cue(at, "call", self.text(exchange), details=asks)
        if exchange.answer:
            moves = actions(exchange.answer, self.stance)
            asks = Details(rep=rep, stance=self.stance, listener="student", done=done, moves=moves)
            yield self.setting.cue(at + self.defended(exchange), "call", self.answer(exchange), details=asks)
        yield from self.after(exchange, at, rep)
        return at
