"""The timeline as data: its parts, cues in order of start, and the spans of work and rest beneath them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Literal

from cornercue.ages import Ages
from cornercue.technique.sides import Stance
from cornercue.technique.table import TechniqueKind

CueKind = Literal["say", "call", "count", "tone", "rest"]
Tone = Literal["start", "warning", "end"]
Listener = Literal["student", "feeder", "holder"]
PartKind = Literal[
    "say", "rest", "combination", "exercise", "hold", "shadow", "react", "partner", "pads",
    "repeat", "include", "round", "set", "stance",
]
"""The kinds of step, and what these fall into: a round of a repeat, a set, a stance of `stance: both`."""


@dataclass(frozen=True, slots=True)
class Action:
    """One thing the student does: a technique with the hand or the side (in the room) that does it.

    `words` are how it is called, as the script has it. `with_the_leg` tells strikes and kicks of the leg.
    """

    technique: str
    kind: TechniqueKind
    words: str
    hand: Literal["left", "right"] | None = None
    side: Literal["left", "right"] | None = None
    with_the_leg: bool = False

    def as_data(self) -> dict[str, str]:
        pairs = (("technique", self.technique), ("hand", self.hand), ("side", self.side))
        return {key: value for key, value in pairs if value}


@dataclass(frozen=True, slots=True)
class Cue:
    """One thing heard or seen at one time.

    Times are seconds from the start of the track: `start` is the first audible sample, `end` the last.
    `rate` is how much faster than normal the words are spoken. `angle` is in degrees, positive to the
    student's left. `line` is the script's line, `part` the index (from 0) of the finest part in which it lies.
    `due` is when a prompted feed arrives and the student defends, `done` when all that is asked for is done. `ahead`
    marks words about the next part that are said in the rest before it, `taught` calls of slow repetitions, `drawn` a
    call that was drawn at random, which is shown no sooner than it is heard. `shows` is what a holder holds for a call,
    in the holder's own left and right.
    """

    start: float
    end: float
    kind: CueKind
    text: str
    line: int
    part: int
    tone: Tone | None = None
    rate: float = 1.0
    beat: float | None = None
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

    @property
    def hands(self) -> str:
        """The hand or side of each move: "left · right"; empty where there is no move."""
        return " · ".join(move.hand or move.side or "–" for move in self.moves)

    def as_data(self) -> dict[str, Any]:
        """The cue as plain values, without what does not apply to it."""
        data: dict[str, Any] = {
            "start": round(self.start, 6),
            "end": round(self.end, 6),
            "kind": self.kind,
            "text": self.text,
            "line": self.line,
            "part": self.part,
        }
        if self.rate != 1.0:
            data["rate"] = self.rate
        for key in ("beat", "due", "done"):
            if getattr(self, key) is not None:
                data[key] = round(getattr(self, key), 6)
        for key in ("tone", "set", "rep", "stance", "angle", "listener", "shows"):
            value = getattr(self, key)
            if value is not None:
                data[key] = value
        for key in ("ahead", "taught", "drawn"):
            if getattr(self, key):
                data[key] = True
        if self.moves:
            data["moves"] = [move.as_data() for move in self.moves]
        return data


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of work or rest, in seconds: what the water line falls or rises by."""

    start: float
    end: float
    kind: Literal["work", "rest"]
    label: str
    line: int
    part: int

    def as_data(self) -> dict[str, Any]:
        return {
            "start": round(self.start, 6),
            "end": round(self.end, 6),
            "kind": self.kind,
            "label": self.label,
            "line": self.line,
            "part": self.part,
        }


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a drill, from `start` to `end` in seconds, and the parts that it falls into.

    `line` is the script's line. A round, a set and a stance know which of how many they are: `number`, from 1, of
    `count`; a stance knows itself, too. `points` are what to look for in what is done here.
    """

    title: str
    kind: PartKind
    line: int
    start: float
    end: float
    parts: tuple[Part, ...] = ()
    number: int | None = None
    count: int | None = None
    stance: Stance | None = None
    points: tuple[str, ...] = ()

    def as_data(self) -> dict[str, Any]:
        """The part as plain values, without what does not apply to it."""
        data: dict[str, Any] = {
            "title": self.title,
            "kind": self.kind,
            "line": self.line,
            "start": round(self.start, 6),
            "end": round(self.end, 6),
        }
        for key in ("number", "count", "stance"):
            if getattr(self, key) is not None:
                data[key] = getattr(self, key)
        if self.parts:
            data["parts"] = [part.as_data() for part in self.parts]
        return data


@dataclass(frozen=True, slots=True)
class Advice:
    """What the timing engine had to change, said to the instructor, and what to write instead, where it can tell."""

    line: int
    text: str
    remedy: str = ""

    @property
    def told(self) -> str:
        """Both, as one line."""
        return f"{self.text}; {self.remedy}" if self.remedy else self.text


@dataclass(frozen=True, slots=True)
class Timeline:
    """A whole drill laid out in time; `duration` is the end of its last cue, in seconds.

    `parts` is the tree of what it is made of. Together they cover all of the time; cues and spans point to the finest.
    `ages` are those of the juniors whom it is laid out for, None for an adult; `level_name` is what the club calls it.
    """

    drill: str
    level: int
    seed: int
    voice: str
    duration: float
    cues: tuple[Cue, ...]
    spans: tuple[Span, ...]
    advice: tuple[Advice, ...] = ()
    parts: tuple[Part, ...] = ()
    ages: Ages | None = None
    level_name: str | None = None

    @property
    def level_words(self) -> str:
        """The level by its name, where the club has one, else "level 4"."""
        return self.level_name or f"level {self.level}"

    def as_data(self) -> dict[str, Any]:
        """Plain values for JSON: the shape that `show --json` prints."""
        return {
            "drill": self.drill,
            "level": self.level,
            "level_name": self.level_name,
            "ages": str(self.ages) if self.ages else None,
            "seed": self.seed,
            "voice": self.voice,
            "duration": round(self.duration, 6),
            "parts": [part.as_data() for part in self.parts],
            "cues": [cue.as_data() for cue in self.cues],
            "spans": [span.as_data() for span in self.spans],
        }

    def total(self, kind: Literal["work", "rest"]) -> float:
        """Seconds of work or of rest."""
        return sum(span.end - span.start for span in self.spans if span.kind == kind)

    def spoken(self) -> Iterator[Cue]:
        """The cues that have words."""
        return (cue for cue in self.cues if cue.text)
