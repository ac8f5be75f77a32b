"""Every count in every voice: its clip, the beat found in its sound, and where its synthesiser lets the vowel begin."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from scipy.signal import correlate

from cornercue.sound import SAMPLE_RATE
from cornercue.timing.phrasebook import counted, phrasebook
from cornercue.voice.clip import Clip
from cornercue.voice.level import clip_from
from cornercue.voice.voice import RawSound
from phonemes import Spoken, spoken

ESPEAK = {"en": "english", "en-us": "english", "en-us+f2": "english", "ja": "japanese", "ko": "korean"}
"""Voices of espeak-ng, with the language that each counts in."""

ALLOWED = 0.020
"""Seconds that the beat may lie from the vowel."""

FARTHER = {
    ("ja", 1.0): {"に": 0.023, "ご": 0.026},
    ("ja", 1.1): {"ご": 0.027},
    ("ko", 1.0): {counted("korean", 39): 0.022},
    ("ko", 1.1): {counted("korean", 39): 0.021},
    ("ko", 1.2): {counted("korean", 67): 0.023, counted("korean", 69): 0.023},
    ("natural", 1.0): {"one": 0.056},
    ("natural", 1.1): {"three": 0.023},
    ("natural", 1.2): {"twenty-seven": 0.021},
}
"""Counts whose two measures lie farther apart, by voice and rate, and how far at most (s). What is known of each is in
`docs/measured.md`."""

Onsets = dict[str, tuple[Clip, float]]
"""Words with their clips, and seconds from the first frame to the vowel."""


def counts(language: str, numbers: Iterable[int] = range(1, 100)) -> list[str]:
    number = phrasebook().number if language == "english" else lambda n: counted(language, n)
    return [number(n) for n in numbers]


def onsets(words: dict[str, Spoken]) -> Onsets:
    """Each word's clip, and the onset of its vowel in it: where the clip lies in the raw sound is found by matching."""
    return {word: _placed(word, sound) for word, sound in words.items()}


def _placed(word: str, sound: Spoken) -> tuple[Clip, float]:
    clip = clip_from(word, RawSound(sound.samples, sound.rate))
    matched = correlate(sound.samples, clip.samples.astype(np.float32), "full", "fft")
    trimmed = (int(matched.argmax()) - len(clip.samples) + 1) / SAMPLE_RATE
    return clip, max(0.0, sound.vowel - trimmed)


def by_espeak(voice: str, numbers: Iterable[int] = range(1, 100), rate: float = 1.0) -> Onsets:
    return onsets(spoken(counts(ESPEAK[voice], numbers), voice, rate))


def naturally(numbers: Iterable[int] = range(1, 100), rate: float = 1.0) -> Onsets:
    from natural_phonemes import spoken_naturally

    return onsets(spoken_naturally(counts("english", numbers), rate))


def errors(found: Onsets) -> dict[str, float]:
    """Seconds from the vowel to the beat, by word."""
    return {word: clip.beat - vowel for word, (clip, vowel) in found.items()}


def beyond(voice: str, found: Onsets, rate: float = 1.0) -> dict[str, float]:
    """The errors that are more than is allowed to their word in this voice at this rate."""
    allowed = FARTHER.get((voice, rate), {})
    return {word: error for word, error in errors(found).items() if abs(error) > allowed.get(word, ALLOWED)}
