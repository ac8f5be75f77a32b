"""A timeline that is still being laid out, and phrases still being spoken, while its beginning already plays."""

from __future__ import annotations

from collections.abc import Callable, Generator
from threading import Condition, Event, Thread

from cornercue.sound import SAMPLE_RATE
from cornercue.timing.timeline import Timeline

LOOK = 0.02
"""Seconds between two calls of `idle` while something is waited for."""

HEAD_START = 0.15
"""Seconds that whoever plays has the processor alone, once there is a beginning: the first sound comes sooner."""


def known_frames(beginning: Timeline) -> int:
    """The frames of a beginning that nothing can be added to."""
    return int(beginning.duration * SAMPLE_RATE)


def goes_beyond(frame: int, beginning: Timeline) -> bool:
    """Whether something of what follows a frame is known."""
    return known_frames(beginning) > frame


class GrowingTimeline:
    """Takes ever longer beginnings of a timeline on a thread of its own; the last one is whole."""

    def __init__(self, beginnings: Generator[Timeline, None, None]) -> None:
        self._beginnings = beginnings
        self._latest: Timeline | None = None
        self._over = False
        self.fault: Exception | None = None
        """What the laying-out raised."""
        self._news = Condition()
        self._closed = Event()
        self._thread = Thread(target=self._take, daemon=True)
        self._thread.start()

    def when(
        self, enough: Callable[[Timeline], bool], idle: Callable[[], object] = lambda: None
    ) -> tuple[Timeline, bool]:
        """The latest beginning, as soon as there is `enough` of it or no more to come, and whether it is the whole.

        Calls `idle` many times a second while it waits. Raises what the laying-out raised.
        """
        while True:
            with self._news:
                if self._latest is not None and (self._over or enough(self._latest)):
                    return self._latest, self._over
                if self.fault:
                    raise self.fault
                self._news.wait(LOOK)
            idle()

    def close(self) -> None:
        """Stop laying out; whoever makes the phrases is closed before, so that this does not wait for them."""
        self._closed.set()
        self._thread.join()

    def _take(self) -> None:
        first = True
        try:
            for beginning in self._beginnings:
                with self._news:
                    self._latest = beginning
                    self._news.notify_all()
                self._closed.wait(HEAD_START if first else 0)
                first = False
                if self._closed.is_set():
                    return
            with self._news:
                self._over = True
                self._news.notify_all()
        except Exception as fault:  # whatever it is, the thread that plays explains it
            self.fault = fault
        finally:
            self._beginnings.close()
