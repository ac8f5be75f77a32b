"""Between the thread that mixes and the device's thread no frame is lost, put in or moved."""

from __future__ import annotations

from collections.abc import Iterator
from threading import Thread

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cornercue.errors import MachineLacks
from cornercue.player.feed import STALLED, Feed
from cornercue.track.mix import Samples

TAIL = 500


class Device:
    """Asks for frames like a sound device, on a thread of its own; a shorter piece is filled with zeros."""

    def __init__(self, feed: Feed, asks: list[int], channels: int) -> None:
        self.took: list[Samples] = []
        self.thread = Thread(target=self._run, args=(feed, asks, channels), daemon=True)
        self.thread.start()

    def _run(self, feed: Feed, asks: list[int], channels: int) -> None:
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
    feed = Feed(channels, TAIL)
    device = Device(feed, asks, channels)
    for block in cut(track, blocks):
        feed.push(block)
    feed.finish()
    feed.abandon()
    heard = device.heard()
    assert np.array_equal(heard[:length], track)
    assert len(heard) >= length + TAIL
    assert not heard[length:].any()
    assert feed.played == length


def test_it_tells_how_far_the_device_is() -> None:
    told: list[int] = []
    feed = Feed(1, TAIL, told.append)
    device = Device(feed, [100], 1)
    for _ in range(20):
        feed.push(np.ones(250, np.int16))
    feed.finish()
    feed.abandon()
    device.heard()
    assert told == sorted(told)
    assert told[-1] == 5000


def test_a_device_that_takes_nothing_is_reported() -> None:
    looks: list[float] = []

    def clock() -> float:
        looks.append(2.0 * len(looks))
        return looks[-1]

    feed = Feed(1, TAIL, clock=clock)
    with pytest.raises(MachineLacks, match=r"has stopped taking sound; is it still plugged in"):
        feed.finish()
    waiting_since = looks[1]  # The first look belongs to the queueing, which went through.
    assert STALLED < looks[-1] - waiting_since <= STALLED + 2


def test_a_slow_device_is_not_taken_for_a_lost_one() -> None:
    """Twenty looks, two seconds apart by its clock: far longer than the limit, but something moves each time."""
    now = iter(range(0, 10_000, 2))

    def clock() -> float:
        feed.played += 1
        return float(next(now))

    feed = Feed(1, TAIL, clock=clock)
    looks = iter([False] * 20 + [True])
    feed._until(lambda: next(looks))
    assert next(now) > 4 * STALLED


def test_a_device_that_waits_for_a_block_is_let_go() -> None:
    feed = Feed(1, TAIL)
    device = Device(feed, [100], 1)
    feed.push(np.ones(150, np.int16))
    feed.abandon()
    device.thread.join(5)
    assert not device.thread.is_alive()


def test_a_full_queue_can_be_abandoned() -> None:
    feed = Feed(1, TAIL)
    for _ in range(8):
        feed.push(np.ones(10, np.int16))
    feed.abandon()
    feed.abandon()
    device = Device(feed, [100], 1)
    assert not device.heard().any()
