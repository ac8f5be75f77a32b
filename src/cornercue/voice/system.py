"""The system voice: pyttsx3 in processes of its own, so that a phrase sounds the same each time it is made."""

from __future__ import annotations

import os
import platform
import sys
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from importlib import metadata
from pathlib import Path
from threading import Lock
from typing import Literal

from cornercue.errors import MachineLacks
from cornercue.languages import LANGUAGES
from cornercue.voice.espeak import SYSTEM_FOLDERS, Library, data_of, find_library, languages_in
from cornercue.voice.language import SCRIPTS, language_of
from cornercue.voice.process import NoLanguage, NoSound, Overtime, VoiceProcess
from cornercue.voice.voice import LacksLanguage, RawSound, VoiceDescription

Accent = Literal["american", "british"]

WORDS_PER_MINUTE = 165
"""The normal rate. Adults speak 150 to 200 words a minute (Dayton Metro Library, secondary copy)."""


@dataclass(frozen=True, slots=True)
class _Manner:
    """How an accent or a language is asked for: espeak-ng's voice and its normal rate, and the language elsewhere."""

    espeak: str
    wpm: int
    language: str


_ACCENTS: Mapping[Accent, _Manner] = {
    "american": _Manner("en-us+f2", 158, "en-us"),
    "british": _Manner("gmw/en", WORDS_PER_MINUTE, "en-gb"),
}
"""The American voice and rate are those of 24 tried that two recognisers understood best (docs/measured.md)."""

PATIENCE = 20.0
"""Seconds after which a phrase is given up."""

MOST_WORKERS = 4


class SystemVoice:
    """Speaks through pyttsx3: espeak-ng on Linux, the system's own speech on macOS and Windows."""

    def __init__(
        self,
        accent: Accent | None = None,
        folders: Iterable[Path] = SYSTEM_FOLDERS,
        patience: float = PATIENCE,
        language: str | None = None,
    ) -> None:
        """Find the voice without loading it; `folders` may hold the system's espeak-ng. Raises MachineLacks.

        Without an accent espeak-ng speaks American; elsewhere the system's settings decide. With a `language`, one of
        `LANGUAGES`, everything is said in that.
        """
        self._library = find_library(folders) if sys.platform == "linux" else None
        self._accent = accent or ("american" if self._library else None)
        self._language = language
        self._manner = _manner_of(self._accent, language)
        if self._library and language:
            _check_known(language, self._library)
        self._identity = _identity(self._library, self._manner)
        self._patience = patience
        self._lock = Lock()
        self._idle: list[VoiceProcess] = []
        self._busy: list[VoiceProcess] = []
        self._closed = False

    @property
    def identity(self) -> str:
        """pyttsx3's version, the speech library's, and the normal rate.

        On macOS and Windows the system's version stands for the voice: a change of the voice chosen in its
        settings is not noticed.
        """
        return self._identity

    @property
    def description(self) -> VoiceDescription:
        """English and how many other languages, counted in espeak-ng's own data; elsewhere only the system knows."""
        library = self._library
        if not library:
            return VoiceDescription("as the system's speech settings say", "the system's own speech, through pyttsx3")
        origin = "espeak-ng from pip" if library.data else f"espeak-ng from {library.path.parent}"
        known = len(set(languages_in(data_of(library))))
        english = f"{(self._accent or 'american').capitalize()} English"
        languages = f"{english}, and {known - 1} others" if known else english
        return VoiceDescription(languages, f"{origin}, through pyttsx3")

    @property
    def at_once(self) -> int:
        """A worker a core, four at most."""
        return min(MOST_WORKERS, os.cpu_count() or 1)

    def say(self, text: str, rate: float) -> RawSound:
        """`text` at `rate` times the normal rate; a phrase that fails is tried once more. Raises MachineLacks."""
        wanted = self._wanted(text, rate)
        try:
            try:
                return self._said(text, *wanted)
            except NoSound:
                return self._said(text, *wanted)
        except NoLanguage as lack:
            raise LacksLanguage(f"The system voice cannot say “{text[:60]}”: {lack}. {_advice()}") from lack
        except NoSound as fault:
            raise MachineLacks(f"The system voice cannot say “{text[:60]}”: {fault}. {_advice()}") from fault
        except Overtime:
            raise MachineLacks(
                f"The system voice took more than {self._patience:g} seconds over “{text[:60]}”. "
                "Try again with fewer programs running."
            ) from None

    def _wanted(self, text: str, rate: float) -> tuple[int, str | None]:
        """Words a minute and the voice or language: that of the words where they are in another script."""
        other = None if self._language else language_of(text)
        manner = self._manner
        if other or not manner:
            return round(WORDS_PER_MINUTE * rate), other
        return round(manner.wpm * rate), manner.espeak if self._library else manner.language

    def _said(self, text: str, wpm: int, language: str | None) -> RawSound:
        worker = self._take()
        useful = False
        try:
            recording = worker.say(text, wpm, language, self._patience)
            useful = self._library is not None  # elsewhere a process speaks once, so that phrases repeat exactly
            return recording
        finally:
            self._give_back(worker, useful)

    def _take(self) -> VoiceProcess:
        with self._lock:
            if self._closed:
                raise MachineLacks("The system voice has been closed.")
            worker = self._idle.pop() if self._idle else VoiceProcess(self._library)
            self._busy.append(worker)
            return worker

    def _give_back(self, worker: VoiceProcess, useful: bool) -> None:
        with self._lock:
            self._busy.remove(worker)
            useful = useful and not self._closed
            if useful:
                self._idle.append(worker)
        if not useful:
            worker.close()

    def close(self) -> None:
        """End all processes, also those that are speaking: their `say` then raises MachineLacks."""
        with self._lock:
            self._closed = True
            idle, self._idle = self._idle, []
            for worker in self._busy:
                worker.kill()
        for worker in idle:
            worker.close()


def _manner_of(accent: Accent | None, language: str | None) -> _Manner | None:
    if language:
        return _Manner(LANGUAGES[language].espeak, WORDS_PER_MINUTE, LANGUAGES[language].code)
    return _ACCENTS[accent] if accent else None


def _check_known(language: str, library: Library) -> None:
    """Raises LacksLanguage where espeak-ng's data, if they are found, have no voice of a language."""
    known = {*languages_in(data_of(library))}
    if known and LANGUAGES[language].espeak.partition("-")[0] not in known:
        raise LacksLanguage(f"The espeak-ng of this machine has no voice for {language.capitalize()}.")


def _identity(library: Library | None, manner: _Manner | None) -> str:
    try:
        version = metadata.version("pyttsx3")
    except metadata.PackageNotFoundError:
        raise MachineLacks("The system voice needs pyttsx3. Install it: `pip install pyttsx3`.") from None
    speech = library.identity if library else platform.platform()
    spoken = f"{manner.espeak if library else manner.language} at {manner.wpm}" if manner else f"{WORDS_PER_MINUTE}"
    return f"system; pyttsx3 {version}; {speech}; {spoken} wpm; seed 1; {', '.join(SCRIPTS)} by script"


def _advice() -> str:
    if sys.platform == "linux":
        return "Put its parts in place again: `pip install --force-reinstall pyttsx3 espeakng-loader`."
    return "See whether a voice is installed in the system's speech settings."
