"""Hands a track from the thread that mixes to the thread of a sound device, frame for frame."""

from __future__ import annotations

import time
from collections.abc import Callable, Generator, Iterable
from contextlib import suppress
from queue import Empty, Full, Queue
from threading import Event

from cornercue.errors import MachineLacks
from cornercue.player.outputs import TICK, Heard
from cornercue.sound import SAMPLE_RATE, Samples

AHEAD = 4
"""Blocks mixed ahead of the device: enough for a busy machine, few enough for a change of loudness to be heard."""

STALLED = 2.0
"""Seconds after which a device that takes nothing counts as lost."""


class DeviceFeed:
    """A short queue of blocks. The device takes `pieces`; the mixing thread calls `run`.

    A block that comes late is waited for: no frame is left out and none put in. `tail` frames of silence follow the
    track, also where it is stopped, so that a device which drops its buffer when closed drops nothing that anybody
    should hear. `buffered` is how many frames the device holds when its buffer is full.
    """

    def __init__(
        self,
        channels: int,
        tail: int,
        heard: Heard | None = None,
        clock: Callable[[], float] = time.monotonic,
        buffered: int = 0,
    ) -> None:
        self.taken = 0
        self._frame_bytes = 2 * channels
        self._tail = tail
        self._buffered = buffered
        self._heard = heard
        self._clock = clock
        self._given = 0
        self._asked = 0
        self._mark = (-buffered, clock())
        self._queue: Queue[bytes | None] = Queue(AHEAD)
        self._halted = Event()
        self._ended = Event()
        self._left = Event()

    def pieces(self) -> Generator[bytes, int, None]:
        """Send the frames wanted, get their bytes; fewer at the end of the track, then silence, then it stops."""
        wanted = self._ask((yield b""))
        held = b""
        while (block := self._queue.get()) is not None:
            held += block
            while len(held) >= wanted * self._frame_bytes and not self._halted.is_set():
                piece, held = held[: wanted * self._frame_bytes], held[wanted * self._frame_bytes :]
                self.taken += wanted
                wanted = self._ask((yield piece))
        held = b"" if self._halted.is_set() else held
        self.taken += len(held) // self._frame_bytes
        silent = wanted - len(held) // self._frame_bytes
        wanted = self._ask((yield held))
        while silent < self._tail:
            silent += wanted
            wanted = self._ask((yield b""))
        self._ended.set()
        # Nothing is left to give: hold the device until it is stopped, rather than let it ask on and on.
        self._left.wait(STALLED)

    def _ask(self, wanted: int) -> int:
        """The device has room for `wanted` frames, so all that it took before has come out but for the rest of it."""
        self._mark = (self._asked - (self._buffered - wanted), self._clock())
        self._asked += wanted
        return wanted

    def heard(self) -> int:
        """Frames of the track that have come out by now: counted from what the device took, never by the clock alone.

        The clock bridges only the time since the device last asked; what it has not taken was not heard.
        """
        frames, at = self._mark
        return max(0, min(self.taken, frames + round((self._clock() - at) * SAMPLE_RATE)))

    def run(self, track: Iterable[Samples]) -> None:
        """Give the device the whole track and wait for its end, or until `heard` answers True and silence follows.

        Raises `MachineLacks` for a device that stops taking sound.
        """
        if all(self._put(block.tobytes()) for block in track) and self._put(None) and self._until(self._at_end):
            return
        self._halted.set()
        self._let_go()
        self._heard = None
        self._until(self._at_end)

    def _at_end(self) -> bool:
        return self._ended.wait(TICK)

    def abandon(self) -> None:
        """Let go of a device that may be waiting for a block; safe at any time."""
        self._halted.set()
        self._let_go()
        self._left.set()

    def _let_go(self) -> None:
        with suppress(Empty):
            while True:
                self._queue.get_nowait()
        self._queue.put(None)

    def _put(self, data: bytes | None) -> bool:
        def queued() -> bool:
            try:
                self._queue.put(data, timeout=TICK)
            except Full:
                return False
            return True

        if self._given < AHEAD:  # The device has something to play before anybody looks.
            self._given += 1
            self._queue.put_nowait(data)
            return True
        return self._until(queued)

    def _until(self, done: Callable[[], bool]) -> bool:
        """Repeat `done`, which takes at most a `TICK`, until it says yes; False where `heard` has had enough before.

        Raises `MachineLacks` where the device takes nothing for too long.
        """
        moved, asked = self._clock(), self._asked
        while not done():
            if self._enough():
                return False
            if self._asked != asked:
                moved, asked = self._clock(), self._asked
            elif self._clock() - moved > STALLED:
                raise MachineLacks("The sound device has stopped taking sound; is it still plugged in and switched on?")
        return not self._enough()

    def _enough(self) -> bool:
        return bool(self._heard and self._heard(self.heard()) is True)
