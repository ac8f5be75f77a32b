"""The languages in which a club's own words can be said: each was tried with espeak-ng, and says words by its rules."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType


@dataclass(frozen=True, slots=True)
class Language:
    """A language by its code (ISO 639-1), what espeak-ng calls its voice, and what that voice reads.

    `letters` are the beginnings of their names in Unicode, `written` is how a person calls them.
    """

    code: str
    espeak: str
    letters: tuple[str, ...] = ("LATIN",)
    written: str = "Latin letters"


LANGUAGES: Mapping[str, Language] = MappingProxyType(
    {
        "chinese": Language("zh", "cmn-latn-pinyin", ("LATIN", "CJK UNIFIED"), "pinyin or Chinese characters"),
        "dutch": Language("nl", "nl"),
        "french": Language("fr", "fr"),
        "german": Language("de", "de"),
        "indonesian": Language("id", "id"),
        "italian": Language("it", "it"),
        "japanese": Language("ja", "ja", ("HIRAGANA", "KATAKANA"), "kana"),
        "korean": Language("ko", "ko", ("HANGUL",), "Hangul"),
        "portuguese": Language("pt", "pt-br"),
        "russian": Language("ru", "ru", ("CYRILLIC",), "Cyrillic letters"),
        "spanish": Language("es", "es"),
        "turkish": Language("tr", "tr"),
        "vietnamese": Language("vi", "vi"),
    }
)
"""By their English names. Thai is none of them: espeak-ng has sounds for only some of its letters."""


@dataclass(frozen=True, slots=True)
class Aloud:
    """How a word is said aloud: what a voice is given, and one of `LANGUAGES`; None where the letters tell it."""

    text: str
    language: str | None = None
