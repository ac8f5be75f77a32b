"""Which piece of a recording is which phrase: an alignment in order, by length and by likeness to another voice.

Phrases may be missing, said twice, or have a noise between them. A piece is compared with the same words in a
reference voice: cepstra of the mel spectrum, both brought to one length, then warped (dynamic time warping, Sakoe and
Chiba 1978; mel scale as O'Shaughnessy 1987; both from memory). What two voices do not share (pitch, tone of the
microphone) goes out with each voice's own mean and spread. Distances are judged against those of phrases that are
mostly different, so that the costs below mean the same for every pair of voices.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from cornercue.voice.clip import SAMPLE_RATE

Matrix = npt.NDArray[np.float64]

FRAMES, BANDS, CEPSTRA, BEND = 32, 26, 12, 6
"""Frames a piece is brought to, mel bands, cepstra kept (the first, loudness, left out), frames a warp may stray."""

BAND = 12
"""How many places a piece may be off its phrase, beyond the difference in number, to be compared with it."""

NOISE, MISSING, REPEAT = 0.8, 0.8, 0.25
"""Costs of a piece that is no phrase, of a phrase that is not said, and of one said once more, where a match of
phrases that are surely different costs about 1 and a right one about 0.3."""

UNSURE, NEAR = 0.85, 0.06
"""A match that costs more is no match; and where two readings differ by less, nobody is told that it was the one."""

TOO_MANY = 0.34
"""Share of phrases missing above which the recording is of something else."""


@dataclass(frozen=True)
class Matching:
    """For each phrase the index of its piece, or None.

    `again` are earlier takes, `noises` fit nothing, `unsure` are phrases whose piece cannot be told with confidence,
    each with the piece that it may be.
    """

    piece_of: list[int | None]
    again: list[tuple[int, int]] = field(default_factory=list)
    noises: list[int] = field(default_factory=list)
    unsure: list[tuple[int, int | None]] = field(default_factory=list)


def features(samples: npt.NDArray[np.generic]) -> Matrix:
    """Cepstra of a piece of sound, shape (frames, CEPSTRA)."""
    from scipy.fft import dct

    size, hop = 512, 220
    sound = np.asarray(samples, np.float64)
    sound = np.pad(np.append(sound[:1], sound[1:] - 0.97 * sound[:-1]), (0, max(0, size - len(sound))))
    frames = np.lib.stride_tricks.sliding_window_view(sound, size)[::hop] * np.hanning(size)
    mel = np.log(np.abs(np.fft.rfft(frames)) ** 2 @ _mel_bands(size).T + 1e-9)
    mel = np.maximum(mel, mel.max() - 9.0)  # what lies under the noise says nothing
    loud = np.flatnonzero(mel.max(axis=1) > mel.max() - 7.0)
    cepstra: Matrix = dct(mel[loud[0] : loud[-1] + 1], norm="ortho")[:, 1 : CEPSTRA + 1]
    return cepstra


def _mel_bands(size: int) -> Matrix:
    """Triangles evenly spaced in mel from 150 Hz to 7 kHz, shape (BANDS, size // 2 + 1)."""
    edges = 700 * (np.exp(np.linspace(np.log1p(150 / 700), np.log1p(7000 / 700), BANDS + 2)) - 1)
    at = np.fft.rfftfreq(size, 1 / SAMPLE_RATE)
    low, mid, high = edges[:-2, None], edges[1:-1, None], edges[2:, None]
    bands: Matrix = np.maximum(0, np.minimum((at - low) / (mid - low), (high - at) / (high - mid)))
    return bands


def alike(voice: Sequence[Matrix]) -> Matrix:
    """The pieces of one voice at one length, its mean and spread taken out: shape (pieces, FRAMES, CEPSTRA)."""
    everything = np.concatenate(voice)
    mean, spread = everything.mean(axis=0), everything.std(axis=0) + 1e-9
    ends = np.linspace(0, 1, FRAMES)
    scaled = [(piece - mean) / spread for piece in voice]
    return np.stack(
        [
            np.stack([np.interp(ends, np.linspace(0, 1, len(one)), one[:, k]) for k in range(CEPSTRA)], axis=1)
            for one in scaled
        ]
    )


def warped(one: Matrix, other: Matrix) -> Matrix:
    """Distances of pairs after warping, shape (pairs,); both have the shape (pairs, FRAMES, CEPSTRA)."""
    away = np.full((FRAMES + 1, FRAMES + 1, len(one)), np.inf)
    away[0, 0] = 0
    for i in range(FRAMES):
        for j in range(max(0, i - BEND), min(FRAMES, i + BEND + 1)):
            here = np.sqrt(np.sum((one[:, i] - other[:, j]) ** 2, axis=1))
            slant = away[i, j] + 2 * here
            away[i + 1, j + 1] = np.minimum(slant, np.minimum(away[i, j + 1], away[i + 1, j]) + here)
    distance: Matrix = away[FRAMES, FRAMES] / (2 * FRAMES)
    return distance


def costs(pieces: Sequence[Matrix], references: Sequence[Matrix], lengths: Matrix, wanted: Matrix) -> Matrix:
    """What it costs to take piece i for phrase j, shape (pieces, phrases); infinite far off the diagonal."""
    n, m = len(pieces), len(references)
    reach = BAND + abs(n - m)
    pairs = [(i, j) for i in range(n) for j in range(m) if abs(i - j) <= reach]
    first, second = np.array(pairs).T
    distance = warped(alike(pieces)[first], alike(references)[second])
    usual = float(np.median(distance))
    ratio = np.log(lengths[first] / wanted[second])
    tempo = float(np.median(np.log(lengths)) - np.median(np.log(wanted)))
    cost = np.full((n, m), np.inf)
    # 2.2: a match at 68% of the usual distance costs what a right one does (0.3).
    cost[first, second] = 1 + 2.2 * (distance / usual - 1) + 1.5 * (ratio - tempo) ** 2
    return cost


def match(cost: Matrix) -> Matching:
    """The cheapest reading of pieces as phrases in order, with what is not sure about it."""
    path = _path(cost)
    m = cost.shape[1]
    piece_of: list[int | None] = [None] * m
    again: list[tuple[int, int]] = []
    noises, unsure = list[int](), list[tuple[int, int | None]]()
    for piece, phrase in path:
        before = piece_of[phrase] if phrase is not None else None
        if phrase is None:
            noises.append(piece)
        elif cost[piece, phrase] > UNSURE:
            unsure.append((phrase, piece))
        else:
            if before is not None:
                again.append((phrase, before))
            piece_of[phrase] = piece
    told = {phrase for phrase, _ in unsure}
    unsure += [(j, None) for j in range(m) if piece_of[j] is None and j not in told and _either(cost, piece_of, j)]
    return Matching(piece_of, again, noises, unsure)


def _either(cost: Matrix, piece_of: Sequence[int | None], missing: int) -> bool:
    """Whether a neighbour's piece fits the missing phrase about as well as the neighbour itself."""
    for near in (missing - 1, missing + 1):
        if 0 <= near < len(piece_of):
            piece = piece_of[near]
            if piece is not None and cost[piece, missing] - cost[piece, near] < NEAR:
                return True
    return False


def _path(cost: Matrix) -> list[tuple[int, int | None]]:
    """The cheapest way through: each piece with its phrase or None.

    A state is (pieces used, phrases used, whether the last phrase was said); only then can it be said again.
    """
    n, m = cost.shape
    best = np.full((n + 1, m + 1, 2), np.inf)
    came: dict[tuple[int, int, int], tuple[tuple[int, int, int], int | None]] = {}
    best[0, 0, 0] = 0.0
    for i in range(n + 1):
        for j in range(m + 1):
            for said in (0, 1):
                so_far = best[i, j, said]
                if not so_far < np.inf:
                    continue
                steps: list[tuple[tuple[int, int, int], float, int | None]] = []
                if j < m:
                    steps.append(((i, j + 1, 0), MISSING, None))
                if i < n:
                    steps.append(((i + 1, j, said), NOISE, None))
                if i < n and j < m:
                    steps.append(((i + 1, j + 1, 1), cost[i, j], j))
                if i < n and said:
                    steps.append(((i + 1, j, 1), cost[i, j - 1] + REPEAT, j - 1))
                for state, more, phrase in steps:
                    if so_far + more < best[state]:
                        best[state] = so_far + more
                        came[state] = ((i, j, said), phrase)
    state = (n, m, int(best[n, m, 1] < best[n, m, 0]))
    path: list[tuple[int, int | None]] = []
    while state in came:
        before, phrase = came[state]
        if before[0] < state[0]:
            path.append((state[0] - 1, phrase))
        state = before
    return path[::-1]
