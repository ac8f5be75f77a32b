"""Words as espeak-ng speaks them, with its own word for when each phoneme begins: an outside measure of vowels.

Run as a program (`python phonemes.py LIBRARY DATA VOICE WPM WORD…`) it prints JSON; `spoken` runs it. Each word is said
by a child of its own, as the system voice does it, since what was said before changes the sound. The interface is
espeak-ng's public `speak_lib.h`, its constants from memory.

After a liquid, a glide or a nasal, espeak-ng tells of a vowel only when its first part is over (a comment in
`Generate()` of its synthesize.c, read), which nominally takes 50 ms (`VOWEL_FRONT_LENGTH` there). The vowel begins
somewhere in that part, as a vowel does after such a sound; the middle is taken, so there the measure itself is sure to
25 ms only.
"""

from __future__ import annotations

import ctypes
import json
import os
import re
import subprocess
import sys
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

SYNCHRONOUS, PHONEME_EVENTS, END, PHONEME, UTF8, RATE_SETTING, WPM = 1, 1, 0, 7, 1, 1, 165
IPA = 2 | ord("_") << 8

VOWELS = "aeiouAEIOUV03@"
"""First letters of espeak-ng's vowels, in the letters of its phoneme tables."""

IPA_VOWELS = "aeiouæɑɒɔəɛɜɪʊʌɐᵻɚɝøɯɨ"

SLIDING = re.compile(r"_?[lrwjmnNL*]")
"""How the liquids, glides and nasals begin there; "*" is the Korean tap."""

FRONT = 0.050
"""Seconds, nominally at `WPM`, that the first part of a vowel takes."""


class Name(ctypes.Union):
    """What an event tells: here the phoneme's name."""

    _fields_ = (("number", ctypes.c_int), ("name", ctypes.c_char_p), ("string", ctypes.c_char * 8))


class Event(ctypes.Structure):
    """espeak_EVENT of `speak_lib.h`."""

    _fields_ = (
        ("type", ctypes.c_int), ("unique_identifier", ctypes.c_uint), ("text_position", ctypes.c_int),
        ("length", ctypes.c_int), ("audio_position", ctypes.c_int), ("sample", ctypes.c_int),
        ("user_data", ctypes.c_void_p), ("id", Name),
    )  # fmt: skip


@dataclass(frozen=True)
class Spoken:
    """A word's raw sound and the second, from its first sample, at which its first stressed vowel begins."""

    samples: npt.NDArray[np.float32]
    rate: int
    vowel: float


def spoken(words: list[str], voice: str = "en", rate: float = 1.0) -> dict[str, Spoken]:
    """Each word by the system voice's library, in this voice of its (`en-us`, `ko` …), at this rate."""
    from cornercue.voice.espeak import find_library

    library = find_library()
    wpm = str(round(WPM * rate))
    command = [sys.executable, __file__, str(library.path), str(library.data or ""), voice, wpm, *words]
    done = subprocess.run(command, capture_output=True, check=True, timeout=120)
    found = {}
    for word, line in zip(words, done.stdout.splitlines(), strict=True):
        hertz, samples, phonemes, ipa = json.loads(line)
        told = [(sample / hertz, name) for sample, name in phonemes]
        sound = np.array(samples, np.float32) / np.float32(32768)
        found[word] = Spoken(sound, hertz, stressed_vowel(told, unstressed(ipa) if voice.startswith("en") else 0))
    return found


def unstressed(ipa: str) -> int:
    """How many vowels stand before the first stressed one, in phonemes parted by "_"; 0 where none is stressed."""
    vowels = [phone for phone in re.split(r"[_\s-]+", ipa) if any(letter in IPA_VOWELS for letter in phone)]
    return next((at for at, phone in enumerate(vowels) if "ˈ" in phone or "ˌ" in phone), 0)


def stressed_vowel(phonemes: list[tuple[float, str]], before: int) -> float:
    """The second at which the vowel begins that has so many `before` it."""
    at = [index for index, (_, name) in enumerate(phonemes) if name[:1] in VOWELS][before]
    after_slide = at > 0 and SLIDING.match(phonemes[at - 1][1])
    return phonemes[at][0] - (FRONT / 2 if after_slide else 0.0)


def main(library: str, data: str, voice: str, wpm: str, *words: str) -> None:
    speak = ctypes.CDLL(library)  # loaded here and started in each child: once started, it cannot be forked
    for word in words:
        child = os.fork()
        if child == 0:
            print(json.dumps(said(speak, data, voice, int(wpm), word)), flush=True)
            os._exit(0)
        if os.waitpid(child, 0)[1]:
            sys.exit(f"espeak-ng cannot say {word}")


def said(
    speak: ctypes.CDLL, data: str, voice: str, wpm: int, word: str
) -> tuple[int, list[int], list[tuple[int, str]], str]:
    """The rate (Hz), the samples, when (sample) each phoneme begins, and the phonemes in IPA with their stress."""
    rate = speak.espeak_Initialize(SYNCHRONOUS, 0, data.encode() or None, PHONEME_EVENTS)
    samples: list[int] = []
    phonemes: list[tuple[int, str]] = []

    def heard(wave: Any, count: int, events: Any) -> int:
        samples.extend(wave[:count] if count > 0 else [])
        while events[0].type != END:
            if events[0].type == PHONEME:
                phonemes.append((events[0].sample, events[0].id.string.decode(errors="replace")))
            events = ctypes.cast(ctypes.addressof(events[0]) + ctypes.sizeof(Event), ctypes.POINTER(Event))
        return 0

    kept = ctypes.CFUNCTYPE(
        ctypes.c_int, ctypes.POINTER(ctypes.c_short), ctypes.c_int, ctypes.POINTER(Event)
    )(heard)  # fmt: skip
    speak.espeak_SetSynthCallback(kept)
    if speak.espeak_SetVoiceByName(voice.encode()):
        sys.exit(f"espeak-ng has no voice {voice}")
    speak.espeak_SetParameter(RATE_SETTING, wpm, 0)
    text = word.encode()
    speak.espeak_TextToPhonemes.restype = ctypes.c_char_p
    ipa = speak.espeak_TextToPhonemes(ctypes.byref(ctypes.c_char_p(text)), UTF8, IPA).decode()
    speak.espeak_Synth(text, ctypes.c_size_t(len(text) + 1), 0, 1, 0, UTF8, None, None)
    speak.espeak_Synchronize()
    return rate, samples, phonemes, ipa


if __name__ == "__main__":
    main(*sys.argv[1:])
