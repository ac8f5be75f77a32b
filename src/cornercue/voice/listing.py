"""What voices there are on this machine, told without loading one."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from cornercue.errors import MachineLacks
from cornercue.voice.espeak import find_library
from cornercue.voice.natural import NaturalVoice


@dataclass(frozen=True)
class VoiceEntry:
    """A voice by its name, what it speaks, where it comes from; or why it is not there."""

    name: str
    language: str
    origin: str
    lack: str = ""


def listed() -> list[VoiceEntry]:
    """Every voice that has a name, also those that this machine lacks."""
    return [_seen("natural", _natural), _seen("system", _system)]


def _seen(name: str, look: Callable[[], VoiceEntry]) -> VoiceEntry:
    try:
        return look()
    except MachineLacks as fault:
        return VoiceEntry(name, "", "", str(fault))


def _natural() -> VoiceEntry:
    return VoiceEntry("natural", NaturalVoice().language, "Piper with the voice Joe, from the extra `natural`")


def _system() -> VoiceEntry:
    if sys.platform != "linux":
        return VoiceEntry("system", "as the system's speech settings say", "the system's own speech, through pyttsx3")
    library = find_library()
    origin = "espeak-ng from pip" if library.data else f"espeak-ng from {library.path.parent}"
    known = len(set(_languages(library.data or _system_data(library.path))))
    languages = f"English, and {known - 1} others" if known else "English"
    return VoiceEntry("system", languages, f"{origin}, through pyttsx3")


def _system_data(library: Path) -> Path:
    """Where a system's espeak-ng has its data: beside the library, or in /usr/share (Debian; Fedora and others)."""
    beside = library.with_name("espeak-ng-data")
    return beside if beside.is_dir() else Path("/usr/share/espeak-ng-data")


def _languages(data: Path) -> Iterator[str]:
    """The codes of the languages that espeak-ng's data folder has voices for, dialects as their language."""
    for path in (data / "lang").rglob("*"):
        if path.is_file():
            words = path.read_text(encoding="utf-8", errors="replace").split()
            if "language" in words[:-1]:
                yield words[words.index("language") + 1].partition("-")[0]
