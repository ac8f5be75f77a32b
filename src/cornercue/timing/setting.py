"""What holds while a step is laid out: who, how fast, in which words; and the one way to say something."""

from __future__ import annotations

from collections.abc import Callable, Generator, Iterable, Sequence
from dataclasses import dataclass, field, replace

from cornercue.ages import Ages
from cornercue.feed.table import Audience
from cornercue.script.doses import Spacing
from cornercue.script.model import Counting, Step
from cornercue.technique.move import Move, in_stance
from cornercue.technique.sides import Stance, sided
from cornercue.technique.table import PaceName
from cornercue.timing.faults import TimingFault
from cornercue.timing.levelling import Ledger
from cornercue.timing.pace import REACTION, choice_reaction, execution, round_up, to_guard
from cornercue.timing.parts import Heading, shortened
from cornercue.timing.person import ADULT, Trainee
from cornercue.timing.phrasebook import MOST_COUNTED, Phrasebook, counted
from cornercue.timing.timeline import Action, Advice, Cue, CueKind, Listener, Part, PartKind, Span

SpokenSeconds = Callable[[str, float], float]
"""How long a phrase takes to say at a rate, in seconds. Timing knows nothing else about voices."""

BeatSeconds = Callable[[str, float], float]
"""Seconds from the start of a phrase to the moment at which it is heard to fall, at a rate."""


@dataclass(frozen=True, slots=True)
class Horizon:
    """Everything that sounds before this time, in seconds, has been laid out."""

    at: float


Event = Cue | Span | Advice
Layout = Generator[Event, None, float]
"""A layer yields events and returns the time at which it ends."""

GAP = 0.15
"""Least silence between two phrases, in seconds."""

RATES = (1.0, 1.1, 1.2)
"""How much faster than normal the voice may speak where words must fit an interval.

Up to the last a recogniser hears calls and counts as well as at 1.0; at 1.4 it mishears the system voice's counts even
in quiet (`tests/test_outside_ear.py`; figures in docs/measured.md).
"""


def no_beat(text: str, rate: float) -> float:
    """For lengths without a voice: every phrase falls at its start."""
    return 0.0


@dataclass(frozen=True, slots=True)
class Request:
    """What the player asks for; None leaves it to the script."""

    seed: int
    level: int | None = None
    stance: Stance | None = None
    pace: PaceName | float | None = None
    voice: str = "none"
    ages: Ages | None = None
    brief: bool = False


@dataclass(frozen=True, slots=True)
class Details:
    """What is known of a cue beside its words: where in the work it stands, and what it asks for. As in a `Cue`."""

    set: int | None = None
    rep: int | None = None
    stance: Stance | None = None
    angle: int | None = None
    listener: Listener | None = None
    due: float | None = None
    done: float | None = None
    moves: tuple[Action, ...] = ()
    ahead: bool = False
    taught: bool = False
    drawn: bool = False
    shows: str | None = None


PLAIN = Details()


