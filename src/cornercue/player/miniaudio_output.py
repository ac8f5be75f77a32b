"""Plays through miniaudio: in pip for every system, so it is the one that is used unless another is asked for."""

from __future__ import annotations

from collections.abc import Generator, Iterable
from threading import Thread
from typing import TYPE_CHECKING

from cornercue.errors import MachineLacks
from cornercue.player.device_feed import DeviceFeed
from cornercue.player.outputs import NO_DEVICE, Heard, nothing_to_play_on
from cornercue.quiet_libraries import quiet_stderr
from cornercue.sound import SAMPLE_RATE, Samples

if TYPE_CHECKING:
    from miniaudio import PlaybackDevice

PERIOD = 50
"""Milliseconds that the device takes at a time."""

BUFFERED = SAMPLE_RATE * 3 * PERIOD // 1000
"""Frames that a device holds: three periods, miniaudio's default."""

TAIL = BUFFERED + SAMPLE_RATE * PERIOD // 1000
"""Frames of silence after the track: more than the device holds."""

PATIENCE = 1.0
"""Seconds that a device may take to close."""


class MiniaudioOutput:
    """The system's default sound device."""

    name = "miniaudio"
    premixed = False

    def lacks(self) -> str | None:
        try:
            _opened(channels=1).close()
        except MachineLacks:
            return NO_DEVICE
        return None

    def play(self, track: Iterable[Samples], channels: int = 1, heard: Heard | None = None) -> int:
        device = _opened(channels)
        feed = DeviceFeed(channels, TAIL, heard, buffered=BUFFERED)
        pieces = feed.pieces()
        next(pieces)
        try:
            _start(device, pieces)
            feed.run(track)
        finally:
            feed.abandon()
            _close(device)
        return feed.taken


def _opened(channels: int) -> PlaybackDevice:
    import miniaudio

    # miniaudio would fall back on a device that swallows everything; a person should be told instead.
    real = [backend for backend in miniaudio.Backend if backend is not miniaudio.Backend.NULL]
    try:
        with quiet_stderr():
            return miniaudio.PlaybackDevice(
                miniaudio.SampleFormat.SIGNED16,
                channels,
                SAMPLE_RATE,
                PERIOD,
                backends=real,
                app_name="Cornercue",
            )
    except miniaudio.MiniaudioError as fault:
        raise nothing_to_play_on([f"miniaudio: {NO_DEVICE}"]) from fault


def _start(device: PlaybackDevice, pieces: Generator[bytes, int, None]) -> None:
    import miniaudio

    try:
        device.start(pieces)
    except miniaudio.MiniaudioError as fault:
        raise nothing_to_play_on(["miniaudio: its sound device does not start"]) from fault


def _close(device: PlaybackDevice) -> None:
    """Close the device. One that hangs is left behind: a person who waits for it could only switch off."""
    closing = Thread(target=device.close, daemon=True)
    closing.start()
    closing.join(PATIENCE)
