"""Plays nothing, in real time: for following a drill on the screen alone."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable

from cornercue.player.outputs import TICK, Heard
from cornercue.sound import SAMPLE_RATE, Samples


class SilentOutput:
    """Takes a track as fast as a loudspeaker would."""

    name = "silent"
    premixed = False

    def __init__(
        self, clock: Callable[[], float] = time.monotonic, sleep: Callable[[float], None] = time.sleep
    ) -> None:
        self._clock = clock
        self._sleep = sleep

    def lacks(self) -> str | None:
        return None

    def play(self, track: Iterable[Samples], channels: int = 1, heard: Heard | None = None) -> int:
        begun, frames = self._clock(), 0
        for block in track:
            frames += len(block)
            # Every block has its own deadline from the beginning, so that late sleeps never add up.
            due = begun + frames / SAMPLE_RATE
            while (left := due - self._clock()) > 0:
                self._sleep(min(left, TICK))
                out = min(frames, round((self._clock() - begun) * SAMPLE_RATE))
                if heard and heard(out) is True:
                    return out
        return frames
