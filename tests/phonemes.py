"""Words as espeak-ng speaks them, with its own word for when each phoneme begins: an outside measure of vowels.

Run as a program (`python phonemes.py LIBRARY DATA WORD…`) it prints JSON; `spoken` runs it, in a process of its own
since espeak-ng cannot be started twice. The interface is espeak-ng's public `speak_lib.h`, its constants from memory.
"""

from __future__ import annotations

import ctypes
import json
import subprocess
import sys
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

SYNCHRONOUS, PHONEME_EVENTS, END, PHONEME, UTF8, RATE_SETTING, WPM = 1, 1, 0, 7, 1, 1, 165
VOWELS = "aeiouAEIOUV03@"
"""First letters of espeak-ng's English vowels, in the letters of its phoneme tables."""


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
    """A word's raw sound and the second, from its first sample, at which its first vowel begins."""

    samples: npt.NDArray[np.float32]
    rate: int
    vowel: float


def spoken(words: list[str]) -> dict[str, Spoken]:
    """Each word spoken by the library that the system voice uses."""
    from cornercue.voice.espeak import find_library

    library = find_library()
    command = [sys.executable, __file__, str(library.path), str(library.data or ""), *words]
    answer = json.loads(subprocess.run(command, capture_output=True, check=True, timeout=60).stdout)
    rate = answer["rate"]
    return {
        word: Spoken(np.array(samples, np.float32) / np.float32(32768), rate, first_vowel(phonemes) / rate)
        for word, samples, phonemes in answer["words"]
    }


def first_vowel(phonemes: list[tuple[int, str]]) -> int:
    return next(sample for sample, name in phonemes if name[:1] in VOWELS)


def main(library: str, data: str, *words: str) -> None:
    speak = ctypes.CDLL(library)
    rate = speak.espeak_Initialize(SYNCHRONOUS, 0, data.encode() or None, PHONEME_EVENTS)
    samples: list[int] = []
    phonemes: list[tuple[int, str]] = []

    def heard(wave: Any, count: int, events: Any) -> int:
        samples.extend(wave[:count] if count > 0 else [])
        while events[0].type != END:
            if events[0].type == PHONEME:
                phonemes.append((events[0].sample, events[0].id.string.decode()))
            events = ctypes.cast(ctypes.addressof(events[0]) + ctypes.sizeof(Event), ctypes.POINTER(Event))
        return 0

    kept = ctypes.CFUNCTYPE(
        ctypes.c_int, ctypes.POINTER(ctypes.c_short), ctypes.c_int, ctypes.POINTER(Event)
    )(heard)  # fmt: skip
    speak.espeak_SetSynthCallback(kept)
    speak.espeak_SetVoiceByName(b"en")
    speak.espeak_SetParameter(RATE_SETTING, WPM, 0)
    answer = []
    for word in words:
        samples.clear()
        phonemes.clear()
        text = word.encode()
        speak.espeak_Synth(text, ctypes.c_size_t(len(text) + 1), 0, 1, 0, UTF8, None, None)
        speak.espeak_Synchronize()
        answer.append((word, list(samples), list(phonemes)))
    json.dump({"rate": rate, "words": answer}, sys.stdout)


if __name__ == "__main__":
    main(*sys.argv[1:])
