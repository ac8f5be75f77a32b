"""The process that speaks: reads one request a line, has each phrase spoken into a sound file, answers with a line.

It runs as a program of its own (`python worker.py [LIBRARY]`), so it imports nothing of Cornercue's. A request is
`{"text", "wpm", "path", "language"}` in JSON, where the language is a code (for espeak-ng the name of any of its
voices), or null for the usual voice; the answer is
`{}` when the file is there, else `{"error": why not}`, or `{"lacking": what}` where no voice of the language is
installed.

espeak-ng's sound for a phrase depends on what the process has said before (measured: up to 300 samples). Given a
LIBRARY, this process therefore loads it without starting it, and forks one child a phrase: each child says its first
phrase, so equal phrases give equal bytes. Forking is safe here because there is one thread, and the library has not
been started (after that, a fork hangs). Without a LIBRARY (macOS, Windows) this process itself speaks, and the other
side ends it after one phrase.
"""

from __future__ import annotations

import ctypes
import json
import os
import re
import sys
import time
from collections.abc import Sequence
from typing import Protocol, TextIO


class InstalledVoice(Protocol):
    """A voice as pyttsx3 lists it."""

    id: str
    languages: list[str | bytes] | None


class NoVoice(LookupError):
    """No voice of a language is installed; `str()` says of which."""


LANGUAGES = {
    "en-us": "American English", "en-gb": "British English", "de": "German", "es": "Spanish", "fr": "French",
    "id": "Indonesian", "it": "Italian", "ja": "Japanese", "ko": "Korean", "nl": "Dutch", "pt": "Portuguese",
    "ru": "Russian", "tr": "Turkish", "vi": "Vietnamese", "zh": "Chinese",
}  # fmt: skip

SETTLE = 0.0005
"""Seconds between two looks at whether espeak-ng is done."""


def serve(requests: TextIO, answers: TextIO, library: str) -> None:
    """Answer every request, until the other side hangs up."""
    if library:
        ctypes.CDLL(library, mode=ctypes.RTLD_GLOBAL)  # pyttsx3 asks for it by its short name and gets this one
        import pyttsx3.drivers.espeak  # noqa: F401  (once here is quicker than once in every child)
    for line in requests:
        if library:
            _in_child(line, answers)
        else:
            _answer(line, answers)


def _in_child(line: str, answers: TextIO) -> None:
    child = os.fork()
    if child == 0:
        try:
            _answer(line, answers)
        finally:
            os._exit(0)
    _, status = os.waitpid(child, 0)
    if status:
        _write(answers, {"error": f"the voice ended with status {os.waitstatus_to_exitcode(status)}"})


def _answer(line: str, answers: TextIO) -> None:
    try:
        _speak(**json.loads(line))
    except NoVoice as lack:
        _write(answers, {"lacking": str(lack)})
    except Exception as fault:  # whatever a speech driver throws is told to the other side
        _write(answers, {"error": f"{type(fault).__name__}: {fault}"})
    else:
        _write(answers, {})


def _write(answers: TextIO, answer: dict[str, str]) -> None:
    answers.write(json.dumps(answer) + "\n")
    answers.flush()


def _speak(text: str, wpm: int, path: str, language: str | None) -> None:
    import pyttsx3

    engine = pyttsx3.init()
    finished: list[object] = []
    engine.connect("finished-utterance", lambda **facts: finished.append(facts))
    if engine.driver_name == "espeak":
        _set_espeak(wpm, language)
    else:
        engine.setProperty("rate", wpm)
        if language:
            engine.setProperty("voice", voice_for(language, engine.getProperty("voices")))
    engine.save_to_file(text, path)
    engine.runAndWait()
    while engine.driver_name == "espeak" and not finished:  # its runAndWait comes back while a long text is spoken
        time.sleep(SETTLE)


def voice_for(language: str, voices: Sequence[InstalledVoice]) -> str:
    """The id of the first installed voice of a language, by its own list of languages or by its id.

    Raises NoVoice.
    """
    tag = re.compile(rf"(?<![a-z]){language.replace('-', '[-_]')}(?![a-z])", re.IGNORECASE)
    for voice in voices:
        named = [one.decode(errors="replace") if isinstance(one, bytes) else str(one) for one in voice.languages or []]
        if any(tag.search(one) for one in [*named, str(voice.id)]):
            return str(voice.id)
    raise NoVoice(f"no voice for {LANGUAGES[language]} is installed")


def _set_espeak(wpm: int, language: str | None) -> None:
    """Set the rate, and the language where it is not the usual one, and wait until they hold.

    Not through the engine's queue: there, pyttsx3 2.99 cancels whatever espeak-ng has not yet processed, now and
    then the new rate itself (seen once in 480 phrases under load: the phrase came out at pyttsx3's own 200).

    espeak-ng 1.52 seeds a voice's breath with the time of day (espeak-ng, pull request 1530): with one seed for
    all, equal phrases give equal bytes at any time. Older ones never seed it, and have no function to do so.
    """
    from pyttsx3.drivers import _espeak
    from pyttsx3.drivers.espeak import EspeakDriver

    if hasattr(_espeak.dll, "espeak_ng_SetRandSeed"):
        _espeak.dll.espeak_ng_SetRandSeed(1)
    while _espeak.IsPlaying():  # a voice is set at once, before rates that still wait
        time.sleep(SETTLE)
    if language:
        EspeakDriver.setProperty("voice", language)
    EspeakDriver.setProperty("rate", wpm)
    while _espeak.IsPlaying():
        time.sleep(SETTLE)


def main() -> None:
    """Keep the real standard output for answers; what drivers print goes nowhere."""
    with open(os.dup(1), "w", encoding="utf-8") as answers:
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, 1)
        os.close(nowhere)
        try:
            serve(sys.stdin, answers, sys.argv[1] if len(sys.argv) > 1 else "")
        except (ImportError, OSError) as fault:
            _write(answers, {"error": f"{type(fault).__name__}: {fault}"})


if __name__ == "__main__":
    main()
