"""The best guesser there can be, who knows the rule of the draws and has heard every call so far.

He bets on what is most likely, so that the share he gets right is the mean of the largest probability at each draw:
exact for a session, and averaged over seeds. `PYTHONPATH=src python tests/optimal_guesser.py` prints the figures that
stand in `cornercue/timing/draws.py`, in some minutes.
"""

from __future__ import annotations

import random
import sys
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import islice

from cornercue.technique.sides import SIDES
from cornercue.timing.draws import Kind, draws_with_odds

Drawn = Iterator[tuple[int, Sequence[float]]]
Law = Callable[[Sequence[Kind[str]], random.Random, Sequence[int], int], Drawn]
DEFENCES = ("parry", "cover", "weave", "slip", "low block", "high block")


def sided(count: int) -> list[Kind[str]]:
    """So many defences, each to the left and to the right."""
    return [Kind(f"{name} {side}", 1 / 2, side, name) for name in DEFENCES[:count] for side in SIDES]


def unsided(count: int) -> list[Kind[str]]:
    """So many calls without a side, as in a shadow round."""
    return [Kind(name, defence=name) for name in DEFENCES[:count]]


@dataclass
class Figures:
    """What the guesser gets right on average (shares), and the most that anything was ever apart (calls).

    `sides_apart_at_end` is only looked at when a round is over; `to_level` when the session is.
    """

    defence: float = 0.0
    side: float = 0.0
    both: float = 0.0
    sides_apart: int = 0
    sides_apart_at_end: int = 0
    all_sides_apart: int = 0
    defences_apart: int = 0
    to_level: float = 0.0
    alike: int = 0


def figures(kinds: Sequence[Kind[str]], calls: int, seeds: int, law: Law = draws_with_odds, rounds: int = 1) -> Figures:
    """The figures of sessions of so many rounds of so many calls each, one session for each seed."""
    found = Figures()
    every = calls * rounds * seeds
    for seed in range(seeds):
        rng, called = random.Random(seed), list[int]()
        for _ in range(rounds):
            before = [called.count(number) for number in range(len(kinds))]
            for number, odds in islice(law(kinds, rng, before, calls), calls):
                called.append(number)
                found.defence += _largest([kind.defence for kind in kinds], odds) / every
                found.side += _largest([kind.side for kind in kinds], odds) / every
                found.both += max(odds) / every
            _at_end(found, [kinds[number] for number in called[-calls:]])
        _apart(found, [kinds[number] for number in called], kinds, seeds)
    return found


def _largest(names: Sequence[str | None], odds: Sequence[float]) -> float:
    """The probability of the likeliest name, kinds of the same name taken together."""
    sums = dict.fromkeys(names, 0.0)
    for name, chance in zip(names, odds, strict=True):
        sums[name] += chance
    return max(sums.values())


def _at_end(found: Figures, called: Sequence[Kind[str]]) -> None:
    for defence in {kind.defence for kind in called}:
        sides = [kind.side for kind in called if kind.defence == defence]
        found.sides_apart_at_end = max(found.sides_apart_at_end, abs(sides.count("left") - sides.count("right")))


def _apart(found: Figures, called: Sequence[Kind[str]], kinds: Sequence[Kind[str]], seeds: int) -> None:
    leads = dict.fromkeys((kind.defence for kind in kinds), 0)
    counts = dict.fromkeys(leads, 0)
    run = 0
    for before, kind in zip([None, *called], called, strict=False):
        leads[kind.defence] += {"left": 1, "right": -1, None: 0}[kind.side]
        counts[kind.defence] += 1
        run = run + 1 if kind == before else 1
        found.alike = max(found.alike, run)
        found.sides_apart = max(found.sides_apart, abs(leads[kind.defence]))
        found.all_sides_apart = max(found.all_sides_apart, abs(sum(leads.values())))
        found.defences_apart = max(found.defences_apart, max(counts.values()) - min(counts.values()))
    found.to_level += sum(max(0, abs(lead) - 1) for lead in leads.values()) / seeds


