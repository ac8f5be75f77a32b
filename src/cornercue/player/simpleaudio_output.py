"""Plays through simpleaudio, where it is installed and safe."""

from __future__ import annotations

import importlib.util
import sys
import time
from collections.abc import Iterable
from typing import Protocol

from cornercue.errors import MachineLacks
from cornercue.player.outputs import NO_DEVICE, TICK, Heard, nothing_to_play_on
from cornercue.quiet_libraries import quiet_stderr
from cornercue.sound import SAMPLE_RATE, Samples

PERIOD = SAMPLE_RATE // 10
"""Frames that simpleaudio 1.0.4 hands to ALSA at a time (measured: a tenth of a second)."""


class Playing(Protocol):
    """A sound that simpleaudio plays; it ships no types."""

    def is_playing(self) -> bool:
        """Whether it still does."""

    def stop(self) -> None:
        """End it, after what the device already has."""


class SimpleaudioOutput:
    """The system's default sound device. It wants the whole track before it starts, and holds it in memory.

    It tells neither how far it is, so that the clock has to, nor whether its device is lost. Told to stop, it plays
    what ALSA already has, up to 0.4 s (measured), and only whole periods: that is how the frame is known.
    """

    name = "simpleaudio"
    premixed = True

    def lacks(self) -> str | None:
        return _unusable() or _unheard()

    def play(self, track: Iterable[Samples], channels: int = 1, heard: Heard | None = None) -> int:
        lack = _unusable()
        if lack:
            raise nothing_to_play_on([f"{self.name}: {lack}"])
        sound = b"".join(block.tobytes() for block in track)
        # An empty buffer crashes simpleaudio 1.0.4 (known upstream).
        return _follow(_started(sound, channels), len(sound) // (2 * channels), heard) if sound else 0


def _unusable() -> str | None:
    # Known upstream: from Python 3.12 on, simpleaudio 1.0.4 crashes the process when a sound ends.
    if sys.version_info >= (3, 12):
        return "it does not work with Python 3.12 or newer"
    if importlib.util.find_spec("simpleaudio") is None:
        return "it is not installed (pip install 'cornercue[simpleaudio]')"
    return None


def _unheard() -> str | None:
    """It can be asked for a device only by playing: one silent frame does it."""
    try:
        _follow(_started(bytes(2), channels=1), 1, None)
    except MachineLacks:
        return NO_DEVICE
    return None


def _started(sound: bytes, channels: int) -> Playing:
    import simpleaudio
    from simpleaudio._simpleaudio import SimpleaudioError

    try:
        with quiet_stderr():
            playing: Playing = simpleaudio.play_buffer(sound, channels, 2, SAMPLE_RATE)
            return playing
    except SimpleaudioError as fault:
        raise nothing_to_play_on([f"simpleaudio: {NO_DEVICE}"]) from fault


def _follow(playing: Playing, total: int, heard: Heard | None) -> int:
    """Wait for the end, or stop where `heard` answers True; returns the frames that came out."""
    begun = time.monotonic()
    try:
        while playing.is_playing():
            if heard and heard(min(total, _since(begun))) is True:
                return _stopped(playing, begun, total)
            time.sleep(TICK)
        if heard:
            heard(total)
        return total
    finally:
        playing.stop()


def _since(begun: float) -> int:
    return round((time.monotonic() - begun) * SAMPLE_RATE)


def _stopped(playing: Playing, begun: float, total: int) -> int:
    playing.stop()
    while playing.is_playing():
        time.sleep(TICK / 10)
    return min(total, round(_since(begun) / PERIOD) * PERIOD)
