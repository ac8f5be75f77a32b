"""Random calls that are fair and cannot be guessed, and random gaps that do not tell when they end.

**Calls** are drawn by the big stick design of Soares and Wu (1983, "Some restricted randomization rules in
sequential designs", Communications in Statistics 12), carried over from two treatments to many: every draw is
a plain toss of weighted dice, except that a call that is ahead of the one furthest behind by `spread(n)`
waits, and so does a side that is ahead by `SIDES_MORE` more than that. Nothing else bends the odds, so there is little
to learn. No call comes more than twice in a row.

For two treatments and 100 draws it ranks first of the designs that Zhao, Weng, Wu and Palesch compare by balance and
randomness together (2012, Pharmaceutical Statistics 11, 39-48, table IV; authors' names from memory).

The trade-off, measured with six kinds of call over 200 seeds of 120 calls, chance being 16.7% (the guessers stand
in tests/test_timing_draws.py): the best of all contexts of up to four earlier calls, by one who has heard all the
sessions before, is right 17.4% of the time (a shuffled bag: 29.5%), and betting on the call heard least so far
21.3% (a shuffled bag: 40.9%; the block urn of Zhao and Weng (2011) with five balls a kind: 24.6%). Counts lay from
16 to 23 where 20 is the share, left calls from 56 to 64 of 120. The bar on a third alike is the rest of the price:
of all calls 12% repeat the one before.

**Gaps** are exponential above a floor, which makes the hazard constant: having waited tells nothing about how
long it still takes (Luce 1986, Response Times, "non-aging" foreperiods; from memory). The cut at the maximum
brings some ageing back near it, since a drill cannot wait for ever.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import count
from typing import Generic, TypeVar

from cornercue.technique.sides import Side

T = TypeVar("T")

FIRST_SPREAD, LAST_SPREAD, CALLS_A_STEP = 2.0, 5.0, 30
"""How many calls one kind may be ahead of another, over and above its weight: from the first to the last
value, one more in so many calls. Short rounds are kept fair, and long ones unguessable."""

SIDES_MORE = 3
"""How many calls one side may be ahead of the other, over and above `spread(n)`. With 1 more, one session in eight
has more changes of side than 95 in 100 sessions of pure chance (Wald-Wolfowitz runs test); with 3 it is one in
fourteen, where chance itself is one in twenty."""

MOST_ALIKE = 2
"""How often the same call may come in a row."""

ROUNDING = 1e-9
"""Shares such as 1/6 do not add up exactly; without this a lead of 5 might count as less than 5."""

MEAN_SHARE = 1 / 3
"""The mean of the exponential as a share of the room between floor and maximum: one gap in twenty would
pass the maximum (e⁻³) and is drawn again, so to speak."""


@dataclass(frozen=True, slots=True)
class Kind(Generic[T]):
    """One kind of call: what it is, its weight against the others and its side of the room, if any."""

    value: T
    weight: float = 1.0
    side: Side | None = None


def draws(kinds: Sequence[Kind[T]], rng: random.Random) -> Iterator[T]:
    """Values without end, by the big stick design; a single kind comes again and again."""
    share = [kind.weight / sum(kind.weight for kind in kinds) for kind in kinds]
    steps = _side_steps(kinds)
    ahead = [0.0] * len(kinds)
    balance, last, run = 0, -1, 0
    for n in count():
        barred = last if run >= MOST_ALIKE else -1
        drawn = rng.choices(range(len(kinds)), _odds(kinds, ahead, spread(n), balance, barred))[0]
        ahead = [lead - part for lead, part in zip(ahead, share, strict=True)]
        ahead[drawn] += 1
        balance += steps[kinds[drawn].side]
        last, run = drawn, run + 1 if drawn == last else 1
        yield kinds[drawn].value


def _side_steps(kinds: Sequence[Kind[T]]) -> dict[Side | None, int]:
    """What a call adds to the left's lead; nothing where there is only one side, which would lead for ever."""
    both = {"left", "right"} <= {kind.side for kind in kinds}
    return {"left": int(both), "right": -int(both), None: 0}


def spread(n: int) -> float:
    """How far one kind may be ahead of another after so many draws."""
    return min(LAST_SPREAD, FIRST_SPREAD + n / CALLS_A_STEP)


def _odds(kinds: Sequence[Kind[T]], ahead: Sequence[float], most: float, balance: int, barred: int) -> list[float]:
    """The weights of the next draw. Where all the rules together leave nothing, the milder ones give way."""
    behind = min(ahead)
    heavy: Side | None = None
    if abs(balance) >= most + SIDES_MORE:
        heavy = "left" if balance > 0 else "right"
    rules: tuple[Callable[[int], bool], ...] = (
        lambda index: index != barred,
        lambda index: ahead[index] - behind < most - ROUNDING,
        lambda index: kinds[index].side != heavy or heavy is None,
    )
    for kept in (3, 2, 1, 0):
        odds = [kind.weight if all(rule(at) for rule in rules[:kept]) else 0.0 for at, kind in enumerate(kinds)]
        if any(odds):
            return odds
    raise ValueError("there is nothing to draw from")


def in_turn(kinds: Sequence[Kind[T]]) -> Iterator[T]:
    """Values without end, in order, around and around."""
    while True:
        yield from (kind.value for kind in kinds)


def gap(least: float, most: float, rng: random.Random) -> float:
    """Seconds from `least` to `most`, exponential above `least` and cut at `most`.

    By inversion of the truncated exponential's distribution, F(x) = (1 - e^(-x/m)) / (1 - e^(-room/m)).
    """
    room = max(0.0, most - least)
    mean = room * MEAN_SHARE
    return least - mean * math.log1p(-rng.random() * -math.expm1(-1 / MEAN_SHARE)) if room else least
