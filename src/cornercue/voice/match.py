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

FRAMES, BANDS, CEPSTRA, BEND = 64, 26, 13, 16
"""Frames a piece is brought to, mel bands, cepstra kept (loudness first), frames that a warp may stray."""

DEPTH = 6.0
"""Nepers of power below its loudest band at which a piece counts as silent: what lies lower is the room's."""

BAND = 12
"""How many places a piece may be off its phrase, beyond the difference in number, to be compared with it."""

VOICED = 0.55
"""Autocorrelation above which 40 ms are voiced; speech always is somewhere, a cough, a breath or a page hardly."""

NOISE, MISSING, REPEAT = 0.8, 0.8, 0.25
"""Costs of a piece that is no phrase, of a phrase that is not said, and of one said once more. Measured with two
synthetic voices, a right match costs 0.5 in the median and 0.6 to 0.65 at the 95th percentile, a wrong one 0.8 to 1."""

UNSURE, NEAR = 1.0, 0.06
"""A match that costs more is no match; and where two readings differ by less, nobody is told that it was the one."""


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


def features(samples: npt.NDArray[np.generic], noise: Matrix | float = 0.0) -> Matrix:
    """Cepstra of a piece of sound, shape (frames, CEPSTRA); `noise` is the mean `power` of the room."""
    from scipy.fft import dct

    heard = power(samples) - 1.5 * noise
    cepstra: Matrix = dct(np.log(np.maximum(heard, heard.max() * np.exp(-DEPTH) + 1e-12)), norm="ortho")
    return cepstra[:, :CEPSTRA]


def power(samples: npt.NDArray[np.generic]) -> Matrix:
    """The power in each mel band every 10 ms, shape (frames, BANDS)."""
    size, hop = 512, 220
    sound = np.asarray(samples, np.float64)
    sound = np.append(sound[:1], sound[1:] - 0.97 * sound[:-1])
    sound = np.pad(sound, (0, max(0, size - len(sound))))
    frames = np.lib.stride_tricks.sliding_window_view(sound, size)[::hop] * np.hanning(size)
    bands: Matrix = np.abs(np.fft.rfft(frames)) ** 2 @ _mel_bands(size).T
    return bands


def is_voiced(samples: npt.NDArray[np.generic]) -> bool:
    """Whether some 40 ms of the sound repeat themselves 70 to 400 times a second, as a vowel does."""
    size = round(0.04 * SAMPLE_RATE)
    sound = np.asarray(samples, np.float64)
    if len(sound) < size:
        return False
    frames = np.lib.stride_tricks.sliding_window_view(sound, size)[:: size // 2]
    frames = frames - frames.mean(axis=1, keepdims=True)
    loud = frames[np.sum(frames**2, axis=1) > 0.05 * np.sum(frames**2, axis=1).max()]
    spectrum = np.abs(np.fft.rfft(loud, 2 * size)) ** 2
    again = np.fft.irfft(spectrum)[:, : SAMPLE_RATE // 70]
    # Fewer samples overlap at a longer lag: divided out, or low voices would count for less.
    again = again / again[:, :1] * (size / (size - np.arange(again.shape[1])))
    return int(np.sum(again[:, SAMPLE_RATE // 400 :].max(axis=1) > VOICED)) >= 2


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
    """What it costs to take piece i for phrase j, shape (pieces, phrases); infinite far off the diagonal.

    `lengths` and `wanted` are the seconds of the pieces and of the phrases in the reference voice.
    """
    n, m = len(pieces), len(references)
    reach = BAND + abs(n - m)
    first, second = np.nonzero(np.abs(np.arange(n)[:, None] - np.arange(m)) <= reach)
    unlike = np.full((n, m), np.nan)
    unlike[first, second] = warped(alike(pieces)[first], alike(references)[second])
    # Some pieces, and some phrases, are unlike everything: only what is left counts.
    unlike -= np.nanmedian(unlike, axis=1, keepdims=True)
    unlike -= np.nanmedian(unlike, axis=0, keepdims=True)
    spread = 1.4826 * float(np.nanmedian(np.abs(unlike))) or 1.0
    ratio = np.log((lengths[:, None] + 0.15) / (wanted + 0.15))
    tempo = float(np.median(np.log(lengths + 0.15)) - np.median(np.log(wanted + 0.15)))
    longer = np.minimum(8.9 * (ratio - tempo) ** 2, 4.0)
    cost = 0.6 + (unlike / spread + longer) / 8
    return np.where(np.isnan(cost), np.inf, cost)


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