def former(kinds: Sequence[Kind[str]], rng: random.Random, before: Sequence[int], calls: int) -> Drawn:
    """The law that this one replaced: a stick of 2 + n/30 (at most 5) on each kind, of 3 more on all sides together.

    Every round began afresh, and nothing kept the sides of one defence together.
    """
    counts, last, run, n = [0] * len(kinds), -1, 0, 0
    step = {"left": 1, "right": -1, None: 0}
    while True:
        most = min(5.0, 2 + n / 30) - 1e-9
        balance = sum(times * step[kind.side] for times, kind in zip(counts, kinds, strict=True))
        odds = [1.0] * len(kinds)
        if run >= 2:
            odds[last] = 0.0
        odds = _kept(odds, [times - min(counts) < most for times in counts])
        odds = _kept(odds, [abs(balance) < most + 3 or step[kind.side] * balance <= 0 for kind in kinds])
        odds = [chance / sum(odds) for chance in odds]
        drawn = rng.choices(range(len(kinds)), odds)[0]
        counts[drawn] += 1
        last, run, n = drawn, run + 1 if drawn == last else 1, n + 1
        yield drawn, odds


def _kept(odds: list[float], allowed: Sequence[bool]) -> list[float]:
    """The odds of what is allowed; all of them where that leaves nothing."""
    left = [chance * may for chance, may in zip(odds, allowed, strict=True)]
    return left if any(left) else odds


def one_defence(calls: int, within: Callable[[int], int], alike: int, best: bool = False) -> float:
    """What he gets right of one defence's sides, counted out over all rounds of so many calls instead of drawn.

    With call n (from 0) left and right may come to be `within(n)` apart at most: a side that would take them further
    apart waits, but that no side may wait for ever. Each draw is a fair coin where both sides may come; or, for the
    `best` of all laws under the same bars, whatever serves: what he gets right is linear in the coin's bias on either
    side of one half, so that fair or fixed is enough to try.
    """

    @cache
    def right(n: int, lead: int, last: int, run: int) -> float:
        if n == calls:
            return 0.0
        may = [
            side
            for side in (1, -1)
            if (abs(lead + side) <= within(n) or side * lead < 0) and not (side == last and run == alike)
        ]
        if not may:
            return float("inf")  # No way to keep both rules: a law that gets here is no law.
        later = [right(n + 1, lead + side, side, run + 1 if side == last else 1) for side in may]
        fair = 1 / len(may) + sum(later) / len(may)
        return min(fair, 1 + min(later)) if best else fair

    return right(0, 0, 0, 0) / calls


COLUMNS = (
    "calls", "defence %", "side %", "both %", "left-right", "at the end", "all left-right", "defences", "to level",
    "alike",
)  # fmt: skip


def _rows(kinds: Sequence[Kind[str]], law: Law, seeds: int) -> Iterator[tuple[str, ...]]:
    for calls, rounds in ((20, 1), (100, 1), (20, 5)):
        one = figures(kinds, calls, seeds, law, rounds)
        guessed = (f"{100 * share:.1f}" for share in (one.defence, one.side, one.both))
        apart = (str(one.sides_apart), str(one.sides_apart_at_end), str(one.all_sides_apart), str(one.defences_apart))
        yield f"{rounds} x {calls}", *guessed, *apart, f"{one.to_level:.1f}", str(one.alike)


def main(seeds: int) -> None:
    """Prints the table; the columns of what was apart have the most that was ever seen."""
    print(" " * 22, *(f"{column:>14}" for column in COLUMNS))
    for name, kinds_of, counts in (("defences", sided, (1, 2, 3, 4)), ("without sides", unsided, (2, 3, 4, 6))):
        for count in counts:
            for when, law in (("before", former), ("now", draws_with_odds)):
                for row in _rows(kinds_of(count), law, seeds):
                    print(f"{count} {name:13} {when:6}", *(f"{cell:>14}" for cell in row), flush=True)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1000)
