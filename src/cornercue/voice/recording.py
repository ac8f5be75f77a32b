"""A long recording → its pieces of speech: what was said between two silences, with what is wrong with it.

Slow to import (numpy). `recording_file.py` reads recordings.
"""

from __future__ import annotations

import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from weakref import finalize

import numpy as np
import numpy.typing as npt

from cornercue.errors import InputFault
from cornercue.sound import SAMPLE_RATE
from cornercue.voice.filters import filtered, high_pass
from cornercue.voice.voice import Floats, RawSound

HOP_FRAMES = 220
HOP = HOP_FRAMES / SAMPLE_RATE
"""One frame of the level curve, in samples and in seconds: a whole number of samples, or times would drift."""

RUMBLE, RINGING = 100.0, 10 * HOP_FRAMES
"""Hertz below which sound is the room's or the hand's; samples after which its filter has died away (to 1e-19)."""

STRETCH = 100 * HOP_FRAMES
"""Samples filtered at a time: a long recording needs no more memory than a short one, and all of it stays at hand."""

PAUSE = 0.6
"""Seconds of silence that part two phrases: commas and full stops inside one pause up to about 0.45."""

NEIGHBOURHOOD = 10.0
"""Seconds round a moment from which its noise floor is taken: a fan may start halfway through."""

ABOVE = 0.3
"""How far from the noise floor to the level of speech, in dB, a frame must lie to count as sound; never under 6 dB."""

SHORTEST = 0.08
"""Seconds: a shorter sound is a click."""

SOFT, LONGEST_SOFT = 3.0, 0.3
"""dB above the noise to which a sound is followed at both ends, for so many seconds at most: "three" begins softly."""

ROUND = 0.01
"""Seconds kept round a piece, so that nothing audible is faded."""

QUIET, NOISY = 12.0, 15.0
"""dB under the usual level at which a piece is too quiet; dB above the noise below which it is too noisy."""

SILENCE = -100.0
"""dBFS of no sound at all."""

Levels = npt.NDArray[np.float64]


class SoundOnDisk:
    """Samples in a nameless file, read where they are wanted: an hour and a half would fill half a gigabyte.

    From one thread. The file is gone with the object.
    """

    def __init__(self) -> None:
        """No samples yet. Raises OSError where there is no room for temporary files."""
        self._file = tempfile.TemporaryFile(buffering=0)  # noqa: SIM115
        self._frames = 0
        finalize(self, self._file.close)

    def append(self, samples: Floats) -> None:
        """More samples at the end. Raises OSError where the disk is full."""
        data = np.ascontiguousarray(samples, np.float32).tobytes()
        while data:
            data = data[self._file.write(data) or 0 :]
        self._frames += len(samples)

    def __len__(self) -> int:
        return self._frames

    def __getitem__(self, wanted: slice) -> Floats:
        start, end, _ = wanted.indices(self._frames)
        self._file.seek(4 * start)
        return np.frombuffer(self._file.read(4 * max(0, end - start)), np.float32)


@dataclass(frozen=True, eq=False)
class Recording:
    """A whole recording, mono at `SAMPLE_RATE`; `clipped` holds the seconds at which peaks were cut off."""

    samples: Floats | SoundOnDisk
    clipped: npt.NDArray[np.float64]

    def between(self, start: float, end: float) -> Floats:
        """The samples from one moment to another, in seconds."""
        return self.samples[max(0, round(start * SAMPLE_RATE)) : max(0, round(end * SAMPLE_RATE))]


@dataclass(frozen=True, eq=False)
class Piece:
    """What was said between two silences: seconds in the recording, and what is wrong with it."""

    sound: Recording
    start: float
    end: float
    flaws: tuple[str, ...]

    @property
    def seconds(self) -> float:
        """How long it lasts."""
        return self.end - self.start

    @property
    def core(self) -> Floats:
        """Its samples, from the first to the last that is heard."""
        return self.sound.between(self.start, self.end)

    def recording(self) -> RawSound:
        """The piece as a voice would give it."""
        return RawSound(self.sound.between(self.start - ROUND, self.end + ROUND), SAMPLE_RATE)


def joined(said: Sequence[Piece]) -> Piece:
    """Pieces one after the other as one, with the pauses between them."""
    flaws = dict.fromkeys(flaw for one in said for flaw in one.flaws)
    return Piece(said[0].sound, said[0].start, said[-1].end, tuple(flaws))


