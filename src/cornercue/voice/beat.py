"""When a word is heard to fall: its perceptual centre (P-centre), estimated from the sound.

Words whose sounds begin at even intervals are heard as uneven: the listener's beat lies near the onset of the vowel,
not at the first consonant (Morton, Marcus and Frankish 1976, whose abstract was read; Marcus 1981, from memory).
The estimator follows Scott (1998, from memory), who found that the rise of energy in the band of the vowels accounts
for most of it: the moment at which the envelope of that band first rises through a part of its peak.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

BAND = (300.0, 2500.0)
"""Hz: the first two formants of most vowels; hissing ("s", "t") lies mostly above, voicing of consonants below."""

SMOOTHED = 0.02
"""Seconds over which the envelope is smoothed: two periods of a low voice, shorter than any vowel."""

RISE = 0.4
"""The part of the loudest moment's level that the envelope must reach. A hiss or a nasal in the band stays below."""


def beat_of(samples: npt.NDArray[np.int16], rate: int) -> float:
    """Seconds from the first of `samples`, shape (frames,), mono at `rate` Hz, to its P-centre."""
    envelope = _envelope(samples.astype(np.float64), rate)
    return int(np.argmax(envelope >= RISE * envelope.max())) / rate


def _envelope(sound: npt.NDArray[np.float64], rate: int) -> npt.NDArray[np.float64]:
    """The level of `BAND` over time, by a filter without delay and a window centred on each frame."""
    spectrum = np.fft.rfft(sound, 2 * len(sound))
    hertz = np.fft.rfftfreq(2 * len(sound), 1 / rate)
    spectrum[(hertz < BAND[0]) | (hertz > BAND[1])] = 0
    power = np.fft.irfft(spectrum)[: len(sound)] ** 2
    window = np.hanning(round(SMOOTHED * rate) + 2)[1:-1]
    envelope: npt.NDArray[np.float64] = np.sqrt(np.convolve(power, window / window.sum(), mode="full"))
    return envelope[len(window) // 2 :][: len(sound)]
