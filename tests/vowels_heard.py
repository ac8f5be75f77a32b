"""Where a vowel begins, by two outside ears that know nothing of the synthesiser: pocketsphinx and the beat wave."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
import soxr  # type: ignore[import-untyped]  # it ships no types
from pocketsphinx import Decoder
from scipy.signal import butter, sosfiltfilt

from cornercue.sound import SAMPLE_RATE
from cornercue.voice.clip import Clip

FIRST_VOWELS = {"AH", "AO", "AY", "EH", "EY", "IH", "IY", "UW"}
"""Vowels of one to ten in ARPAbet."""


def aligned_vowel(clip: Clip) -> float:
    """The onset (s) of the first vowel of a clip of one word, as pocketsphinx aligns it."""
    onsets = [_aligned(clip, 0.2 + shift) for shift in (0, 0.0025, 0.005, 0.0075)]
    return max(0.0, float(np.median(onsets)))


def _aligned(clip: Clip, lead: float) -> float:
    decoder = Decoder(lm=None, loglevel="FATAL", bestpath=False, beam=1e-120, wbeam=1e-100, pbeam=1e-120)
    sound = soxr.resample(clip.samples.astype(np.float32) / 32768, SAMPLE_RATE, 16_000)
    sound = np.concatenate([np.zeros(round(lead * 16_000)), sound, np.zeros(3200)])
    sound = sound + np.random.default_rng(1).standard_normal(len(sound)) * 1e-3  # it cannot work from silence
    decoder.set_align_text(clip.text)
    for phones in (False, True):
        if phones:
            decoder.set_alignment()
        decoder.start_utt()
        decoder.process_raw((sound * 32767).astype("<i2").tobytes(), full_utt=True)
        decoder.end_utt()
    phones_heard = [(phone.name, phone.start / 100) for word in decoder.get_alignment() for phone in word]
    return next(float(start) for name, start in phones_heard if name in FIRST_VOWELS) - lead


def rises(samples: npt.NDArray[np.int16]) -> float:
    """Seconds to the first vowel by the beat wave of Cummins and Port (1998), by a description of others, read.

    The band of the vowels, rectified, smoothed to 10 Hz; the beat is half-way up its first rise, from 10 to 90%. The
    corners of the band (500 and 2000 Hz) and the least rise (30% of the highest) are from memory.
    """
    band = sosfiltfilt(butter(2, (500, 2000), "bandpass", fs=SAMPLE_RATE, output="sos"), samples.astype(float))
    wave = sosfiltfilt(butter(2, 10, fs=SAMPLE_RATE, output="sos"), np.abs(band))
    inner = wave[1:-1]
    peak = 1 + int(np.flatnonzero((inner >= wave[:-2]) & (inner > wave[2:]) & (inner > 0.3 * wave.max()))[0])
    low, high = (int(np.flatnonzero(wave[: peak + 1] < part * wave[peak])[-1]) for part in (0.1, 0.9))
    return (low + high) / 2 / SAMPLE_RATE