def levels(samples: Floats | SoundOnDisk) -> Levels:
    """The level of each `HOP` in dBFS, rumble below about 100 Hz left out."""
    whole = len(samples) // HOP_FRAMES * HOP_FRAMES
    power = [_power(samples, at, min(at + STRETCH, whole)) for at in range(0, whole, STRETCH)]
    level: Levels = 10 * np.log10(np.maximum(np.concatenate([np.zeros(0), *power]), 10 ** (SILENCE / 10)))
    return level


def _power(samples: Floats | SoundOnDisk, start: int, end: int) -> Levels:
    """The mean square of each hop between two samples; what came shortly before still rings in them."""
    before = max(0, start - RINGING)
    clean = filtered(samples[before:end], high_pass(RUMBLE))[start - before :].reshape(-1, HOP_FRAMES)
    power: Levels = np.einsum("ij,ij->i", clean, clean) / HOP_FRAMES
    return power


def noise_floor(level: Levels) -> Levels:
    """The tenth percentile of the neighbourhood of each frame, in dBFS."""
    reach, step = round(NEIGHBOURHOOD / HOP), round(1 / HOP)
    at = np.arange(0, len(level), step)
    floor = [np.percentile(level[max(0, i - reach) : i + reach], 10) for i in at]
    return np.interp(np.arange(len(level)), at, floor)


def pieces(sound: Recording) -> list[Piece]:
    """What was said, in order, split at the silences. Raises InputFault where there is no speech to be found."""
    level = levels(sound.samples)
    if len(level) < round(0.3 / HOP):
        raise InputFault("The recording is too short: nothing is said in it.")
    floor, speech = noise_floor(level), float(np.percentile(level, 95))
    if speech - float(np.median(floor)) < 8:
        raise InputFault("No pauses can be told from speech in the recording: it is silent, or the room is too loud.")
    loud = level > floor + np.maximum(6.0, ABOVE * (speech - floor))
    spans = [span for span in _spans(loud) if span[1] - span[0] >= SHORTEST / HOP]
    tops = [float(np.percentile(level[first:last], 90)) for first, last in spans]
    usual = float(np.median(tops)) if tops else 0.0
    soft = level > floor + SOFT
    return [
        _piece(sound, _followed(soft, span), _level_flaws(top, usual, float(floor[span[0]])))
        for span, top in zip(spans, tops, strict=True)
    ]


def _spans(loud: npt.NDArray[np.bool_]) -> Iterator[tuple[int, int]]:
    """First and last frame of each sound, silences shorter than `PAUSE` bridged."""
    heard = np.flatnonzero(loud)
    if len(heard):
        breaks = np.flatnonzero(np.diff(heard) > PAUSE / HOP)
        starts, ends = heard[np.r_[0, breaks + 1]], heard[np.r_[breaks, len(heard) - 1]]
        yield from ((int(start), int(end) + 1) for start, end in zip(starts, ends, strict=True))


def _followed(soft: npt.NDArray[np.bool_], span: tuple[int, int]) -> tuple[int, int]:
    """The span with its soft beginning and ending."""
    first, last = span
    most = round(LONGEST_SOFT / HOP)
    while first > max(0, span[0] - most) and soft[first - 1]:
        first -= 1
    while last < min(len(soft), span[1] + most) and soft[last]:
        last += 1
    return first, last


def _level_flaws(top: float, usual: float, floor: float) -> tuple[str, ...]:
    if top < usual - QUIET:
        return ("too quiet",)
    return ("too noisy",) if top - floor < NOISY else ()


def _piece(sound: Recording, span: tuple[int, int], flaws: tuple[str, ...]) -> Piece:
    start, end = span[0] * HOP, span[1] * HOP
    cut = np.any((sound.clipped >= start) & (sound.clipped <= end))
    return Piece(sound, start, end, (("clipped",) if cut else ()) + flaws)


def background(sound: Recording, said: list[Piece]) -> Floats:
    """The longest pause between two pieces, ten seconds at most, for what the room sounds like."""
    edges = [(a.end, b.start) for a, b in pairwise(said)]
    start, end = max(edges, key=lambda edge: edge[1] - edge[0], default=(0.0, 0.0))
    return sound.between(start, min(end, start + NEIGHBOURHOOD))
