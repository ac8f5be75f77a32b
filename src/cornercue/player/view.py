"""What there is to see at one moment of a drill: a plain value that every kind of screen shows in its own way."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from cornercue.timing.parts import finest
from cornercue.timing.timeline import Cue, Span, Timeline

HIDDEN = {"feeder": "Watch the stick", "holder": "Watch what is held"}
"""What the student sees where only the helper may know the call."""

LATER = "wait for it"
"""What the student sees of a call that comes next and is not to be known before."""

State = Literal["playing", "paused", "counting in", "waiting", "ended"]


@dataclass(frozen=True, slots=True)
class View:
    """One moment. `at` and `left` are seconds; `level` is how full the water stands, 0 to 1.

    `begun` is when the call began, on the timeline that it is from; two calls alike are told apart by it.
    `kind` is what the moment is part of; outside work and rest, `left` is None. `part` counts the finest parts from 1;
    `told` is what this one is called, with the round or set that it is: "Round 2 of 3 · Skipping".
    `message` is what the student must know beside the drill: "paused", what happened to the sound device.
    """

    at: float
    title: str
    part: int
    parts: int
    told: str
    call: str
    hands: str
    following: str
    kind: Literal["work", "rest", "talk"]
    left: float | None
    level: float
    begun: float | None = None
    state: State = "playing"
    volume: int = 10
    message: str = ""


Show = Callable[[View], None]
"""Shows a moment; called many times a second."""


@dataclass(frozen=True)
class Moments:
    """A timeline, or its beginning, made ready to be looked up many times a second. What all its finest parts are
    called is known: `titles`."""

    timeline: Timeline
    titles: tuple[str, ...]

    @cached_property
    def starts(self) -> tuple[float, ...]:
        """Where each finest part that is known starts, in seconds."""
        return tuple(leaf.part.start for leaf in finest(self.timeline.parts))

    @cached_property
    def _worded(self) -> tuple[Cue, ...]:
        return tuple(self.timeline.spoken())

    @cached_property
    def _begins(self) -> tuple[float, ...]:
        return tuple(cue.start for cue in self._worded)

    def part_at(self, at: float) -> int:
        """The index of the finest part at a time in seconds."""
        return max(bisect_right(self.starts, at + 1e-6) - 1, 0)

    def said_ahead(self, part: int) -> tuple[Cue, ...]:
        """What is said of a part in the rest before it."""
        return tuple(cue for cue in self.timeline.cues if cue.ahead and cue.part == part - 1)

    def cue_at(self, at: float) -> Cue | None:
        """The last cue with words that has begun; None before the first."""
        index = bisect_right(self._begins, at + 1e-6)
        return self._worded[index - 1] if index else None

    def cue_after(self, at: float) -> Cue | None:
        """The next cue with words; None after the last."""
        index = bisect_right(self._begins, at + 1e-6)
        return self._worded[index] if index < len(self._worded) else None

    def sounding(self, at: float) -> Cue | None:
        """The cue whose words are being said."""
        cue = self.cue_at(at)
        return cue if cue and at < cue.end else None

    def span_at(self, at: float) -> Span | None:
        """The stretch of work or rest at a time."""
        return next((span for span in self.timeline.spans if span.start <= at < span.end), None)

    def work_after(self, at: float) -> float | None:
        """When the next stretch of work starts; None where none is known."""
        return next((span.start for span in self.timeline.spans if span.kind == "work" and span.start > at), None)

    def at(self, at: float) -> View:
        """The view at a time in seconds."""
        part, span = self.part_at(at), self.span_at(at)
        cue, after = self.cue_at(at), self.cue_after(at)
        hidden = HIDDEN.get(cue.listener or "") if cue else None
        return View(
            at=at,
            title=self.timeline.drill,
            part=part + 1,
            parts=len(self.titles),
            told=self.titles[part],
            call=hidden or (cue.text if cue else self.timeline.drill),
            hands="" if hidden or cue is None or cue.kind != "call" else cue.hands,
            following="" if after is None else LATER if after.listener or after.drawn else after.text,
            kind=span.kind if span else "talk",
            left=span.end - at if span else None,
            level=_level(span, at),
            begun=cue.start if cue else None,
        )


def _level(span: Span | None, at: float) -> float:
    """Work runs out: the water falls. Rest fills: it rises."""
    if span is None:
        return 0.0
    left = (span.end - at) / (span.end - span.start)
    return left if span.kind == "work" else 1 - left