@dataclass(frozen=True, slots=True)
class Setting:
    """What is in force for a step.

    `written` is the stance that the script is written for: another one mirrors it. `place` names this
    occurrence of the step among all (steps and rounds on the way to it), so that each draws its own calls.
    `heading` is the part that the step makes, or lies in; `part` is the index of the finest one, once it is numbered.
    `ledger` is one for the whole layout: partner rounds write in it what they call, in the order of time.
    `brief` leaves out what is explained and walked through. `person` is who does it, whose slowness is in all times;
    speech rates are relative to what suits that person. `rep_pace` is that of exercises, whatever the level.
    """

    request: Request
    level: int
    stances: tuple[Stance, ...]
    written: Stance
    pace: PaceName | float
    numbers: bool
    book: Phrasebook
    seconds: SpokenSeconds
    line: int
    whom: Audience = "junior"
    place: str = ""
    included: bool = False
    beat: BeatSeconds = no_beat
    counting: Counting = "english"
    ledger: Ledger = field(default_factory=Ledger)
    brief: bool = False
    person: Trainee = ADULT
    rep_pace: PaceName | float = "steady"
    heading: Heading | None = None
    part: int = 0

    def cue(
        self,
        at: float,
        kind: CueKind,
        text: str,
        *,
        rate: float = 1.0,
        details: Details = PLAIN,
        beat: float | None = None,
    ) -> Cue:
        """A spoken cue that starts at `at`, and is heard to fall at `beat` where that is known."""
        return Cue(
            at, at + self.seconds(text, rate), kind, text=text, line=self.line, part=self.part,
            rate=self.person.rate(rate), beat=beat,
            set=details.set, rep=details.rep, stance=details.stance, angle=details.angle, listener=details.listener,
            due=details.due, done=details.done, moves=details.moves, ahead=details.ahead,
            taught=details.taught, drawn=details.drawn, shows=details.shows,
        )  # fmt: skip

    def on_beat(self, beat: float, kind: CueKind, text: str, rate: float = 1.0, details: Details = PLAIN) -> Cue:
        """A spoken cue that is heard to fall at `beat`: its sound starts that much sooner."""
        return self.cue(beat - self.beat(text, rate), kind, text, rate=rate, details=details, beat=beat)

    def beat_to_beat(self, words: Sequence[str], rate: float) -> float:
        """The least even interval (s) between the beats of these words, spoken in this order without overlap.

        The last word is over a gap before the beat that would follow it.
        """
        ahead = [self.beat(word, rate) for word in words]
        after = [self.seconds(word, rate) - lead for word, lead in zip(words, ahead, strict=True)]
        return max(tail + GAP + lead for tail, lead in zip(after, [*ahead[1:], 0.0], strict=True))

    @property
    def reaction(self) -> float:
        """Seconds from the end of a known call to the first move."""
        return REACTION * self.person.reaction

    def choice_reaction(self, kinds: int) -> float:
        """Seconds to react to one of so many equally likely calls."""
        return choice_reaction(kinds) * self.person.reaction

    def execution(self, moves: Iterable[Move]) -> float:
        """Seconds to do the moves one after the other, at the pace in force."""
        return execution(moves, self.pace) * self.person.movement

    @property
    def to_guard(self) -> float:
        """Seconds from the last technique back to guard, at the pace in force."""
        return to_guard(self.pace) * self.person.movement

    def count(self, n: int) -> str:
        """The number of a repetition, in the language that the drill counts in. Raises `TimingFault`."""
        if self.counting == "english":
            return self.book.number(n)
        if n > MOST_COUNTED:
            raise TimingFault(
                self.line,
                f"counting in {self.counting.capitalize()} goes to {MOST_COUNTED}; ask for no more repetitions than "
                "that, or leave out `counting`",
            )
        return counted(self.counting, n)

    def at(self, step: Step) -> Setting:
        """The setting for a step: its line, unless it lies in an included file (then the include's line)."""
        return self if self.included else replace(self, line=step.line)

    def within(self, n: int) -> Setting:
        """The setting one level further in: the nth step, or the nth round."""
        return replace(self, place=f"{self.place}.{n}")

    def opened(self, title: str, kind: PartKind, points: tuple[str, ...] = ()) -> Setting:
        """The setting of a new part, within the one that is in hand."""
        part = Part(shortened(title), kind, self.line, 0.0, 0.0, points=points)
        return replace(self, heading=Heading(part, self.heading))

    def divided(
        self, kind: PartKind, number: int, count: int, title: str = "", stance: Stance | None = None
    ) -> Setting:
        """The setting of one of `count` parts that the one in hand falls into; it is called and looks like that one."""
        if self.heading is None:
            raise ValueError("there is no part to divide")
        whole = self.heading.part
        part = replace(
            whole, title=shortened(title) or whole.title, kind=kind, number=number, count=count, stance=stance
        )
        return replace(self, heading=Heading(part, self.heading))

    def paced(self, pace: PaceName | float | None) -> Setting:
        """The setting with a step's own pace, unless the command line asked for one."""
        return replace(self, pace=pace) if pace and not self.request.pace else self

    def sided(self, text: str, stance: Stance | None = None) -> str:
        """A script's text with its `{left}` and `{right}` for a stance, or for the first one asked for."""
        return sided(text, mirrored=(stance or self.stances[0]) != self.written)

    def longest(self, texts: Iterable[str]) -> str:
        """The phrase that takes longest to say."""
        return max(texts, key=lambda text: self.seconds(text, 1.0))


def fit(need: Callable[[float], float], every: float | None) -> tuple[float, float]:
    """The rate to speak at and the interval to use; `need(rate)` is the least interval at a rate.

    The asked interval wins where the words, spoken faster while still clear, fit in it. Where even the
    fastest are too slow the interval grows, and then the words may as well be spoken at their normal rate.
    """
    if every is not None:
        for rate in RATES:
            if need(rate) <= every + 1e-9:
                return rate, every
    return 1.0, need(1.0)


def actions(moves: tuple[Move, ...], stance: Stance) -> tuple[Action, ...]:
    """The moves as the timeline tells them: strikes with a hand, the rest with a side of the room."""
    return tuple(_action(move, now) for move, now in in_stance(moves, stance))


def _action(move: Move, stance: Stance) -> Action:
    technique, side = move.technique, move.side(stance)
    with_a_hand = technique.kind == "strike"
    return Action(
        technique.name, technique.kind, move.words(stance), hand=side if with_a_hand else None,
        side=None if with_a_hand else side, with_the_leg=technique.with_the_leg,
    )  # fmt: skip


def called(moves: tuple[Move, ...], stance: Stance, numbers: bool = False) -> str:
    """How a combination is called."""
    return ", ".join(move.words(now, numbers) for move, now in in_stance(moves, stance))


def too_fast(setting: Setting, text: str, asked: Spacing, used: float) -> Advice:
    """Tells the instructor by how much an interval had to grow, at most."""
    enough = round_up(used, 0.1)
    return Advice(
        setting.line,
        f"every {asked.least:g} s is too short for «{text}»: {used - asked.least:.2f} s were added",
        f"ask for `every: {asked.no_less_than(enough)}` or more",
    )
