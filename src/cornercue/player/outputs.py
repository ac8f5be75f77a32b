"""What an output is: the one thing between a track and the ear. Adding one is one file and one row in `choose`."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Protocol

from cornercue.errors import MachineLacks

if TYPE_CHECKING:
    from cornercue.sound import Samples  # numpy, which is slow to import

Heard = Callable[[int], object]
"""Told, many times a second, how many frames of the track have come out so far. Answers True to stop."""

TICK = 0.02
"""Seconds between two looks at the device: how soon keys, Ctrl-C and the screen are served."""

NO_DEVICE = "it finds no sound device"


class Output(Protocol):
    """Something that plays a track."""

    @property
    def name(self) -> str:
        """What `--device` calls it."""

    @property
    def premixed(self) -> bool:
        """Whether it takes the whole track before it starts, so that a change of loudness needs a new start."""

    def lacks(self) -> str | None:
        """Why it cannot play on this machine, as the end of a sentence; None if it can."""

    def play(self, track: Iterable[Samples], channels: int = 1, heard: Heard | None = None) -> int:
        """Play int16 blocks at `SAMPLE_RATE`, shape (n,) or (n, channels), until the last frame is heard.

        Stops sooner, at a frame of its own choice, where `heard` answers True. Returns how many frames of the track
        came out. Blocks are asked for as they are needed. Ctrl-C stops the sound at once and passes through. Raises
        `MachineLacks` for a device that is not there or that stops taking sound.
        """


def nothing_to_play_on(tried: list[str]) -> MachineLacks:
    """The error for a machine without sound; `tried` says what was asked and what it lacks."""
    return MachineLacks(
        f"There is nothing to play the sound on ({'; '.join(tried)}). Plug in or switch on a loudspeaker or "
        "headphones and try again, or make a sound file for another device with `cornercue render`."
    )
