"""What a partner programme for a parent without a script is made of: from one defence to all of them, with answers.

Lengths, levels and the order are common practice, no source, unless a source is named.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from cornercue.ages import Ages
from cornercue.technique.sides import Stance
from cornercue.technique.table import PaceName
from cornercue.timing.pace import pace_for

LEAST_ROUND, USUAL_ROUND, LONG_ROUND, MOST_ROUND = 20, 45, 60, 90
"""Seconds of one round; rounds come again only where each has the usual length, or in a long session
the long one. A round of USA Boxing for children of 8
to 10 lasts a minute (rule book, secondary copy)."""

FULL_CAUTIONS_FROM = 6.0
"""Minutes from which the cautions are said in full; shorter sessions have the short ones."""

WARM = 60
"""Seconds of warm-up without which nothing is done at a sharp pace."""

LONG_FROM = 20.0
"""Minutes from which a programme has a whole warm-up (3 min) and cool-down (2 min)."""


@dataclass(frozen=True, slots=True)
class Ladder:
    """What the parent may choose; everything has a default. `minutes` is how long the whole programme lasts."""

    defences: tuple[str, ...] = ("parry", "cover", "weave")
    minutes: float = 10.0
    level: int = 1
    stance: Stance = "orthodox"
    pace: PaceName | float | None = None
    answers: tuple[str, ...] = ("jab, cross", "jab, cross, lead hook")
    listener: Literal["student", "feeder"] = "student"
    junior: bool = True
    ages: Ages | None = None
    brief: bool = False
    swap: bool = False


@dataclass(frozen=True, slots=True)
class Round:
    """One stretch of calls. `share` is its length as a share of a usual round's."""

    defences: tuple[str, ...]
    order: Literal["alternate", "random", "even"] = "random"
    answers: tuple[str, ...] = ()
    teach: bool = False
    share: float = 1.0


@dataclass(frozen=True, slots=True)
class Programme:
    """A warm-up, rounds and a cool-down; `later` is what there is no time for today.

    `least` is how long its rounds must be at least for it to be worth doing. Lengths in seconds.
    """

    ladder: Ladder
    rounds: tuple[Round, ...]
    later: tuple[str, ...] = ()
    least: int = LEAST_ROUND

    @property
    def warm_up(self) -> int:
        return _by_length(self.ladder.minutes, 16, WARM, 180)

    @property
    def cool_down(self) -> int:
        return _by_length(self.ladder.minutes, 12, 40, 120)

    @property
    def pace(self) -> PaceName | float:
        """What was asked for, else what suits the level; never sharp after a short warm-up."""
        if self.ladder.pace:
            return self.ladder.pace
        pace = pace_for(self.ladder.level)
        return "steady" if pace == "sharp" and self.warm_up < WARM else pace


def _by_length(minutes: float, least: int, usual: int, whole: int) -> int:
    """Seconds that grow from 3 to 8 minutes; a long programme has the whole."""
    if minutes >= LONG_FROM:
        return whole
    return round(least + (usual - least) * min(1.0, (minutes - 3) / 5))


def programmes(ladder: Ladder) -> Iterator[Programme]:
    """The sessions that there might be time for, the richest first: fewer and fewer rounds."""
    everything = _brief(ladder) if ladder.brief else _whole(ladder)
    *opening, last = everything
    again = everything[-1 - (2 if ladder.answers else 1) : -1]
    least = LONG_ROUND if ladder.minutes >= LONG_FROM else USUAL_ROUND
    most = ladder.minutes * 60 / least / len(_swapped(ladder, again))
    for more in range(int(most), 0, -1):
        yield Programme(ladder, _swapped(ladder, (*opening, *(again * more), last)), least=least)
    yield Programme(ladder, _swapped(ladder, everything))
    if ladder.answers:
        without = tuple(one for one in everything if not one.answers)
        yield Programme(ladder, _swapped(ladder, without))
    if ladder.brief:
        yield Programme(ladder, _swapped(ladder, everything[:1]))
        return
    for count in range(len(ladder.defences) - 1, 0, -1):
        known, later = ladder.defences[:count], ladder.defences[count:]
        taught = tuple(Round((one,), "alternate", teach=True) for one in known)
        if count > 1:
            yield Programme(ladder, _swapped(ladder, (*taught, Round(known, "even"))), later)
        yield Programme(ladder, _swapped(ladder, taught), later)
    first = Round(ladder.defences[:1], "alternate", teach=True)
    yield Programme(ladder, _swapped(ladder, (first,)), ladder.defences[1:])


def _whole(ladder: Ladder) -> tuple[Round, ...]:
    """Each defence taught, then called left and right in turn; all mixed; with answers; and levelled out in turn."""
    taught = tuple(Round((one,), "alternate", teach=True) for one in ladder.defences)
    return (*taught, *_mixed(ladder), Round(ladder.defences, "even", share=0.5))


def _brief(ladder: Ladder) -> tuple[Round, ...]:
    """For people who know it: everything from the first round on; in turn first while it is still new."""
    first = (Round(ladder.defences, "alternate"),) if ladder.level < 3 else ()
    return (*first, *_mixed(ladder), Round(ladder.defences, "even", share=0.5))


def _mixed(ladder: Ladder) -> tuple[Round, ...]:
    answered = (Round(ladder.defences, answers=ladder.answers),) if ladder.answers else ()
    return (Round(ladder.defences), *answered)


def _swapped(ladder: Ladder, rounds: tuple[Round, ...]) -> tuple[Round, ...]:
    """Every round twice, once for each of two children, where they take turns; in turn, the second evens the sides."""
    if not ladder.swap:
        return rounds
    again = (replace(one, order="even") if one.order == "alternate" else one for one in rounds)
    return tuple(one for pair in zip(rounds, again, strict=True) for one in pair)
