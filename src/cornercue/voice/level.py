"""Raw recording → clip: one rate, trimmed, faded, equally loud, peaks held.

Slow to import (numpy): only what makes new clips imports it.
"""

from __future__ import annotations

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view

from cornercue.errors import InputFault
from cornercue.sound import SAMPLE_RATE
from cornercue.voice.clip import Clip
from cornercue.voice.loudness import Sound, integrated_loudness, quick_size
from cornercue.voice.voice import RawSound

LOUDNESS = -18.0
"""LUFS. Speech: AES TD1008 (2021), secondary copy."""

CEILING = -1.5
"""dBTP that the limiter aims at, so that true peaks stay below -1 (AES TD1008 (2021), secondary copy)."""

AUDIBLE = -40.0
"""dB below the loudest 5 ms of the phrase at which sound begins and ends; a soft "h" lies about 30 below."""

SILENT = -70.0
"""dBFS: a recording that stays below has no speech in it."""

FADE_IN, FADE_OUT = 0.001, 0.005
"""Seconds. The beginning stays where an ear, or a meter, finds it; the end may take a little longer."""

SHORTEST_MEASURED = 3.0
"""Seconds. BS.1770 gates in blocks of 0.4 s: a shorter clip is measured as itself over and over, without a gap,
until it is this long. So a word of 0.25 s ("duck") gets the same mean power as a sentence. Its loudest 0.1 s stays 2
to 4 dB below that of a long sentence, which has pauses and soft syllables to make up for (measured over the drills)."""

OVERSAMPLING = 4
"""Times, to see peaks between samples: ITU-R BS.1770, annex 2 (from memory)."""

BEYOND = 256
"""Frames of silence that keep the end of a sound out of its beginning while it is interpolated."""

LOOKAHEAD = 0.002
"""Seconds before a peak at which the limiter begins to give way, and after it at which it lets go."""

NEAR, PASSES = 0.1, 5
"""Limiting takes a little loudness away: levelling is repeated until it is this near (LU), or so many times."""


def clip_from(text: str, recording: RawSound) -> Clip:
    """The recording of `text` as a clip. Raises InputFault where it holds no sound."""
    sound = _at_clip_rate(recording)
    loudest = loudest_rms(sound)
    if not loudest >= 10 ** (SILENT / 20):
        raise InputFault(f"The voice makes no sound for “{text}”: write it in other words.")
    sound = levelled(faded(trimmed(sound / loudest, 10 ** (AUDIBLE / 20))))
    return Clip(text, np.round(sound * 32767).astype(np.int16))


def _at_clip_rate(recording: RawSound) -> Sound:
    if recording.rate == SAMPLE_RATE:
        return recording.samples.astype(np.float64)
    import soxr  # type: ignore[import-untyped]  # it ships no types

    resampled: Sound = soxr.resample(recording.samples.astype(np.float64), recording.rate, SAMPLE_RATE)
    return resampled


def loudest_rms(sound: Sound, seconds: float = 0.005) -> float:
    """The root mean square of the loudest stretch this long; 0 for no sound at all."""
    frames = round(seconds * SAMPLE_RATE)
    power = np.convolve(sound**2, np.full(frames, 1 / frames)) if len(sound) else np.zeros(1)
    return float(np.sqrt(power.max()))


def trimmed(sound: Sound, threshold: float) -> Sound:
    """From the first to the last sample that reaches `threshold`; there must be one."""
    audible = np.flatnonzero(np.abs(sound) >= threshold)
    return sound[audible[0] : audible[-1] + 1]


def faded(sound: Sound) -> Sound:
    """Half a cosine up over `FADE_IN`, down over `FADE_OUT`: no click at either end."""
    shaped = sound.copy()
    rise, fall = (_rise(seconds)[: len(sound)] for seconds in (FADE_IN, FADE_OUT))
    shaped[: len(rise)] *= rise
    shaped[len(shaped) - len(fall) :] *= fall[::-1]
    return shaped


def _rise(seconds: float) -> Sound:
    frames = round(seconds * SAMPLE_RATE)
    rise: Sound = 0.5 - 0.5 * np.cos(np.pi * np.arange(1, frames + 1) / (frames + 1))
    return rise


def levelled(sound: Sound) -> Sound:
    """The sound at `LOUDNESS`, its true peaks at `CEILING` at most; where both cannot be, the ceiling holds."""
    measured = loudness(sound)
    for _ in range(PASSES):
        raised = sound * 10 ** ((LOUDNESS - measured) / 20)
        sound = limited(raised)
        if sound is raised:  # nothing was taken away
            break
        measured = loudness(sound)
        if abs(LOUDNESS - measured) < NEAR:
            break
    return sound


def loudness(sound: Sound) -> float:
    """Integrated loudness in LUFS (ITU-R BS.1770), of short sounds as `SHORTEST_MEASURED` says; silence reads -70."""
    repeats = int(np.ceil(SHORTEST_MEASURED * SAMPLE_RATE / len(sound)))
    return integrated_loudness(np.tile(sound, repeats))


def true_peak(sound: Sound) -> float:
    """The highest peak in dBTP, between samples too (ITU-R BS.1770, annex 2)."""
    return float(20 * np.log10(_peaks(sound).max()))


def _peaks(sound: Sound) -> Sound:
    """The greatest magnitude from each sample to the next."""
    size = quick_size(len(sound) + BEYOND)
    between = np.fft.irfft(np.fft.rfft(sound, size), OVERSAMPLING * size)[: OVERSAMPLING * len(sound)]
    fine = np.abs(between * OVERSAMPLING)
    peaks: Sound = np.maximum.reduce([fine[at::OVERSAMPLING] for at in range(OVERSAMPLING)])
    return peaks


def limited(sound: Sound) -> Sound:
    """The sound turned down smoothly round each true peak above `CEILING`, and untouched elsewhere."""
    ceiling = 10 ** (CEILING / 20)
    needed = ceiling / np.maximum(_peaks(sound), ceiling)
    if needed.min() == 1:
        return sound
    width = 2 * round(LOOKAHEAD * SAMPLE_RATE) + 1
    # The lowest gain within reach, then a mean over the same reach: at the peak itself the mean is that gain.
    held = np.pad(_lowest(needed, width), width // 2, mode="edge")
    window = np.hanning(width + 2)[1:-1]
    limited: Sound = sound * np.convolve(held, window / window.sum(), mode="valid")
    return limited


def _lowest(gains: Sound, width: int) -> Sound:
    """The lowest of each value and its neighbours, `width` in all."""
    lowest: Sound = sliding_window_view(np.pad(gains, width // 2, mode="edge"), width).min(axis=1)
    return lowest
