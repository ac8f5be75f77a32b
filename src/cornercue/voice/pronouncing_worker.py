"""The process that asks espeak-ng for phones: words in as a JSON list, a JSON object of their phones out.

It runs as a program of its own (`python pronouncing_worker.py LIBRARY`), as worker.py does, so it imports nothing of
Cornercue's. The interface is espeak-ng's public `speak_lib.h`, its constants from memory.
"""

from __future__ import annotations

import ctypes
import json
import re
import sys

RETRIEVAL, UTF8, IPA = 1, 1, 2
SEPARATOR = ord("_") << 8
VOICE = b"en-us"

NO_PHONE = re.compile(r"\([a-z-]+\)|[ˈˌ]")
"""Marks of another language, and of stress."""


def main(path: str) -> None:
    library = ctypes.CDLL(path)
    if library.espeak_Initialize(RETRIEVAL, 0, None, 0) < 0 or library.espeak_SetVoiceByName(VOICE):
        sys.exit("espeak-ng does not start")
    library.espeak_TextToPhonemes.restype = ctypes.c_char_p
    json.dump({word: phones(library, word) for word in json.load(sys.stdin)}, sys.stdout)


def phones(library: ctypes.CDLL, word: str) -> list[str]:
    """The phones of one word; espeak-ng takes it clause by clause and moves the pointer on, at the end to nowhere."""
    rest, found = ctypes.c_char_p(word.encode()), []
    while rest.value:
        said = library.espeak_TextToPhonemes(ctypes.byref(rest), UTF8, IPA | SEPARATOR)
        found += re.split(r"[_\s]+", NO_PHONE.sub("", said.decode()))
    return [phone for phone in found if phone]


if __name__ == "__main__":
    main(sys.argv[1])
