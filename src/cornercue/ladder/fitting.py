"""A partner programme that lasts as long as asked: laid out, measured, and laid out again."""

from __future__ import annotations

from collections.abc import Callable

from cornercue.ladder.rounds import LEAST_ROUND, MOST_ROUND, Ladder, Programme, programmes
from cornercue.ladder.script_text import programme_script
from cornercue.script.model import Drill
from cornercue.script.read import parse_drill
from cornercue.timing.timeline import Timeline

Lay = Callable[[Drill], Timeline]
"""Lays a drill out, in a voice or by estimated lengths of speech."""

NEAR = 0.97
"""The share of the time asked for that a programme comes to at least, where its rounds can be made to."""

TRIES = 5

SHORTEST = 8
"""Seconds of a round where not even the poorest programme fits: two calls."""

HALF, HALF_FROM = 0.52, 8.0
"""The share of work that a programme has at least, with a little to spare, from so many minutes on. Own choice."""


def fitted(ladder: Ladder, estimate: Lay, lay: Lay) -> str:
    """The script of the richest programme whose rounds are long enough, as long as asked for by `lay`.

    `estimate` chooses, `lay` (which may have to make a voice speak) has the last word. No programme is longer than
    asked, if there is one that is not.
    """
    asked, found = ladder.minutes * 60, list(programmes(ladder))
    at = next((n for n, programme in enumerate(found) if _has_time(programme, estimate)), len(found) - 1)
    seconds = length_of_rounds(found[at], asked, lay)
    while seconds < found[at].least and at + 1 < len(found):
        at += 1
        seconds = length_of_rounds(found[at], asked, lay)
    while seconds >= MOST_ROUND and at:
        richer = length_of_rounds(found[at - 1], asked, lay)
        if richer < found[at - 1].least:
            break
        at, seconds = at - 1, richer
    return programme_script(found[at], min(MOST_ROUND, max(SHORTEST, seconds)))


def _has_time(programme: Programme, lay: Lay) -> bool:
    """Whether there is time for its rounds, and not too many rests; what time is left goes to work."""
    minutes = programme.ladder.minutes
    line = lay(parse_drill(programme_script(programme, programme.least)))
    left = minutes * 60 - line.duration
    return left >= 0 and line.total("work") + left >= (HALF if minutes >= HALF_FROM else 0.0) * minutes * 60


def length_of_rounds(programme: Programme, asked: float, lay: Lay) -> int:
    """Seconds a round so that it all lasts as long as asked (s) or hardly less; few where it is longer anyway."""
    low, high = 0, MOST_ROUND + 1
    seconds = LEAST_ROUND
    for _ in range(TRIES):
        duration = lay(parse_drill(programme_script(programme, seconds))).duration
        if NEAR * asked <= duration <= asked:
            return seconds
        if duration > asked:
            high = seconds
        else:
            low = seconds
        if high - low <= 1:
            break
        growth = sum(one.share for one in programme.rounds)
        wanted = seconds + round((asked * (1 + NEAR) / 2 - duration) / growth)
        seconds = min(high - 1, max(low + 1, wanted))
    return low
