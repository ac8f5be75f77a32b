"""One exchange of partner work: the feed, the defence and the answer; when each is called and when it is done.

A call comes early enough to be heard, understood and fed slowly; `due` is when the feed arrives and the student
defends.
"""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType

from cornercue.script.partner import Partner
from cornercue.technique.move import Move
from cornercue.technique.sides import Stance
from cornercue.technique.table import PaceName
from cornercue.timing.calls import doing, recovery
from cornercue.timing.feeding import prompt
from cornercue.timing.pace import MOVE
from cornercue.timing.phrasebook import Phrasebook
from cornercue.timing.setting import Details, Layout, Setting, actions, called
from cornercue.timing.timeline import Action

FEEDER_EXTRA = 0.35
"""Seconds that a feeder who has never fed needs beyond the reaction time of the laboratory; common practice,
no source."""

FEED = MappingProxyType({"learning": 1.0, "steady": 0.8, "sharp": 0.6})
"""Seconds that a feed is on its way, by pace: slow enough to be read. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Calling:
    """How the exchanges of one round are called: to whom, at what pace and in what stance, one of so many kinds.

    `varied` if the answer is not always the same, so that it is called with the defence.
    """

    step: Partner
    setting: Setting
    stance: Stance
    kinds: int
    varied: bool


@dataclass(frozen=True, slots=True)
class Exchange:
    """One call: the student's defence and what is thrown back, which may be nothing; with their words and actions.

    Seconds from the start of the call: the feed arrives at `due`, the defence is over at `defended`, the answer at
    `busy`, and at `floor` the student is back on guard.
    """

    defence: Move
    answer: tuple[Move, ...]
    call: str
    answer_words: str
    defends: tuple[Action, ...]
    answers: tuple[Action, ...]
    due: float
    defended: float
    busy: float
    floor: float


def said_after(step: Partner, book: Phrasebook, answered: bool) -> str | None:
    """What is said after an exchange: the script's words, and to a feeder who has stepped back for an answer."""
    if not answered:
        return step.between.text if step.between else None
    step_in = book.say("step_in")
    if not step.between:
        return step_in
    stop = "" if step.between.text[-1] in ".!?" else "."
    return book.say("between_and_in", between=step.between.text + stop, step_in=step_in)


def done_after(step: Partner, pace: PaceName | float, movement: float, answered: bool) -> float:
    """Seconds to do what is said after an exchange: at least the feeder's step."""
    return max(doing(step.between, step.then, pace, movement), MOVE * movement if answered else 0.0)


def _said(step: Partner, setting: Setting, stance: Stance, answered: bool) -> str | None:
    words = said_after(step, setting.book, answered)
    return setting.sided(words, stance) if words else None


def exchange(calling: Calling, defence: Move, answer: tuple[Move, ...]) -> Exchange:
    """One of the exchanges of a round."""
    step, setting, stance = calling.step, calling.setting, calling.stance
    book, answer_words = setting.book, called(answer, stance, setting.numbers)
    if step.listener == "feeder":
        call = prompt(book, setting.whom, defence.technique.name, defence.side(stance))
    else:
        call = defence.words(stance) + (f", {answer_words}" if calling.varied and answer else "")
    due = setting.seconds(call, 1.0) + _fed(setting, calling.kinds)
    defended = due + setting.execution((defence,))
    busy = defended + _answered(step, setting, answer, answer_words)
    after = _said(step, setting, stance, bool(answer))
    then = done_after(step, setting.pace, setting.person.movement, bool(answer))
    return Exchange(
        defence, answer, call, answer_words,
        defends=actions((defence,), stance), answers=actions(answer, stance),
        due=due, defended=defended, busy=busy, floor=busy + recovery(setting, after, then),
    )  # fmt: skip


def _fed(setting: Setting, kinds: int) -> float:
    """Seconds from the end of the call until the feed arrives: the feeder chooses and feeds, the student reads it."""
    travel = FEED[setting.pace] if isinstance(setting.pace, str) else max(FEED["sharp"], setting.pace)
    reaction = setting.choice_reaction(kinds)
    return reaction + FEEDER_EXTRA + max(travel, reaction)


def _answered(step: Partner, setting: Setting, answer: tuple[Move, ...], words: str) -> float:
    """Seconds from the end of the defence to that of the answer; with a feeder it is called to the room in between."""
    if not answer:
        return 0.0
    heard = setting.seconds(words, 1.0) + setting.reaction if step.listener == "feeder" else 0.0
    return heard + setting.execution(answer)


def cues(calling: Calling, one: Exchange, at: float, rep: int) -> Layout:
    """The cues of an exchange whose call starts at `at`, the nth of its round.

    A student is called the defence with its side, and the answer where it is not always the same; a feeder is prompted,
    and the answer is called to the room after the defence.
    """
    step, setting, stance = calling.step, calling.setting, calling.stance
    due, done, after = at + one.due, at + one.busy, _said(step, setting, stance, bool(one.answer))
    to_feeder = step.listener == "feeder"
    moves = one.defends if to_feeder else one.defends + one.answers
    asks = Details(rep=rep, stance=stance, listener=step.listener, due=due, done=done, moves=moves)
    yield setting.cue(at, "call", one.call, details=asks)
    if to_feeder and one.answer:
        asks = Details(rep=rep, stance=stance, listener="student", done=done, moves=one.answers)
        yield setting.cue(at + one.defended, "call", one.answer_words, details=asks)
    if after:
        yield setting.cue(done, "say", after, details=Details(rep=rep, stance=stance))
    return at
