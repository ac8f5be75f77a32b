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

ESPEAK = {"en": "english", "en-us": "english", "ja": "japanese", "ko": "korean"}
"""Voices of espeak-ng, with the language that each counts in."""

ALLOWED = 0.020
"""Seconds that the beat may lie from the vowel."""

FARTHER = {
    "en": set[str](), "en-us": set[str](), "ja": {"に", "し", "ご", "じゅう"},
    "ko": {counted("korean", n) for n in range(60, 70)},
    "natural": {"one", "eleven", "forty-seven", "thirty-three", "thirty-nine"},
}  # fmt: skip
"""Counts whose two measures lie farther apart, `FARTHEST` at most. Korean sixty begins with a glide whose vowel has a
first part of 115 ms instead of the nominal 50; "one" has a mark of stress as long as a vowel."""

FARTHEST = 0.060

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


def by_espeak(voice: str, numbers: Iterable[int] = range(1, 100)) -> Onsets:
    return onsets(spoken(counts(ESPEAK[voice], numbers), voice))


def naturally(numbers: Iterable[int] = range(1, 100)) -> Onsets:
    from natural_phonemes import spoken_naturally

    return onsets(spoken_naturally(counts("english", numbers)))


def errors(found: Onsets) -> dict[str, float]:
    """Seconds from the vowel to the beat, by word."""
    return {word: clip.beat - vowel for word, (clip, vowel) in found.items()}


def beyond(voice: str, found: Onsets) -> dict[str, float]:
    """The errors that are more than is allowed to their word in this voice."""
    allowed = {word: FARTHEST if word in FARTHER[voice] else ALLOWED for word in found}
    return {word: error for word, error in errors(found).items() if abs(error) > allowed[word]}
