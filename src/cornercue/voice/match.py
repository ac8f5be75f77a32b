"""Which piece of a recording is which phrase: an alignment in order, by length and by likeness to another voice.

Phrases may be missing, said twice, or have a noise between them. A piece is compared with the same words in a
reference voice: cepstra of the mel spectrum, both brought to one length, then warped (dynamic time warping, Sakoe and
Chiba 1978; mel scale as O'Shaughnessy 1987; both from memory). What two voices do not share (pitch, tone of the
microphone) goes out with each voice's own mean and spread. Distances are judged against those of phrases that are
mostly different, so that the costs below mean the same for every pair of voices.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from cornercue.voice.clip import SAMPLE_RATE

Matrix = npt.NDArray[np.float64]
State = tuple[int, int, int]

FRAMES, BANDS, CEPSTRA, BEND = 96, 26, 12, 24
"""Frames a piece is brought to, mel bands, cepstra kept (loudness first), frames that a warp may stray."""

DEPTH = 7.0
"""Nepers of power below its loudest band at which a piece counts as silent: what lies lower is the room's."""

BAND = 12
"""How many places a piece may be off its phrase, beyond the difference in number, to be compared with it."""

VOICED = 0.55
"""Autocorrelation above which 40 ms are voiced; speech always is somewhere, a cough, a breath or a page hardly."""

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

SAME, TWIN = 0.0, 0.6
"""Two takes of the same words cost less than `SAME` by `repeats` (measured: -1.2 to 0.03). Where pieces of different
phrases do too, and the phrases in the reference `TWIN` more, the first may have been said twice and the second never.
It sees the clear cases only: with 0.3 it saw nearly all, and left 5% of every recording open."""


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
    cepstra: Matrix = dct(np.log(np.maximum(heard, max(heard.max(), 1e-9) * np.exp(-DEPTH))), norm="ortho")
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
    """The pieces of one voice at one length, its mean and spread taken out: shape (pieces, FRAMES, 2 × CEPSTRA).

    The second half are the changes from frame to frame. Higher cepstra, which differ most between voices, weigh less.
    """
    everything = np.concatenate(voice)
    mean = everything.mean(axis=0)
    spread = (everything.std(axis=0) + 1e-9) * (1 + 0.15 * np.arange(CEPSTRA))
    return np.stack([_with_changes(_stretched((piece - mean) / spread)) for piece in voice])


def _stretched(piece: Matrix) -> Matrix:
    """The piece brought to `FRAMES` frames."""
    at, ends = np.linspace(0, 1, len(piece)), np.linspace(0, 1, FRAMES)
    return np.stack([np.interp(ends, at, column) for column in piece.T], axis=1)


def _with_changes(piece: Matrix) -> Matrix:
    return np.concatenate([piece, 2 * np.gradient(piece, axis=0)], axis=1)


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
    near = np.abs(np.arange(n)[:, None] - np.arange(m)) <= BAND + abs(n - m)
    return _judged(alike(pieces), alike(references), near, lengths, wanted)


def repeats(pieces: Sequence[Matrix], lengths: Matrix) -> Matrix:
    """What it costs to take piece i for the same words as piece j before it, by the voice's own likeness."""
    n = len(pieces)
    behind = np.arange(n)[:, None] - np.arange(n)
    itself = alike(pieces)
    return _judged(itself, itself, (behind > 0) & (behind <= BAND), lengths, lengths)


def _judged(some: Matrix, others: Matrix, near: npt.NDArray[np.bool_], lengths: Matrix, wanted: Matrix) -> Matrix:
    """Distances and lengths of the pairs in `near` as costs; infinite for the others."""
    unlike = np.full(near.shape, np.nan)
    first, second = np.nonzero(near)
    unlike[first, second] = warped(some[first], others[second])
    # Some pieces, and some phrases, are unlike everything: only what is left counts.
    unlike -= _medians(unlike, near, 1)
    unlike -= _medians(unlike, near, 0)
    spread = 1.4826 * float(np.median(np.abs(unlike[near]))) or 1.0
    ratio = np.log((lengths[:, None] + 0.15) / (wanted + 0.15))
    tempo = float(np.median(np.log(lengths + 0.15)) - np.median(np.log(wanted + 0.15)))
    longer = np.minimum(8.9 * (ratio - tempo) ** 2, 4.0)
    return np.where(near, 0.6 + (unlike / spread + longer) / 8, np.inf)


def _medians(values: Matrix, near: npt.NDArray[np.bool_], axis: int) -> Matrix:
    """The median of each row (1) or column (0) over the pairs compared, 0 where there are none."""
    rows = values if axis else values.T
    kept = near if axis else near.T
    medians = np.array([np.median(row[here]) if here.any() else 0.0 for row, here in zip(rows, kept, strict=True)])
    return medians[:, None] if axis else medians[None, :]


