"""What it costs to take sounds for phrases, from how alike they are.

Distances are judged against those of phrases that are mostly different, so that a cost means the same for every pair of
voices.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from cornercue.voice.likeness import Matrix, manner_of, warped

NearPairs = npt.NDArray[np.bool_]

BAND = 12
"""How many places a piece may be off its phrase, beyond the difference in number, to be compared with it."""

ALIKE_LONG = 0.35
"""Logarithm of the ratio of lengths up to which a sound may be two phrases without a pause between them."""


@dataclass(frozen=True, eq=False)
class Costs:
    """What it costs to take sounds for phrases: about 0.5 for the right one, 1 for another, infinite far away.

    `single[i, j]` is piece i as phrase j. `joined[first, last][j]` is the pieces from first to last as phrase j, with
    the pauses between them. `run[i, j]` is piece i as the phrases j and j + 1 without a pause between them.
    """

    single: Matrix
    joined: dict[tuple[int, int], Matrix]
    run: Matrix


def costs(pieces: Sequence[Matrix], references: Sequence[Matrix], groups: Mapping[tuple[int, int], Matrix]) -> Costs:
    """All of these, from the `features` of the pieces, of the phrases in the reference voice and of joined pieces."""
    n, m = len(pieces), len(references)
    mine, other = manner_of(pieces), manner_of(references)
    phrases = other.without(references)
    lengths, wanted = _lengths(pieces), _lengths(references)
    scale = Scale(_tempo(lengths, wanted))
    near = np.abs(np.arange(n)[:, None] - np.arange(m)) <= BAND + abs(n - m)
    sounds = mine.without(pieces)
    single = scale.judged(sounds, phrases, near, lengths, wanted)
    firsts = np.array([first for first, _ in groups], int)
    joined = scale.more(mine.without([*groups.values()]), phrases, near[firsts], _lengths([*groups.values()]), wanted)
    pairs = [np.concatenate(pair) for pair in pairwise(references)]
    both = _lengths(pairs)
    long = np.abs(np.log(lengths[:, None] / both) - scale.tempo) < ALIKE_LONG
    run = scale.run(sounds, other.without(pairs), near[:, : m - 1] & long, lengths, both)
    return Costs(single, dict(zip(groups, joined, strict=True)), run)


def repeats(pieces: Sequence[Matrix]) -> Matrix:
    """What it costs to take piece i for the same words as piece j before it, by the voice's own likeness."""
    n = len(pieces)
    behind = np.arange(n)[:, None] - np.arange(n)
    itself, lengths = manner_of(pieces).without(pieces), _lengths(pieces)
    return Scale(0.0).judged(itself, itself, (behind > 0) & (behind <= BAND), lengths, lengths)


def _lengths(pieces: Sequence[Matrix]) -> Matrix:
    """Seconds of sound in each, and a little more, so that short ones are not judged too strictly."""
    return np.array([0.01 * len(piece) + 0.15 for piece in pieces])


def _tempo(lengths: Matrix, wanted: Matrix) -> float:
    """How much slower than the reference somebody speaks, as a logarithm.

    Where there are many more sounds than phrases, these are halves of phrases: then what all last together counts.
    """
    if len(lengths) > 1.15 * len(wanted):
        return float(np.log(lengths.sum() / wanted.sum()))
    return float(np.median(np.log(lengths)) - np.median(np.log(wanted)))


class Scale:
    """Distances as costs, by what is usual in one recording, which the first distances tell."""

    def __init__(self, tempo: float) -> None:
        """How much slower this voice is than the other, as a logarithm."""
        self.tempo = tempo

    def judged(self, some: Matrix, others: Matrix, near: NearPairs, lengths: Matrix, wanted: Matrix) -> Matrix:
        """The costs of the pairs in `near`, infinite for the others; what is usual is taken from these."""
        unlike = _distances(some, others, near)
        # Some pieces, and some phrases, are unlike everything: only what is left counts.
        self._rows = _medians(unlike, near, 1)
        unlike -= self._rows
        self._columns = _medians(unlike, near, 0)
        unlike -= self._columns
        self._spread = 1.4826 * float(np.median(np.abs(unlike[near]))) or 1.0
        return self._costs(unlike, near, lengths, wanted)

    def more(self, some: Matrix, others: Matrix, near: NearPairs, lengths: Matrix, wanted: Matrix) -> Matrix:
        """The costs of other sounds for the same phrases."""
        unlike = _distances(some, others, near)
        return self._costs(unlike - _medians(unlike, near, 1) - self._columns, near, lengths, wanted)

    def run(self, some: Matrix, others: Matrix, near: NearPairs, lengths: Matrix, wanted: Matrix) -> Matrix:
        """The costs of the same sounds for each two phrases that follow each other."""
        usual = (self._columns[:, 1:] + self._columns[:, :-1]) / 2
        return self._costs(_distances(some, others, near) - self._rows - usual, near, lengths, wanted)

    def _costs(self, unlike: Matrix, near: NearPairs, lengths: Matrix, wanted: Matrix) -> Matrix:
        longer = np.minimum(8.9 * (np.log(lengths[:, None] / wanted) - self.tempo) ** 2, 4.0)
        return np.where(near, 0.6 + (unlike / self._spread + longer) / 8, np.inf)


def _distances(some: Matrix, others: Matrix, near: NearPairs) -> Matrix:
    """Those of the pairs in `near`; not a number for the others."""
    unlike = np.full(near.shape, np.nan)
    if near.any():
        unlike[near] = warped(some, others, np.array(np.nonzero(near)))
    return unlike


def _medians(values: Matrix, near: npt.NDArray[np.bool_], axis: int) -> Matrix:
    """The median of each row (1) or column (0) over the pairs compared, 0 where there are none."""
    rows = values if axis else values.T
    kept = near if axis else near.T
    medians = np.array([np.median(row[here]) if here.any() else 0.0 for row, here in zip(rows, kept, strict=True)])
    return medians[:, None] if axis else medians[None, :]
