"""Which piece of a recording is which phrase: the cheapest alignment in order, and what is not sure about it.

Phrases may be missing, said twice, said with pauses inside, run together, or have a noise between them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import NamedTuple

import numpy as np

from cornercue.voice.costs import BAND, Costs
from cornercue.voice.likeness import Matrix

AlignmentState = tuple[int, int, int]

UNVOICED = 1.0
"""What it costs more to take a piece without a vowel for a phrase."""

NOISE, MISSING, REPEAT, LEAST = 0.8, 0.8, 0.1, 0.35
"""Costs of a piece that is no phrase and of a phrase that is not said, and what a phrase said once more costs beyond
its likeness to the phrase (a third) and to the take before (two thirds: the voice is the same), and at
least, for lines that begin alike must not be taken for one another. Measured with two
synthetic voices before this, a right match cost 0.5 in the median and 0.65 at the 90th percentile, a wrong one 1."""

UNSURE, MARGIN = 1.0, 0.2
"""A match that costs more is no match; and where another reading of the whole recording costs so little more, nobody is
told that it was the one. Measured over 24 made-up recordings of 64 to 82 lines, 20 with a line missing, one double and
a cough: with 0.08 four lines in one recording were silently taken for others and 12 left open; with 0.2 and `TWIN` one
and 44, of 1,740. The four without faults were whole, with nothing to tell."""

OUT_OF_ORDER, BETTER_THERE = 0.25, 0.1
"""Lines may be read in another order than the sheet's. A piece is not sure to be its phrase where it fits another one
so much better, and that one so much better than the piece taken for it does (`BETTER_THERE`)."""

SAME, TWIN = 0.0, 0.4
"""Two takes of the same words cost less than `SAME` by `repeats` (measured: -1.2 to 0.03). Where pieces of different
phrases do too, and the phrases in the reference `TWIN` more, the first may have been said twice and the second never.
Measured on 16 made-up recordings of 22 lines,
with 0.6 seven lines were silently taken for others and 16 left open, with 0.4 one and 22. With 0.3 a long
sheet had 5% of its lines left open. A line left open is said again, a line taken for another is never noticed."""


JOIN, RUN, BETTER, HALF = 0.2, 0.75, 0.05, 0.35
"""What each pause inside a phrase costs, and two phrases without a pause between them; how much better joined
pieces fit than without the first or the last; and a phrase is taken for whole
only where it costs so much less than together with the sound beside it that would else be left out."""


@dataclass(frozen=True)
class Matching:
    """For each phrase the index of its first piece, or None; `last` is the last piece where it is not the first.

    `again` are earlier takes, `noises` fit nothing, `unsure` are phrases whose piece cannot be told with confidence,
    each with the piece that it may be; `run` are pieces that hold a phrase and the next one.
    """

    piece_of: list[int | None]
    again: list[tuple[int, int]] = field(default_factory=list)
    noises: list[int] = field(default_factory=list)
    unsure: list[tuple[int, int | None]] = field(default_factory=list)
    last: dict[int, int] = field(default_factory=dict)
    run: list[tuple[int, int]] = field(default_factory=list)


class Reading(NamedTuple):
    """Pieces from `first` up to `end` are one phrase (`phrases` 1, or 0 said once more), two, or none (None)."""

    first: int
    end: int
    phrase: int | None
    phrases: int = 1

    @property
    def named(self) -> range:
        """The phrases that it takes them for."""
        return range(0) if self.phrase is None else range(self.phrase, self.phrase + max(1, self.phrases))

    def differs(self, other: Reading) -> bool:
        """Whether the pieces would be another phrase, or only a part of it."""
        return (self.named, self.first, self.end) != (other.named, other.first, other.end)


def match(costs: Costs, repeat: Matrix, expected: Matrix, speech: Sequence[bool], sure: bool = False) -> Matching:
    """The cheapest reading of pieces as phrases in order, with what is not sure about it.

    `repeat` is as `repeats` gives it, `expected` as it gives it for the references; `speech` is False for pieces
    without a vowel. With `sure` the cheapest reading is taken without a doubt.
    """
    cost = costs.single + np.where(np.asarray(speech), 0.0, UNVOICED)[:, None]
    costs = Costs(cost, {key: row for key, row in costs.joined.items() if all(speech[key[0] : key[1] + 1])}, costs.run)
    path, readings = _paths(_whole_only(costs), _same_again(repeat, speech))
    taken: dict[int, Reading] = {}
    again: list[tuple[int, int]] = []
    for one in path:
        if one.phrase is not None and one.phrases < 2:
            again += [(one.phrase, taken[one.phrase].first)] if one.phrase in taken else []
            taken[one.phrase] = one
    run = [(one.phrase, one.first) for one in path if one.phrase is not None and one.phrases == 2]
    noises = [one.first for one in path if one.phrase is None]
    piece_of = [taken[j].first if j in taken else None for j in range(cost.shape[1])]
    doubtful: dict[int, int | None] = {}
    if not sure:
        doubtful |= _twins({j: one for j, one in taken.items() if one.end - one.first == 1}, repeat, expected)
        fits = np.array([_row(taken[j], costs)[j] if j in taken else MISSING for j in range(cost.shape[1])])
        for one in taken.values():
            doubtful |= dict.fromkeys(_doubts(one, readings, costs, noises, fits), one.first)
        doubtful = {j: piece for j, piece in doubtful.items() if not any(j - at in (0, 1) for at, _ in run)}
    return Matching(
        [None if j in doubtful else piece for j, piece in enumerate(piece_of)],
        again=[(phrase, take) for phrase, take in again if phrase not in doubtful],
        noises=noises,
        unsure=sorted(doubtful.items()),
        last={one.first: one.end - 1 for one in taken.values() if one.end - one.first > 1},
        run=run,
    )


def _whole_only(costs: Costs) -> Costs:
    """Pieces are joined only where all of them fit better than without the first or the last: that was a slip."""
    rows = {(i, i): row for i, row in enumerate(costs.single)} | costs.joined
    joined = {
        (first, last): np.where(np.minimum(rows[first + 1, last], rows[first, last - 1]) < row + BETTER, np.inf, row)
        for (first, last), row in costs.joined.items()
        if (first + 1, last) in rows and (first, last - 1) in rows
    }
    return replace(costs, joined=joined)


def _doubts(
    one: Reading, readings: Sequence[Mapping[Reading, float]], costs: Costs, noises: Sequence[int], fits: Matrix
) -> list[int]:
    """The phrases that are not sure, if these pieces are taken for one."""
    assert one.phrase is not None
    rivals: list[Reading] = []
    for piece in range(one.first, one.end):
        rivals += _rivals(readings[piece], one)
    row = _row(one, costs)
    alone = float(row[one.phrase])
    longer = [(noise, one.end - 1) for noise in noises if noise == one.first - 1]
    longer += [(one.first, noise) for noise in noises if noise == one.end]
    half = any(key in costs.joined and costs.joined[key][one.phrase] < alone + HALF for key in longer)
    better = [j for j, there in enumerate(row) if there < min(alone - OUT_OF_ORDER, fits[j] - BETTER_THERE)]
    if not (rivals or half or better or alone > UNSURE):
        return []
    return [one.phrase, *(phrase for rival in rivals for phrase in rival.named)]


def _row(one: Reading, costs: Costs) -> Matrix:
    """Of pieces as each phrase, by themselves."""
    return costs.joined[one.first, one.end - 1] if one.end - one.first > 1 else costs.single[one.first]


def _twins(taken: Mapping[int, Reading], repeat: Matrix, expected: Matrix) -> dict[int, int | None]:
    """Neighbours whose pieces sound like the same words, though the phrases do not, each with its piece."""
    found: dict[int, int | None] = {}
    for second in taken:
        if second - 1 not in taken:
            continue
        one, other = taken[second - 1].first, taken[second].first
        if repeat[other, one] < min(SAME, expected[second, second - 1] - TWIN):
            found |= {second - 1: one, second: other}
    return found


def _rivals(readings: Mapping[Reading, float], one: Reading) -> list[Reading]:
    """What else a piece may be: the other readings of it that cost the whole recording hardly more."""
    own = min(total for other, total in readings.items() if not one.differs(other))
    rivals = [other for other, total in readings.items() if one.differs(other) and total < own + MARGIN]
    return [other for other in rivals if other.phrases < 2]


def _same_again(repeat: Matrix, speech: Sequence[bool]) -> Matrix:
    """For each piece what it costs to take it for the last speech before it once more."""
    cost = np.full(len(repeat), np.inf)
    for piece in range(1, len(repeat)):
        before = next((one for one in range(piece - 1, -1, -1) if speech[one]), None)
        if before is not None:
            cost[piece] = repeat[piece, before] + (0.0 if speech[piece] else UNVOICED)
    return cost


def _paths(costs: Costs, same: Matrix) -> tuple[list[Reading], list[dict[Reading, float]]]:
    """The cheapest reading of the whole, and for each piece the whole's cost with each reading of that piece.

    A position is (pieces used, phrases used, whether the last phrase was said); only then can it be said again.
    """
    n, m = costs.single.shape
    reach = BAND + abs(n - m)
    states = [(i, j, said) for i in range(n + 1) for j in range(m + 1) if abs(i - j) <= reach for said in (0, 1)]
    so_far: dict[AlignmentState, float] = {(0, 0, 0): 0.0}
    for state in states:
        if state in so_far:
            for after, _, more in _steps(state, costs, same):
                so_far[after] = min(so_far.get(after, np.inf), so_far[state] + more)
    to_go: dict[AlignmentState, float] = {(n, m, 0): 0.0, (n, m, 1): 0.0}
    readings: list[dict[Reading, float]] = [{} for _ in range(n)]
    for state in reversed(states):
        for after, reading, more in _steps(state, costs, same):
            rest = to_go.get(after, np.inf) + more
            to_go[state] = min(to_go.get(state, np.inf), rest)
            total = so_far.get(state, np.inf) + rest
            if reading and total < np.inf:
                for piece in range(reading.first, reading.end):
                    readings[piece][reading] = min(readings[piece].get(reading, np.inf), total)
    return _cheapest(costs, same, to_go), readings


def _cheapest(costs: Costs, same: Matrix, to_go: Mapping[AlignmentState, float]) -> list[Reading]:
    """The readings along the way that costs least."""
    path: list[Reading] = []
    state: AlignmentState = (0, 0, 0)
    while state[:2] != costs.single.shape:
        after, reading, _ = min(_steps(state, costs, same), key=lambda step: step[2] + to_go.get(step[0], np.inf))
        path += [reading] if reading else []
        state = after
    return path


def _steps(state: AlignmentState, costs: Costs, same: Matrix) -> Iterator[tuple[AlignmentState, Reading | None, float]]:
    """What can come next: the state after it, what the next pieces are taken for, if any, and the cost."""
    (i, j, said), (n, m), cost = state, costs.single.shape, costs.single
    if j < m:
        yield (i, j + 1, 0), None, MISSING
    if i == n:
        return
    yield (i + 1, j, said), Reading(i, i + 1, None), NOISE
    if j < m:
        yield (i + 1, j + 1, 1), Reading(i, i + 1, j), float(cost[i, j])
    if j < m - 1 and costs.run[i, j] < np.inf:
        yield (i + 1, j + 2, 1), Reading(i, i + 1, j, 2), float(costs.run[i, j]) + RUN
    if said:
        again = max(LEAST, float(cost[i, j - 1] + 2 * same[i]) / 3 + REPEAT)
        yield (i + 1, j, 1), Reading(i, i + 1, j - 1, 0), again
    last = i + 1
    while (i, last) in costs.joined:
        pauses, whole = JOIN * (last - i), costs.joined[i, last]
        if j < m:
            yield (last + 1, j + 1, 1), Reading(i, last + 1, j), float(whole[j]) + pauses
        if said:
            yield (last + 1, j, 1), Reading(i, last + 1, j - 1, 0), max(LEAST, float(whole[j - 1])) + pauses + REPEAT
        last += 1