def match(cost: Matrix, repeat: Matrix, expected: Matrix, speech: Sequence[bool], sure: bool = False) -> Matching:
    """The cheapest reading of pieces as phrases in order, with what is not sure about it.

    `cost` and `repeat` are as `costs` and `repeats` give them, `expected` as `repeats` gives it for the references;
    `speech` is False for pieces without a vowel. With `sure` the cheapest reading is taken without a doubt.
    """
    cost = cost + np.where(np.asarray(speech), 0.0, UNVOICED)[:, None]
    path, readings = _paths(cost, _same_again(repeat, speech))
    piece_of: list[int | None] = [None] * cost.shape[1]
    again: list[tuple[int, int]] = []
    for piece, phrase in enumerate(path):
        before = None if phrase is None else piece_of[phrase]
        if phrase is not None:
            piece_of[phrase] = piece
            again += [] if before is None else [(phrase, before)]
    doubtful: dict[int, int | None] = {} if sure else _twins(piece_of, repeat, expected)
    for phrase, taken in enumerate(piece_of):
        if taken is not None and not sure:
            others = _rivals(readings[taken], phrase)
            if others or cost[taken, phrase] > UNSURE:
                doubtful |= dict.fromkeys([phrase, *(one for one in others if one is not None)], taken)
    return Matching(
        [None if j in doubtful else piece for j, piece in enumerate(piece_of)],
        [(phrase, take) for phrase, take in again if phrase not in doubtful],
        [piece for piece, phrase in enumerate(path) if phrase is None],
        sorted(doubtful.items()),
    )


def _twins(piece_of: Sequence[int | None], repeat: Matrix, expected: Matrix) -> dict[int, int | None]:
    """Neighbours whose pieces sound like the same words, though the phrases do not, each with its piece."""
    found: dict[int, int | None] = {}
    for second in range(1, len(piece_of)):
        one, other = piece_of[second - 1], piece_of[second]
        if one is None or other is None:
            continue
        if repeat[other, one] < min(SAME, expected[second, second - 1] - TWIN):
            found |= {second - 1: one, second: other}
    return found


def _rivals(readings: Mapping[int | None, float], phrase: int) -> list[int | None]:
    """What else a piece may be: the other readings of it that cost the whole recording hardly more."""
    return [other for other, total in readings.items() if other != phrase and total < readings[phrase] + MARGIN]


def _same_again(repeat: Matrix, speech: Sequence[bool]) -> Matrix:
    """For each piece what it costs to take it for the last speech before it once more."""
    cost = np.full(len(repeat), np.inf)
    for piece in range(1, len(repeat)):
        before = next((one for one in range(piece - 1, -1, -1) if speech[one]), None)
        if before is not None:
            cost[piece] = repeat[piece, before] + (0.0 if speech[piece] else UNVOICED)
    return cost


def _paths(cost: Matrix, same: Matrix) -> tuple[list[int | None], list[dict[int | None, float]]]:
    """For each piece its phrase, or None, in the cheapest reading of the whole; and the whole's cost for each reading.

    A state is (pieces used, phrases used, whether the last phrase was said); only then can it be said again.
    """
    n, m = cost.shape
    reach = BAND + abs(n - m)
    states = [(i, j, said) for i in range(n + 1) for j in range(m + 1) if abs(i - j) <= reach for said in (0, 1)]
    so_far: dict[State, float] = {(0, 0, 0): 0.0}
    for state in states:
        for after, _, more in _steps(state, cost, same):
            so_far[after] = min(so_far.get(after, np.inf), so_far.get(state, np.inf) + more)
    to_go: dict[State, float] = {(n, m, 0): 0.0, (n, m, 1): 0.0}
    readings: list[dict[int | None, float]] = [{} for _ in range(n)]
    for state in reversed(states):
        for after, phrase, more in _steps(state, cost, same):
            rest = to_go.get(after, np.inf) + more
            to_go[state] = min(to_go.get(state, np.inf), rest)
            if after[0] > state[0]:
                total = so_far.get(state, np.inf) + rest
                readings[state[0]][phrase] = min(readings[state[0]].get(phrase, np.inf), total)
    return _cheapest(cost, same, to_go), readings


def _cheapest(cost: Matrix, same: Matrix, to_go: Mapping[State, float]) -> list[int | None]:
    """The phrase of each piece along the way that costs least."""
    path: list[int | None] = []
    state: State = (0, 0, 0)
    while state[:2] != cost.shape:
        after, phrase, _ = min(_steps(state, cost, same), key=lambda step: step[2] + to_go.get(step[0], np.inf))
        path += [phrase] if after[0] > state[0] else []
        state = after
    return path


def _steps(state: State, cost: Matrix, same: Matrix) -> Iterator[tuple[State, int | None, float]]:
    """What can come next: the state after it, the phrase that the next piece is, if any, and the cost."""
    (i, j, said), (n, m) = state, cost.shape
    if j < m:
        yield (i, j + 1, 0), None, MISSING
    if i < n:
        yield (i + 1, j, said), None, NOISE
        if j < m:
            yield (i + 1, j + 1, 1), j, float(cost[i, j])
        if said:
            yield (i + 1, j, 1), j - 1, max(LEAST, float(cost[i, j - 1] + 2 * same[i]) / 3 + REPEAT)
