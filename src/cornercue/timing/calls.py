"""What partner work and shadow rounds share: a stream of calls laid out with random gaps above a floor."""

from __future__ import annotations

import random
from collections import deque
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import repeat
from types import MappingProxyType
from typing import TypeVar

from cornercue.script.amount import ByLevel
from cornercue.script.between import Between
from cornercue.technique.sides import Stance
from cornercue.technique.table import PaceName
from cornercue.timing.draws import gap
from cornercue.timing.faults import TimingFault
from cornercue.timing.pace import MOVE, execution, round_up
from cornercue.timing.setting import Layout, Setting
from cornercue.timing.timeline import Advice

T = TypeVar("T")

ROOM = MappingProxyType({"learning": 3.0, "steady": 2.5, "sharp": 2.0})
"""Seconds that a random gap may be longer than its floor where the script gives no `gap`, by pace; common
practice, no source."""


def room(pace: PaceName | float) -> float:
    """Seconds that a gap may be longer than its floor, where the script does not say."""
    return ROOM[pace] if isinstance(pace, str) else max(2.0, 2 * pace)


def doing(between: Between | None, then: float | None, pace: PaceName | float, movement: float) -> float:
    """Seconds to do what is said between, once it is said; `then` is how long the script gives for it.

    `movement` is how many times as long a movement takes the person as an adult.
    """
    if then is not None or between is None:
        return then or 0.0
    return max(MOVE, execution(between.moves, pace) + between.seconds) * movement


def length_in_words(setting: Setting, seconds: ByLevel[float] | None, reps: ByLevel[int] | None) -> str:
    """How long a round is, or how many calls it has."""
    if seconds:
        return setting.book.time(seconds.at(setting.level))
    return setting.book.calls(reps.at(setting.level) if reps else 0)


def words_between(setting: Setting, between: Between | None, stance: Stance) -> str | None:
    """What is said between, in this stance."""
    return setting.sided(between.text, stance) if between else None


def recovery(setting: Setting, words: str | None, then: float, rate: float = 1.0) -> float:
    """Seconds from the last technique until the next call may come: back on guard, and what is said between done."""
    return max(setting.to_guard, (setting.seconds(words, rate) if words else 0.0) + then)


def check_room(setting: Setting, asked: tuple[float, float] | None, floor: float, text: str) -> None:
    """Raises `TimingFault` where the longest gap asked for is shorter than the longest floor."""
    if asked and asked[1] < floor - 1e-9:
        enough = round_up(floor, 0.1)
        raise TimingFault(
            setting.line,
            f"a gap of at most {asked[1]:g} s is too short for «{text}»: call, reaction, moves and the way back to "
            f"guard take {floor:.1f} s; ask for `gap: [{asked[0]:g} s, {round_up(enough + 1, 0.5):g} s]`, "
            f"with {enough:g} s as the least maximum",
        )


@dataclass(frozen=True, slots=True)
class Allotment:
    """The room that calls have: from `ready` on until `end` (no call whose floor would pass it), or `count` of them.

    The first `least` come even where they pass `end`, which is then the end of the last of them. `asked` is the least
    and the most gap that the script asks for. Times in seconds.
    """

    ready: float
    end: float | None
    count: int | None
    asked: tuple[float, float] | None = None
    least: int = 0


def lay_calls(
    setting: Setting,
    calls: Iterator[T],
    allotment: Allotment,
    rng: random.Random,
    *,
    floor_of: Callable[[T], float],
    cues_of: Callable[[T, float, int], Layout],
) -> Layout:
    """Lays calls out in an allotment: each waits for the floor of the one before, the gaps are drawn above it.

    Returns the end.
    """
    ready, end, asked = allotment.ready, allotment.end, allotment.asked
    at = soonest = ready
    rep = 0
    while allotment.count is None or rep < allotment.count:
        call = next(calls)
        floor = floor_of(call)
        if end is not None and rep >= allotment.least and at + floor > end:
            # A last call that would come too late comes sooner, where there is room: no long silence at the end.
            if end - floor < soonest:
                if not rep:
                    yield _no_time(setting, at + floor - end)
                break
            at = end - floor
        rep += 1
        yield from cues_of(call, at, rep)
        soonest = at + (max(asked[0], floor) if asked else floor)
        most = max(soonest, at + asked[1]) if asked else soonest + room(setting.pace)
        ready, at = at + floor, gap(soonest, most, rng)
    if end is None:
        return ready
    return max(ready, end) if rep else end


def calls_in(setting: Setting, allotment: Allotment, rng: random.Random, floor: float) -> int:
    """How many calls `lay_calls` lays out in an allotment where all have the same floor."""
    starts: list[float] = []

    def noted(call: None, at: float, rep: int) -> Layout:
        starts.append(at)
        yield from ()
        return at

    deque(lay_calls(setting, repeat(None), allotment, rng, floor_of=lambda call: floor, cues_of=noted), maxlen=0)
    return len(starts)


def _no_time(setting: Setting, missing: float) -> Advice:
    more = round_up(missing, 0.1)
    return Advice(setting.line, "there is no time for a single call here", f"make `for` at least {more:g} s longer")


def stream(setting: Setting, *parts: object) -> random.Random:
    """The random numbers of one step: the same for the same seed, other ones for every step, round and stance."""
    return random.Random(f"{setting.request.seed}/{setting.place}/{'/'.join(map(str, parts))}")
