"""The ten-second warning, kept out of the way: it sounds while nobody speaks and no technique is under way.

It comes in the free moment nearest to ten seconds before the end, at most three to either side. Where there is none,
the next call waits for it, up to a second, and with it all that follows. One exchange may last longer than these six
seconds: then it comes right before or after it. Counts keep their rhythm: where they leave no room, there is none.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from cornercue.timing.setting import GAP, Event
from cornercue.timing.timeline import Cue
from cornercue.timing.tones import TONE_SECONDS

AHEAD = 10.0
"""Seconds. Bouts have a signal 10 s before a round begins (IFMA rules, 15.1.3) and before it ends (Washington
Administrative Code 36-12-280); that students at home want the second one is common practice, no source."""

WITHIN = 3.0
"""Seconds by which it may come sooner or later. Own choice."""

FARTHEST = 8.0
"""Seconds by which it may where an exchange is as long as that. Own choice."""

LONGEST_WAIT = 1.0
"""Seconds that a call waits for it at most. Own choice."""

CLEAR = (GAP, GAP / 3)
"""Seconds of silence round it: as round a phrase, or a third of that where there is no more."""


def warned(body: Sequence[Event], start: float, end: float) -> tuple[float | None, list[Event], float]:
    """When the warning sounds in work from `start` to `end`, with the events and the end that make room for it (s)."""
    cues = sorted((event for event in body if isinstance(event, Cue)), key=lambda cue: cue.start)
    nearest = [_nearest(_free(cues, start, end, clear), end) for clear in CLEAR]
    for at in nearest:
        if at is not None and abs(at - (end - AHEAD)) <= WITHIN:
            return at, list(body), end
    for call, at, wait in sorted(_waits(cues, end), key=lambda one: one[2]):
        return at, [_later(event, wait, call.start) for event in body], end + wait
    return nearest[-1], list(body), end


def _nearest(moments: Iterable[float], end: float) -> float | None:
    """The moment nearest to the one wanted, none where all are far from it."""
    near = min(moments, key=lambda at: abs(at - (end - AHEAD)), default=None)
    return near if near is not None and abs(near - (end - AHEAD)) <= FARTHEST else None


def _free(cues: Sequence[Cue], start: float, end: float, clear: float) -> Iterator[float]:
    """Moments at which it fits: in each silence the one nearest to the moment wanted."""
    wanted, length = end - AHEAD, TONE_SECONDS["warning"]
    for since, until in _silences(cues, start, end):
        first, last = since + clear, until - clear - length
        if first <= last:
            yield min(max(wanted, first), last)


def _silences(cues: Iterable[Cue], start: float, end: float) -> Iterator[tuple[float, float]]:
    """From when until when nothing is said and nobody is busy, between `start` and `end`."""
    since = start
    for cue in cues:
        if cue.start > since:
            yield since, cue.start
        since = max(since, cue.end, cue.done or 0.0)
    if end > since:
        yield since, end


def _waits(cues: Sequence[Cue], end: float) -> Iterator[tuple[Cue, float, float]]:
    """Calls before which it would fit if they came a little later: the call, the moment, and by how much it waits."""
    free, clear, length = 0.0, CLEAR[-1], TONE_SECONDS["warning"]
    for before, call in pairwise(cues):
        free = max(free, before.end, before.done or 0.0)
        at = free + clear
        wait = at + length + clear - call.start
        near = abs(at - (end + wait - AHEAD)) <= WITHIN
        if near and call.kind == "call" and free <= call.start and 0 < wait <= LONGEST_WAIT:
            yield call, at, wait


def _later(event: Event, wait: float, since: float) -> Event:
    """The same event so much later, if it is not before `since`."""
    if not isinstance(event, Cue) or event.start < since:
        return event
    beat, due, done = (None if one is None else one + wait for one in (event.beat, event.due, event.done))
    return replace(event, start=event.start + wait, end=event.end + wait, beat=beat, due=due, done=done)
