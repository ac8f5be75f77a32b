"""Plays through miniaudio: in pip for every system, so it is the one that is used unless another is asked for."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from cornercue.errors import MachineLacks
from cornercue.player.feed import Feed
from cornercue.player.outputs import NO_DEVICE, Heard, nothing_to_play_on
from cornercue.player.quiet import quiet_stderr
from cornercue.track.mix import SAMPLE_RATE, Samples

PERIOD = 50
"""Milliseconds that the device takes at a time."""

TAIL = SAMPLE_RATE * 4 * PERIOD // 1000
"""Frames of silence after the track: more than the three periods that a device buffers by default."""


class MiniaudioOutput:
    """The system's default sound device."""

    name = "miniaudio"

    def lacks(self) -> str | None:
        try:
            _opened(channels=1).close()
        except MachineLacks:
            return NO_DEVICE
        return None

    def play(self, track: Iterable[Samples], channels: int = 1, heard: Heard | None = None) -> None:
        device = _opened(channels)
        feed = Feed(channels, TAIL, heard)
        pieces = feed.pieces()
        next(pieces)
        try:
            device.start(pieces)
            for block in track:
                feed.push(block)
            feed.finish()
        finally:
            feed.abandon()
            device.close()


def _opened(channels: int) -> Any:
    import miniaudio

    # miniaudio would fall back on a device that swallows everything; a person should be told instead.
    real = [backend for backend in miniaudio.Backend if backend is not miniaudio.Backend.NULL]
    try:
        with quiet_stderr():
            return miniaudio.PlaybackDevice(
                miniaudio.SampleFormat.SIGNED16, channels, SAMPLE_RATE, PERIOD,
                backends=real, app_name="Cornercue",
            )
    except miniaudio.MiniaudioError as fault:
        raise nothing_to_play_on([f"miniaudio: {NO_DEVICE}"]) from fault
