"""Between the thread that mixes and the device's thread no frame is lost, put in or moved."""

from __future__ import annotations

from collections.abc import Iterator
from threading import Thread

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cornercue.errors import MachineLacks
from cornercue.player.device_feed import AHEAD, STALLED, DeviceFeed
from cornercue.sound import SAMPLE_RATE, Samples

TAIL = 500


class Device:
    """Asks for frames like a sound device, on a thread of its own; a shorter piece is filled with zeros."""

    def __init__(self, feed: DeviceFeed, asks: list[int], channels: int) -> None:
        self.took: list[Samples] = []
        self.thread = Thread(target=self._run, args=(feed, asks, channels), daemon=True)
        self.thread.start()

    def _run(self, feed: DeviceFeed, asks: list[int], channels: int) -> None:
        pieces = feed.pieces()
        next(pieces)
        turn = 0
        while True:
            frames = asks[turn % len(asks)]
            try:
                data = pieces.send(frames)
            except StopIteration:
                return
            got = np.zeros((frames, channels), np.int16)
            piece = np.frombuffer(data, np.int16).reshape(-1, channels)
            got[: len(piece)] = piece
            self.took.append(got)
            turn += 1

    def heard(self) -> Samples:
        self.thread.join(5)
        assert not self.thread.is_alive()
        return np.concatenate(self.took)


def cut(track: Samples, sizes: list[int]) -> Iterator[Samples]:
    at = turn = 0
    while at < len(track):
        size = sizes[turn % len(sizes)]
        yield track[at : at + size]
        at, turn = at + size, turn + 1


sizes = st.lists(st.integers(1, 700), min_size=1, max_size=5)


@settings(deadline=None, max_examples=60)
@given(st.integers(0, 3000), sizes, sizes, st.sampled_from([1, 2]))
def test_what_goes_in_comes_out_then_silence(length: int, blocks: list[int], asks: list[int], channels: int) -> None:
    track = np.arange(1, length * channels + 1, dtype=np.int16).reshape(length, channels)
    feed = DeviceFeed(channels, TAIL)
    device = Device(feed, asks, channels)
    feed.run(cut(track, blocks))
    feed.abandon()
    heard = device.heard()
    assert np.array_equal(heard[:length], track)
    assert len(heard) >= length + TAIL
    assert not heard[length:].any()
    assert feed.taken == length


@settings(deadline=None, max_examples=60)
@given(st.integers(500, 3000), sizes, sizes, st.integers(0, 20))
def test_stopped_it_has_given_a_beginning_then_silence(
    length: int, blocks: list[int], asks: list[int], looks: int
) -> None:
    track = np.arange(1, length + 1, dtype=np.int16).reshape(-1, 1)
    looked = iter([False] * looks + [True] * 2)
    feed = DeviceFeed(1, TAIL, lambda frames: next(looked, True))
    device = Device(feed, asks, 1)
    feed.run(cut(track, blocks))
    feed.abandon()
    heard = device.heard()
    assert np.array_equal(heard[: feed.taken], track[: feed.taken])
    assert not heard[feed.taken :].any()
    assert len(heard) >= feed.taken + TAIL


def test_it_tells_how_far_the_device_is() -> None:
    told: list[int] = []
    feed = DeviceFeed(1, TAIL, told.append)
    device = Device(feed, [100], 1)
    feed.run([np.ones(250, np.int16)] * 20)
    feed.abandon()
    device.heard()
    assert told == sorted(told)
    assert told[-1] == 5000


@pytest.mark.parametrize("speed", [0.999, 1.0, 1.001])
def test_half_an_hour_on_a_clock_that_is_off_by_a_thousandth(speed: float) -> None:
    """A device of three periods of 50 ms whose clock runs fast or slow: what is heard is known to 10 ms throughout.

    The limit that matters is 50 ms; without following the device, 0.1% would be 1.8 s by the end.
    """
    now, period = [500.0], SAMPLE_RATE // 20
    feed = DeviceFeed(1, 4 * period, clock=lambda: now[0], buffered=3 * period)
    pieces = feed.pieces()
    next(pieces)
    rate, given, begun, worst = SAMPLE_RATE * speed, 0, now[0], 0.0
    silence = np.zeros(period, np.int16).tobytes()
    for _ in range(30 * 60 * 20):
        # It asks as soon as a period of its buffer has come out.
        now[0] = max(begun + (given - 2 * period) / rate, begun)
        feed._queue.put(silence)
        pieces.send(period)
        given += period
        for later in (0.0, 0.017, 0.049) if given >= 3 * period else ():  # Its buffer fills in no time.
            now[0] += later
            truly = min(max((now[0] - begun) * rate, 0), given)
            worst = max(worst, abs(feed.heard() - truly) / SAMPLE_RATE)
            now[0] -= later
    assert feed.taken == given > 1799 * SAMPLE_RATE
    assert worst < 0.010


def test_a_device_that_takes_nothing_is_reported() -> None:
    looks: list[float] = []

    def clock() -> float:
        looks.append(0.5 * len(looks))
        return looks[-1]

    feed = DeviceFeed(1, TAIL, clock=clock)
    with pytest.raises(MachineLacks, match=r"has stopped taking sound; is it still plugged in"):
        feed.run([])
    assert STALLED < looks[-1] - looks[0] <= STALLED + 3


def test_a_slow_device_is_not_taken_for_a_lost_one() -> None:
    """Twenty looks, two seconds apart by its clock: far longer than the limit, but something moves each time."""
    now = iter(range(0, 10_000, 2))
    feed = DeviceFeed(1, TAIL, clock=lambda: float(next(now)))
    looks = iter([False] * 20 + [True])

    def done() -> bool:
        feed._ask(1)
        return next(looks)

    assert feed._until(done)
    assert next(now) > 4 * STALLED


def test_a_device_that_waits_for_a_block_is_let_go() -> None:
    feed = DeviceFeed(1, TAIL)
    device = Device(feed, [100], 1)
    feed._put(np.ones(150, np.int16).tobytes())
    feed.abandon()
    device.thread.join(5)
    assert not device.thread.is_alive()


def test_a_full_queue_can_be_abandoned() -> None:
    feed = DeviceFeed(1, TAIL)
    for _ in range(AHEAD):
        feed._put(np.ones(10, np.int16).tobytes())
    feed.abandon()
    feed.abandon()
    device = Device(feed, [100], 1)
    assert not device.heard().any()
