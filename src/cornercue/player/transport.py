"""Plays a drill as people do: paused, a part back or on, softer, after whatever happens to the sound device.

The track is played in passages. Each starts at a place, with a count-in where the student needs one, and ends when
somebody presses a key or something goes wrong. What is shown follows the frames that came out.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import partial
from typing import Literal

from cornercue.errors import MachineLacks
from cornercue.player.keys import Command, Keys
from cornercue.player.outputs import Output
from cornercue.player.passage import Lead, Place, count_in_lead, counted_in, first_cues, opening, part_place
from cornercue.player.timeline_thread import GrowingTimeline, goes_beyond, known_frames
from cornercue.player.view import Moments, Show, State, View
from cornercue.player.volume import LOUDEST, scaled, turned
from cornercue.sound import SAMPLE_RATE, Samples
from cornercue.timing.parts import finest
from cornercue.timing.timeline import Timeline
from cornercue.track.mix import ClipOf, blocks, total_frames

BLOCK = 2048
"""Frames mixed at a time: small, so that the first sound comes at once and a change of loudness is heard soon."""

MOMENT = 2.0
"""Seconds: after a longer pause the student is counted in."""

SLEPT = 3.0
"""Seconds without a look at the device that mean that the computer was asleep, or this program held."""

RETRY = 1.0
"""Seconds between two tries to find a sound device again."""

NOTICE = 5.0
"""Seconds that a notice stays."""

PAUSED = "Paused. Space goes on."
LOST = "No sound device. Plug it in again, or another one: the drill goes on by itself."
ASLEEP = "The computer was asleep; the drill goes on."
LAST = "This is the last part."

Reason = Command | Literal["asleep", "lost"]
"""Why a passage ended before the track did."""


@dataclass(frozen=True, slots=True)
class Ending:
    """How playing ended: with the drill, or sooner; and the part (from 1) at which it was left."""

    whole: bool
    part: int


class Transport:
    """One playing of one drill."""

    def __init__(
        self,
        coming: GrowingTimeline,
        titles: tuple[str, ...],
        count_in: Callable[[], Timeline],
        *,
        clip_of: ClipOf,
        reopened: Callable[[], Output],
        show: Show,
        keys: Keys,
        clock: Callable[[], float] = time.monotonic,
        wall: Callable[[], float] = time.time,
    ) -> None:
        """`titles` has one for each finest part; `reopened` gives an output that works, or raises `MachineLacks`."""
        self._coming = coming
        self._titles = titles
        self._count_in = count_in
        self._clip_of = clip_of
        self._reopened = reopened
        self._show = show
        self._keys = keys
        self._clock = clock
        self._wall = wall
        self._volume = LOUDEST
        self._notice = ("", 0.0)
        self._place, self._out = Place(0), 0
        self._reason: Reason | None = None
        self._seen = (0.0, 0.0)
        self._sounded = False
        self._first = 1
        self._latest: Moments | None = None

    def play(self, output: Output, part: int = 1, cautions: int = 0) -> Ending:
        """Play from `part` (from 1) to the end of the drill, or until somebody quits.

        The first `cautions` cues are heard wherever the drill starts. Raises what its laying-out raises, and
        `MachineLacks` where it never came to sound.
        """
        self._first = part
        self._place = opening(self._moments()) if part == 1 else self._start_of(part - 1)
        if part > 1 and cautions:
            first = first_cues(self._moments(), cautions)
            self._place = replace(self._place, leads=(first, *self._place.leads))
        while reason := self._sound(output):
            found: Output | None = output
            if reason == "lost":
                found = self._wait_for_device()
            if reason == "quit" or found is None or (reason == "pause" and not self._wait_for_key()):
                return Ending(False, self.part)
            output = found
        self._show(self._view("ended"))
        return Ending(True, len(self._titles))

    @property
    def part(self) -> int:
        """The finest part (from 1) in which the drill is."""
        if self._latest is None:
            return self._first
        lead, at = self._place.locate(self._out)
        return self._latest.part_at((self._place.frame if lead else at) / SAMPLE_RATE) + 1

    def _sound(self, output: Output) -> Reason | None:
        """Play from the place where the track is, and go on; returns why it ended, None at the end of the drill."""
        self._reason, self._seen = None, self._now()
        try:
            out = output.play(self._track(), 1, partial(self._look, output.premixed))
        except MachineLacks:
            if self._coming.fault or not self._sounded:
                raise
            self._reason = self._reason or "lost"
        else:
            self._out = self._out if self._reason == "asleep" else out
        here = self._place.after(self._out)
        match self._reason:
            case "asleep" | "lost":
                here = self._counted_in(here)
            case "back" | "on" | "again":
                here = self._moved(here, self._reason)
        self._place, self._out = here, 0
        return self._reason

    def _look(self, premixed: bool, out: int) -> bool:
        """Show how far the track is and serve one key; True stops the sound."""
        before, self._seen = self._seen, self._now()
        if max(now - then for now, then in zip(self._seen, before, strict=True)) > SLEPT:
            self._reason = "asleep"
            self._tell(ASLEEP)
            return True
        self._out, self._sounded = out, self._sounded or out > 0
        self._show(self._view("playing"))
        command = self._keys.read(0)
        if command in ("louder", "softer"):
            self._turn(command)
            if not premixed:  # One that is mixed already has to be begun again to be heard at another loudness.
                return False
        self._reason = command
        return command is not None

    def _track(self) -> Iterator[Samples]:
        """The leads, then the track from its place on, as it becomes known, at the loudness of the moment."""
        place = self._place
        for lead in place.leads:
            yield from self._blocks(lead.moments.timeline, lead.start, lead.start + lead.frames)
        at, whole = place.frame, False
        while not whole:
            line, whole = self._coming.when(partial(goes_beyond, at), self._idle)
            end = max(total_frames(line) if whole else known_frames(line), at)
            yield from self._blocks(line, at, end)
            at = end

    def _blocks(self, line: Timeline, start: int, stop: int) -> Iterator[Samples]:
        for block in blocks(line, self._clip_of, BLOCK, start=start, stop=stop):
            yield scaled(block, self._volume)

    def _wait_for_key(self) -> bool:
        """Paused: True once somebody goes on, False where they quit."""
        since = self._clock()
        while True:
            self._show(self._view("paused", PAUSED))
            match command := self._keys.read(0.1):
                case "pause":
                    if self._clock() - since > MOMENT:
                        self._place = self._counted_in(self._place)
                    return True
                case "quit":
                    return False
                case "louder" | "softer":
                    self._turn(command)
                case "back" | "on" | "again":
                    self._place = self._moved(self._place, command)

    def _wait_for_device(self) -> Output | None:
        """The next output that works; None where somebody quits before."""
        tried = self._clock()
        while True:
            self._show(self._view("waiting", LOST))
            if self._keys.read(0.1) == "quit":
                return None
            if self._clock() - tried >= RETRY:
                try:
                    return self._reopened()
                except MachineLacks:
                    tried = self._clock()

    def _moved(self, here: Place, command: Literal["back", "on", "again"]) -> Place:
        part = self._moments().part_at(here.frame / SAMPLE_RATE) + {"back": -1, "on": 1, "again": 0}[command]
        if part >= len(self._titles):
            self._tell(LAST)
            return here
        return self._start_of(max(part, 0))

    def _start_of(self, part: int) -> Place:
        self._coming.when(lambda line: len(finest(line.parts)) > part, self._idle)
        return part_place(self._moments(), part, self._count_in_lead())

    def _counted_in(self, here: Place) -> Place:
        return counted_in(here, self._moments(), self._count_in_lead())

    def _count_in_lead(self) -> Lead:
        return count_in_lead(self._count_in())

    def _moments(self) -> Moments:
        """What is known of the drill by now."""
        line, _ = self._coming.when(lambda line: True, self._idle)
        if self._latest is None or self._latest.timeline is not line:
            self._latest = Moments(line, self._titles)
        return self._latest

    def _view(self, state: State, message: str = "") -> View:
        lead, at = self._place.locate(self._out)
        view = self._moments().at((self._place.frame if lead else at) / SAMPLE_RATE)
        if lead:
            state = lead.state if state == "playing" else state
            first = lead.moments.at(at / SAMPLE_RATE)
            view = replace(view, call=first.call, hands="", begun=first.begun)
        text, until = self._notice
        message = message or (text if self._clock() < until else "")
        return replace(view, state=state, volume=self._volume, message=message)

    def _turn(self, command: Literal["louder", "softer"]) -> None:
        self._volume = turned(self._volume, 1 if command == "louder" else -1)

    def _tell(self, notice: str) -> None:
        self._notice = (notice, self._clock() + NOTICE)

    def _idle(self) -> None:
        self._seen = self._now()

    def _now(self) -> tuple[float, float]:
        return self._clock(), self._wall()
