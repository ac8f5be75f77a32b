"""A lounge room without a sound card: outputs, keys and a clock that the tests control."""

from __future__ import annotations

import os
from collections.abc import Callable, Generator, Iterable
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

import numpy as np

from cornercue.errors import MachineLacks
from cornercue.player.keys import Command
from cornercue.player.outputs import Heard, Output
from cornercue.player.passage import AT_ONCE
from cornercue.player.timeline_thread import GrowingTimeline
from cornercue.player.transport import Ending, Transport
from cornercue.player.view import View
from cornercue.script.read import parse_drill
from cornercue.sound import SAMPLE_RATE, Samples
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import counted_in, unfold
from cornercue.timing.parts import finest
from cornercue.timing.setting import Request
from cornercue.timing.timeline import Timeline
from cornercue.track.mix import blocks
from cornercue.voice.clip import Clip

DRILL = parse_drill(
    """
drill: Saltmarsh Monday
steps:
- say: Hands up.
- combination: jab, cross
  reps: 3
- rest: 12 s
- exercise: push-ups
  reps: 4
  every: 2 s
- hold: side kick
  for: 5 s
""",
    "monday.yaml",
)
REQUEST = Request(seed=7, voice="none")


@cache
def spoken(text: str, rate: float = 1.0) -> Clip:
    """A stand-in for a voice: noise that is never silent, another for each phrase."""
    rng = np.random.default_rng([*text.encode(), round(rate * 100)])
    sound = rng.integers(1000, 9000, round(estimated_seconds(text, rate) * SAMPLE_RATE))
    return Clip(text, sound.astype(np.int16))


def seconds(text: str, rate: float) -> float:
    return spoken(text, rate).seconds


def beginnings() -> Generator[Timeline, None, None]:
    yield from unfold(DRILL, REQUEST, seconds)


LINE = [*beginnings()][-1]
TITLES = tuple(leaf.told for leaf in finest(LINE.parts))
PARTS = len(TITLES)
COUNT_IN = counted_in(DRILL, REQUEST, seconds)
TRACK: Samples = np.concatenate([*blocks(LINE, spoken)])
COUNTED: Samples = np.concatenate([*blocks(COUNT_IN, spoken)])
OPENING = round((LINE.cues[0].start - AT_ONCE) * SAMPLE_RATE)
"""Frames of silence at the beginning that nobody waits for when a drill is played live."""


@dataclass
class Room:
    """What happens on an evening: keys pressed at times of the track, on a clock that sound and waiting move on."""

    presses: list[tuple[float, Command]] = field(default_factory=list)
    now: float = 100.0 + OPENING / SAMPLE_RATE
    heard: list[Samples] = field(default_factory=list)
    views: list[View] = field(default_factory=list)

    def clock(self) -> float:
        return self.now

    def read(self, wait: float) -> Command | None:
        self.now += wait
        if self.presses and self.presses[0][0] <= self.now - 100:
            return self.presses.pop(0)[1]
        return None

    def show(self, view: View) -> None:
        self.views.append(view)

    def sound(self) -> Samples:
        """All that came out of the loudspeaker."""
        return np.concatenate(self.heard)

    def track(self) -> Samples:
        """The same, with the silence that a file has before."""
        return np.concatenate([TRACK[:OPENING], *self.heard])

    def states(self) -> list[str]:
        """The states shown, each once in a row."""
        shown = [view.state for view in self.views]
        return [state for at, state in enumerate(shown) if at == 0 or shown[at - 1] != state]


@dataclass
class Speaker:
    """An output that takes real time on the room's clock. `trouble`, told the frames, may raise or move the clock."""

    room: Room
    trouble: Callable[[int], None] = lambda frames: None
    name: str = "speaker"
    premixed: bool = False

    def lacks(self) -> str | None:
        return None

    def play(self, track: Iterable[Samples], channels: int = 1, heard: Heard | None = None) -> int:
        frames = 0
        for block in track:
            self.room.heard.append(block)
            frames += len(block)
            self.room.now += len(block) / SAMPLE_RATE
            self.trouble(frames)
            if heard and heard(frames) is True:
                return frames
        return frames


def played(
    room: Room,
    output: Output | None = None,
    reopened: Callable[[], Output] | None = None,
    part: int = 1,
    cautions: int = 0,
    coming: GrowingTimeline | None = None,
) -> Ending:
    """An evening, from `part`."""
    output = output or Speaker(room)
    coming = coming or GrowingTimeline(beginnings())
    fallback = output
    try:
        return Transport(
            coming, TITLES, lambda: COUNT_IN, clip_of=spoken, reopened=reopened or (lambda: fallback), show=room.show,
            keys=room, clock=room.clock, wall=room.clock,
        ).play(output, part, cautions)  # fmt: skip
    finally:
        coming.close()


def unplugged(frames_before: int) -> Callable[[int], None]:
    """A device that is lost after so many frames."""

    def trouble(frames: int) -> None:
        if frames > frames_before:
            raise MachineLacks("The sound device has stopped taking sound.")

    return trouble


def with_devices_of(setup: Path) -> dict[str, str]:
    """The environment of a machine that has the sound devices of this ALSA configuration and no others."""
    folder = setup.parent
    return os.environ | {
        "HOME": str(folder), "XDG_RUNTIME_DIR": str(folder), "ALSA_CONFIG_PATH": str(setup),
        "PULSE_SERVER": f"unix:{folder}/none", "JACK_NO_START_SERVER": "1",
    }  # fmt: skip
