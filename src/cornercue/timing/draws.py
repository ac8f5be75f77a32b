"""Random calls that are fair and cannot be guessed, and random gaps that do not tell when they end.

**Calls** are drawn with big sticks: each draw is a fair toss, except that what is too far ahead waits. One stick, for
two treatments, is the design of Soares and Wu (1983, "Some restricted randomization rules in sequential designs",
Communications in Statistics 12); for 100 draws it ranks first of the designs that Zhao, Weng, Wu and Palesch compare by
balance and randomness together (2012, Pharmaceutical Statistics 11, 39-48, table IV; authors' names from memory). The
rest of the law is our own:

1. First the side, by a fair coin, whatever the defences are. Calls without a side, such as duck, keep their share.
2. Then the defence, by its weight among those that may come on that side.
3. A defence may have one side ahead by `lead(n)` calls, 4 to 6, and all together by twice that; n counts all calls of
   these defences in the session, whose rounds are drawn as if they were one.
4. A defence may be ahead of the one furthest behind, weights reckoned in, by `room(n)` calls, 3 to 5, for each of its
   sides. Combinations of shadow rounds, which have no side, know this stick only; so do the words of reactions, three
   or more by twice as many calls, since they are there to surprise.
5. The same call comes at most twice in a row; four times where there are only two calls, as with one defence alone.

6. A round of one defence alone whose number of calls is known has no stick: a side waits where the calls that are left
   could no longer bring both within `MOST_APART` of each other, four alike at most.

**Guessing** is measured by the best guesser there can be: he knows this law and has heard every call, so what he gets
right is the mean of the largest probability at each draw. By `tests/optimal_guesser.py`, 1,000 seeds, rounds of 20 and
of 100 calls. "Apart" is the most ever seen, for one defence alone at the end of a round (within it up to 8 and 23);
"to level" are the calls that it takes on average to bring the sides of every defence within one of each other
(`levelling.py`).

    defences    guessed right (%)                         apart (calls)                           to level
                defence      side         both            left-right   all sides    defences      (calls)
    1           -            56.0  55.8   56.0  55.8      2   2        2   2        -             0.8   0.9
    2           57.3  58.9   51.2  51.8   32.6  34.3      4   6        8  12        6  10         2.2   4.5
    3           36.3  38.3   50.6  51.3   19.4  21.2      4   6        8  12        6  10         2.9   6.0
    4           26.4  28.0   50.6  51.3   13.7  15.1      4   6        8  12        6  10         3.2   7.9

What was traded for this stands in docs/partner.md.

Of reactions, in rounds of 20 and of 100 calls, 100 seeds: 58 and 57% of two words, 37 and 38% of three, 27 and 28% of
four, 17 and 18% of six; with weights at most 7 points more than the share of the likeliest, while that is no more than
half of all. (A stick as short as that of shadow rounds: 42% of three, and up to 11 points more.) Since no call comes
thrice in a row, a share of more than two thirds cannot be had of three words.

**Gaps** are exponential above a floor, which makes the hazard constant: having waited tells nothing about how
long it still takes (Luce 1986, Response Times, "non-aging" foreperiods; from memory). The cut at the maximum
brings some ageing back, since a drill cannot wait for ever: with 2.5 s of room the hazard is 1.3 a second at first, 1.5
after half of it, which four gaps of five do not reach, 2.3 after three quarters and certain at the end. A wider cut
would make rounds of few calls; constant is what it is where most calls come.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Generic, TypeVar

from cornercue.technique.sides import SIDES, Side

T = TypeVar("T")

FIRST_LEAD, LAST_LEAD, CALLS_A_LEAD = 4, 6, 24
"""How many calls one side of a defence may be ahead of the other: from the first to the last value, one more in so
many calls of the session."""

FIRST_ROOM, LAST_ROOM, CALLS_A_ROOM = 3, 5, 30
"""How many calls a defence may be ahead of another for each side that it has, over and above its weight: from the
first to the last value, one more in so many calls of the round."""

MOST_APART = 3
"""How many calls left and right may be apart at the end of a round of one defence alone."""

MOST_ALIKE, MOST_ALIKE_OF_TWO = 2, 4
"""How often the same call may come in a row; and where there are only two calls, since there a bar on the third alike
would give one call in three away."""

ROUNDING = 1e-9
"""Shares such as 1/6 do not add up exactly; without this a call that may just come might seem too far ahead."""

MEAN_SHARE = 1 / 3
"""The mean of the exponential as a share of the room between floor and maximum: one gap in twenty would
pass the maximum (e⁻³) and is drawn again, so to speak."""


@dataclass(frozen=True, slots=True)
class Kind(Generic[T]):
    """One kind of call: what it is, its weight against the others, its side of the room, if any, and its defence.

    Kinds of the same defence are its sides; a kind without a defence stands for itself.
    """

    value: T
    weight: float = 1.0
    side: Side | None = None
    defence: str = ""


def lead(n: int) -> int:
    """How far one side of a defence may be ahead of the other after so many calls of the session."""
    return min(LAST_LEAD, FIRST_LEAD + n // CALLS_A_LEAD)


def room(n: int) -> int:
    """How far a defence may be ahead of another after so many draws of a round, for each side that it has."""
    return min(LAST_ROOM, FIRST_ROOM + n // CALLS_A_ROOM)


def made_up(left: int) -> int:
    """How many calls of a lead so many calls can make up: at best four for the side behind and one for the other."""
    return left - 2 * (left // (MOST_ALIKE_OF_TWO + 1))


def is_one_defence(kinds: Sequence[Kind[T]]) -> bool:
    """Whether these are the two sides of one defence and nothing else."""
    return len(kinds) == 2 and kinds[0].defence == kinds[1].defence != "" and {kind.side for kind in kinds} == {*SIDES}


def draws(
    kinds: Sequence[Kind[T]], rng: random.Random, before: Sequence[int] = (), calls: int | None = None, apart: int = 1
) -> Iterator[T]:
    """Values without end; a single kind comes again and again.

    `before` is how often each kind was called in earlier rounds: sides that are ahead wait, as if it were one round.
    `calls` is how many values will be taken, where that is known: by then one defence alone is even (rule 6).
    `apart` is how many times as long the stick of rule 4 is.
    """
    return (kinds[drawn].value for drawn, _ in draws_with_odds(kinds, rng, before, calls, apart))


def draws_with_odds(
    kinds: Sequence[Kind[T]], rng: random.Random, before: Sequence[int] = (), calls: int | None = None, apart: int = 1
) -> Iterator[tuple[int, Sequence[float]]]:
    """As `draws`: which kind is drawn, and the probabilities of all kinds that it is drawn with."""
    table = _table(kinds, apart)
    most_alike = MOST_ALIKE_OF_TWO if len(kinds) == 2 else MOST_ALIKE
    ends = calls if is_one_defence(kinds) else None
    counts, earlier = [0] * len(kinds), (list(before) if ends is None else []) or [0] * len(kinds)
    last, run = -1, 0
    odds_of = cache(lambda may_come: _odds(kinds, table, may_come))  # A few sets of kinds come again and again.
    while True:
        n = sum(counts)
        most = lead(n + sum(earlier)) if ends is None else MOST_APART + made_up(max(0, ends - n - 1))
        odds = odds_of(_may_come(table, counts, earlier, most, last if run >= most_alike else -1))
        drawn = rng.choices(range(len(kinds)), odds)[0]
        counts[drawn] += 1
        last, run = drawn, run + 1 if drawn == last else 1
        yield drawn, odds


@dataclass(frozen=True, slots=True)
class _Table:
    """What is fixed about kinds.

    Of each kind: the number of its defence, what its call adds to the left's lead (nothing where its defence has one
    side only, which would lead for ever), and its share of all calls by weight. Then the share of each defence, and how
    many times `room` one may be ahead of another: the most sides that a defence has, times how far apart they may come.
    """

    defences: tuple[int, ...]
    steps: tuple[int, ...]
    kind_shares: tuple[float, ...]
    shares: tuple[float, ...]
    rooms: int


def _table(kinds: Sequence[Kind[T]], apart: int) -> _Table:
    names: list[object] = [kind.defence or number for number, kind in enumerate(kinds)]
    order = list(dict.fromkeys(names))
    members = [[number for number, name in enumerate(names) if name == one] for one in order]
    both = {one for one, numbers in zip(order, members, strict=True) if {kinds[at].side for at in numbers} >= {*SIDES}}
    step: dict[Side | None, int] = {"left": 1, "right": -1, None: 0}
    whole = sum(kind.weight for kind in kinds)
    return _Table(
        tuple(order.index(name) for name in names),
        tuple(step[kind.side] if name in both else 0 for kind, name in zip(kinds, names, strict=True)),
        tuple(kind.weight / whole for kind in kinds),
        tuple(sum(kinds[at].weight for at in numbers) / whole for numbers in members),
        apart * max(map(len, members)),
    )


def _may_come(table: _Table, counts: Sequence[int], earlier: Sequence[int], most: int, barred: int) -> tuple[int, ...]:
    """The kinds that may be drawn now, where a side of a defence may be ahead by `most` and one kind is barred.

    Where all the rules together leave nothing, the milder ones give way.
    """
    n = sum(counts)
    ahead, leads = [-n * share for share in table.shares], [0] * len(table.shares)
    for defence, step, now, then in zip(table.defences, table.steps, counts, earlier, strict=True):
        ahead[defence] += now
        leads[defence] += step * (now + then)
    furthest = min(ahead) + room(n) * table.rooms - 1 + ROUNDING
    total = sum(leads)
    rules: tuple[Callable[[int], bool], ...] = (
        lambda kind: kind != barred,
        lambda kind: table.steps[kind] * leads[table.defences[kind]] < most,
        lambda kind: ahead[table.defences[kind]] <= furthest,
        lambda kind: table.steps[kind] * total < 2 * most,
    )
    found = [tuple(range(len(counts)))]
    for rule in rules:
        found.append(tuple([kind for kind in found[-1] if rule(kind)]))
    return next(kinds for kinds in reversed(found) if kinds)


def _odds(kinds: Sequence[Kind[T]], table: _Table, may_come: Sequence[int]) -> list[float]:
    """The probability of each kind: of those without a side by weight, of the rest first the side, then by weight."""
    by_side = {side: [at for at in may_come if kinds[at].side == side] for side in (*SIDES, None)}
    sides = [side for side in SIDES if by_side[side]]
    unsided = sum(table.kind_shares[at] for at in by_side[None])
    sided = sum(table.shares[defence] for defence in {table.defences[at] for side in sides for at in by_side[side]})
    odds = [0.0] * len(kinds)
    for side, there in by_side.items():
        mass = unsided if side is None else sided / max(1, len(sides))
        whole = sum(table.kind_shares[at] for at in there)
        for at in there:
            odds[at] = mass / (unsided + sided) * table.kind_shares[at] / whole
    return odds


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
