"""Hands a track from the thread that mixes to the thread of a sound device, frame for frame."""

from __future__ import annotations

import time
from collections.abc import Callable, Generator
from contextlib import suppress
from queue import Empty, Full, Queue
from threading import Event

from cornercue.errors import MachineLacks
from cornercue.player.outputs import TICK, Heard
from cornercue.track.mix import Samples

AHEAD = 8
"""Blocks mixed ahead of the device."""

STALLED = 5.0
"""Seconds after which a device that takes nothing counts as lost."""


class Feed:
    """A short queue of blocks. The device takes `pieces`; the mixing thread calls `push`, then `finish`.

    A block that comes late is waited for: no frame is left out and none put in. `tail` frames of silence follow the
    track, so that a device which drops its buffer when stopped drops nothing that anybody should hear.
    """

    def __init__(
        self, channels: int, tail: int, heard: Heard | None = None, clock: Callable[[], float] = time.monotonic
    ) -> None:
        self.played = 0
        self._frame_bytes = 2 * channels
        self._tail = tail
        self._heard = heard
        self._clock = clock
        self._queue: Queue[bytes | None] = Queue(AHEAD)
        self._ended = Event()
        self._left = Event()

    def pieces(self) -> Generator[bytes, int, None]:
        """Send the frames wanted, get their bytes; fewer at the end of the track, then silence, then it stops."""
        wanted = yield b""
        held = b""
        while (block := self._queue.get()) is not None:
            held += block
            while len(held) >= wanted * self._frame_bytes:
                piece, held = held[: wanted * self._frame_bytes], held[wanted * self._frame_bytes :]
                self.played += wanted
                wanted = yield piece
        self.played += len(held) // self._frame_bytes
        silent = wanted - len(held) // self._frame_bytes
        wanted = yield held
        while silent < self._tail:
            silent += wanted
            wanted = yield b""
        self._ended.set()
        # Nothing is left to give: hold the device until it is stopped, rather than let it ask on and on.
        self._left.wait(STALLED)

    def push(self, block: Samples) -> None:
        """Queue a block, waiting for room."""
        self._put(block.tobytes())

    def finish(self) -> None:
        """Wait until the device has taken everything."""
        self._put(None)
        self._until(lambda: self._ended.wait(TICK))

    def abandon(self) -> None:
        """Let go of a device that may be waiting for a block; safe at any time."""
        with suppress(Empty):
            while True:
                self._queue.get_nowait()
        self._queue.put(None)
        self._left.set()

    def _put(self, data: bytes | None) -> None:
        def queued() -> bool:
            try:
                self._queue.put(data, timeout=TICK)
            except Full:
                return False
            return True

        self._until(queued)

    def _until(self, done: Callable[[], bool]) -> None:
        """Repeat `done`, which takes at most a `TICK`, until it says yes or the device has stalled."""
        moved, taken = self._clock(), self.played
        while not done():
            if self._heard:
                self._heard(self.played)
            if self.played != taken:
                moved, taken = self._clock(), self.played
            elif self._clock() - moved > STALLED:
                raise MachineLacks("The sound device has stopped taking sound; is it still plugged in and switched on?")
        if self._heard:
            self._heard(self.played)
