"""How alike pieces of sound are, as words, whoever says them.

A piece is compared with the same words in a reference voice: cepstra of the mel spectrum, both brought to one length,
then warped (dynamic time warping, Sakoe and Chiba 1978; mel scale as O'Shaughnessy 1987; both from memory). What two
voices do not share (pitch, tone of the microphone) goes out with each voice's own mean and spread.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np
import numpy.typing as npt

from cornercue.sound import SAMPLE_RATE
from cornercue.voice.filters import band_pass, filtered

Matrix = npt.NDArray[np.floating]

FRAMES, BANDS, CEPSTRA, BEND = 96, 26, 12, 24
"""Frames a piece is brought to, mel bands, cepstra kept (loudness first), frames that a warp may stray."""

DEPTH = 7.0
"""Nepers of power below its loudest band at which a piece counts as silent: what lies lower is the room's."""

CHUNK = 200
"""Pairs compared at once: more need more memory and are hardly faster."""

HUSH = 25
"""Frames that are left of a silence inside a phrase."""

VOICED = 0.46
"""Autocorrelation above which 40 ms are voiced; speech always is somewhere, a cough, a breath or a page hardly.
Measured on 23 words in two voices, 20 dB over the room and more: 0.54 to 1; on 240 bursts of white to brown noise: 0.39
at most."""

VOWEL = (100.0, 1000.0)
"""Hertz between which a vowel repeats itself. A knock or a cough is mostly deeper, and hiss mostly higher."""


def features(heard: Sequence[Matrix], noise: Matrix | float = 0.0) -> Matrix:
    """Cepstra of sounds one after the other, each as its `power`, shape (frames, CEPSTRA); `noise` is the room's.

    Silences are cut to `HUSH`: a pause inside a line does not make it another line.
    """
    clean = np.concatenate([np.maximum(one - 1.5 * noise, 0) for one in heard])
    clean = clean[_kept(clean.sum(axis=1))]
    cepstra = np.log(np.maximum(clean, max(clean.max(), 1e-9) * np.exp(-DEPTH))) @ _cosines()
    kept: Matrix = cepstra.astype(np.float32)
    return kept


def _kept(loudness: Matrix) -> npt.NDArray[np.bool_]:
    """Which frames are left where long silences are cut."""
    silent = loudness < loudness.max() * np.exp(-DEPTH)
    at = np.arange(len(silent))
    since = at - np.maximum.accumulate(np.where(silent, -1, at))
    return since <= HUSH


@cache
def _cosines() -> Matrix:
    """The cosine transform (type II, orthonormal) from bands to the first cepstra, shape (BANDS, CEPSTRA)."""
    turns = np.pi * (np.arange(BANDS)[:, None] + 0.5) * np.arange(CEPSTRA) / BANDS
    cosines: Matrix = np.cos(turns) * np.sqrt(2 / BANDS)
    cosines[:, 0] = np.sqrt(1 / BANDS)
    return cosines


def power(samples: npt.NDArray[np.generic]) -> Matrix:
    """The power in each mel band every 10 ms, shape (frames, BANDS)."""
    size, hop = 512, 220
    sound = _brightened(np.asarray(samples, np.float64))
    sound = np.pad(sound, (0, max(0, size - len(sound))))
    frames = np.lib.stride_tricks.sliding_window_view(sound, size)[::hop] * np.hanning(size)
    bands = np.abs(np.fft.rfft(frames)) ** 2 @ _mel_bands(size).T
    return bands.astype(np.float32)


def _brightened(sound: Matrix) -> Matrix:
    """Deep sounds turned down, as is usual before speech is compared (pre-emphasis)."""
    brightened: Matrix = np.append(sound[:1], sound[1:] - 0.97 * sound[:-1])
    return brightened


def is_voiced(samples: npt.NDArray[np.generic]) -> bool:
    """Whether some 40 ms of the sound repeat themselves 70 to 400 times a second, as a vowel does."""
    size = round(0.04 * SAMPLE_RATE)
    if len(samples) < size:
        return False
    sound = _brightened(filtered(samples, band_pass(*VOWEL)))
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


@dataclass(frozen=True, eq=False)
class Manner:
    """What is a voice's own, and is taken out: the mean and the spread of its cepstra."""

    mean: Matrix
    spread: Matrix

    def without(self, pieces: Sequence[Matrix]) -> Matrix:
        """Pieces at one length, without the manner: shape (pieces, FRAMES, 2 × CEPSTRA), then changes per frame."""
        plain = [_with_changes(_stretched((piece - self.mean) / self.spread)) for piece in pieces]
        return np.stack(plain) if plain else np.zeros((0, FRAMES, 2 * CEPSTRA))


def manner_of(voice: Sequence[Matrix]) -> Manner:
    """That of the pieces of one voice. Higher cepstra, which differ most between voices, weigh less."""
    everything = np.concatenate(voice)
    return Manner(everything.mean(axis=0), (everything.std(axis=0) + 1e-9) * (1 + 0.15 * np.arange(CEPSTRA)))


def _stretched(piece: Matrix) -> Matrix:
    """The piece brought to `FRAMES` frames."""
    at, ends = np.linspace(0, 1, len(piece)), np.linspace(0, 1, FRAMES)
    return np.stack([np.interp(ends, at, column) for column in piece.T], axis=1)


def _with_changes(piece: Matrix) -> Matrix:
    return np.concatenate([piece, 2 * np.gradient(piece, axis=0)], axis=1, dtype=np.float32)


def warped(one: Matrix, other: Matrix, pairs: npt.NDArray[np.int64]) -> Matrix:
    """Distances after warping of the pairs of indices, shape (2, pairs); some at a time, so that memory is bounded."""
    some = np.split(pairs, range(CHUNK, pairs.shape[1], CHUNK), axis=1)
    return np.concatenate([_warped(one[first], other[second]) for first, second in some])


def _warped(one: Matrix, other: Matrix) -> Matrix:
    """Distances of one to one, shape (pairs,); both have the shape (pairs, FRAMES, 2 × CEPSTRA)."""
    squares = np.sum(one**2, axis=2)[:, :, None] + np.sum(other**2, axis=2)[:, None, :]
    between = np.sqrt(np.maximum(squares - 2 * one @ other.transpose(0, 2, 1), 0))
    between = np.ascontiguousarray(between.transpose(1, 2, 0))
    away = np.full((FRAMES + 1, FRAMES + 1, len(one)), np.inf, np.float32)
    away[0, 0] = 0
    for i in range(FRAMES):
        for j in range(max(0, i - BEND), min(FRAMES, i + BEND + 1)):
            here = between[i, j]
            slant = away[i, j] + 2 * here
            away[i + 1, j + 1] = np.minimum(slant, np.minimum(away[i, j + 1], away[i + 1, j]) + here)
    distance: Matrix = away[FRAMES, FRAMES] / (2 * FRAMES)
    return distance
