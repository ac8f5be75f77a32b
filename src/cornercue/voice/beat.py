"""When a word is heard to fall: its perceptual centre (P-centre), estimated from the sound alone, in any voice.

The rule, for every voice and language: the beat of a count is where the vowel of its first stressed syllable begins;
in Korean and Japanese, which have no stress, the vowel of the first syllable. So "twenty-five" falls on the "e" of
"twen", and "eleven" on its second "e".

Words whose sounds begin at even intervals are heard as uneven: the beat lies near the onset of the vowel (Morton,
Marcus and Frankish 1976, the first page read; by Morton's own page of it, read in part, words with their vowels even
"sounded better but still not right"). A word of two syllables with the stress on the first behaves like one syllable,
with the stress on the second its beat comes later (Bell and Biasca 1994, abstract read); where the accent lies hardly
matters in Japanese (Bell and Morishima 1994, abstract read). Three steps find that vowel:

1. the syllable is the first peak of the level that is at least `STRONG` times the highest one; the level has the band
   of the voice in it, so that a hiss or a burst makes no syllable;
2. the vowel is what follows on the loudest moment of that peak;
3. the beat is where the sound, going back from there, ceases to be loud and voiced, or is plainly another sound;
   a vowel that rises slowly is followed further down.

That people may hear the beat a constant time later does not matter where beats are to be even. How far it lies from a
second measure, the synthesisers' own timing, is in `docs/measured.md`: 590 of 594 counts within 20 ms.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

EDGES = np.array([80.0, *np.geomspace(400.0, 3500.0, 9)])
"""Hz. The band of the voice, and eight over what tells a vowel from "r", "w" and "n"; most hiss above (from memory)."""

WINDOW, STEP = 0.03, 0.002
"""Seconds that one look at the spectrum takes in (three periods of a low voice), and from look to look."""

SYLLABLE = 0.06
"""Seconds over which the level is smoothed to tell syllables apart; people speak four to six a second."""

VOICE = 0.3
"""The share of the voice's band in the level, as an exponent; the other bands have the rest."""

STRONG, LOUDEST = 0.4, 1.0
"""The part of the highest peak that makes a syllable a strong one; and that of the loudest syllable alone."""

VOWEL = 0.1
"""Seconds from its loudest moment over which the vowel's spectrum is taken: "r" glides slowly into "ee"."""

LOUD = 0.42
"""The least size of the whole spectrum, and of the voice's band, that still are the vowel; both as parts of theirs
where the syllable is at its loudest."""

RISING, SAME = 0.3, 0.96
"""That for a sound so like the vowel, by the likeness (a cosine) of the spectra: a vowel that rises slowly."""

OTHER, UNLIKE, ALIKE = 0.18, 0.78, 0.81
"""Another sound: so much of it (as a part of the vowel's size) is not in the vowel's spectrum, and so little is it like
the vowel; and the likeness at which the vowel follows on it. A long vowel that glides, as in "forty", may for a moment
be less alike. All these figures were chosen on the counts to 99 of the voices; the tests have other words too."""

APART = 0.94
"""The likeness instead of all that in words that begin without stress: there a sound like the vowel may come before it,
as the "l" of "eleven", where nothing else tells where the stressed vowel begins."""

LATE = 0.0037
"""Seconds by which so much of the vowel is reached after it begins, chosen for all counts in all voices together."""

TINY = float(np.finfo(float).tiny)

Amplitudes = npt.NDArray[np.float64]


def beat_of(samples: npt.NDArray[np.int16], rate: int, strong: float = STRONG) -> float:
    """Seconds from the first of `samples`, shape (frames,), mono at `rate` Hz, to its P-centre; 0 for silence.

    `strong` is how strong a syllable must be to have the beat: `LOUDEST` for words that begin without stress.
    """
    bands = _bands(samples, rate)
    voice, level = bands[:, 0], np.linalg.norm(bands[:, 1:], axis=1)
    at = _first_vowel(voice, level, strong)
    size = _size_as_at(at, np.linalg.norm(bands, axis=1))
    alike = _likeness(bands[: at + 1], bands[at : at + round(VOWEL / STEP) + 1].mean(axis=0))
    loud = np.minimum(size, _size_as_at(at, voice))
    start = _after_last(~((loud >= LOUD) | (loud >= RISING) & (alike >= SAME))[:at])
    if strong == LOUDEST:
        other, again = alike < APART, alike >= APART
    else:
        rest = size * np.sqrt(np.maximum(0, 1 - alike**2))
        other, again = (alike < UNLIKE) & (rest >= OTHER), (alike >= ALIKE) | (rest < OTHER)
    if after := _after_last(other[start:at]):
        start += after + int(again[start + after :].argmax())
    return max(0.0, start * STEP - LATE)


def _size_as_at(at: int, sizes: Amplitudes) -> Amplitudes:
    """The sizes up to the look `at`, as parts of the one there."""
    return sizes[: at + 1] / max(float(sizes[at]), TINY)


def _likeness(looks: Amplitudes, vowel: Amplitudes) -> Amplitudes:
    """The cosine of each look's spectrum and the vowel's."""
    sizes = np.linalg.norm(looks, axis=1) * np.linalg.norm(vowel)
    return np.asarray(looks @ vowel / np.maximum(sizes, TINY))


def _after_last(looks: npt.NDArray[np.bool_]) -> int:
    """The look after the last one of these; 0 where there is none."""
    found = np.flatnonzero(looks)
    return int(found[-1]) + 1 if len(found) else 0


def _bands(samples: npt.NDArray[np.int16], rate: int) -> Amplitudes:
    """Amplitudes, shape (looks, bands), each look centred on its moment; tilted up 3 dB an octave (speech falls 6)."""
    width = round(WINDOW * rate)
    padded = np.pad(samples.astype(np.float64), (width // 2, width))
    starts = (np.arange(int(len(samples) / rate / STEP) + 1) * STEP * rate).round().astype(int)
    looks = np.lib.stride_tricks.sliding_window_view(padded, width)[starts] * np.hanning(width + 2)[1:-1]
    size = 1 << width.bit_length()  # a power of two, for speed
    hertz = np.fft.rfftfreq(size, 1 / rate)
    tilted = np.abs(np.fft.rfft(looks, size)) * np.sqrt(hertz)
    of_band = np.digitize(hertz, EDGES)[:, None] == np.arange(1, len(EDGES))
    return np.asarray(np.sqrt(tilted**2 @ of_band))


def _first_vowel(voice: Amplitudes, level: Amplitudes, strong: float) -> int:
    """The look at the loudest moment of the first strong syllable."""
    half = round(SYLLABLE / STEP / 2)
    window = np.hanning(2 * half + 3)[1:-1]
    smooth = np.convolve(voice**VOICE * level ** (1 - VOICE), window / window.sum())[half:-half]
    before, after = np.append(0.0, smooth[:-1]), np.append(smooth[1:], 0.0)
    peaks = np.flatnonzero((smooth >= before) & (smooth >= after) & (smooth >= strong * smooth.max()))
    start = max(0, int(peaks[0]) - half)
    return start + int(level[start : peaks[0] + half + 1].argmax())
