"""Which language a phrase is in, told by its script; and the voice that sends each phrase to one that speaks it."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cached_property
from typing import TYPE_CHECKING

from cornercue.errors import MachineLacks

if TYPE_CHECKING:
    from cornercue.voice.voice import RawSound, Voice, VoiceDescription

SCRIPTS = {"ko": re.compile(r"[\u1100-\u11ff\u3130-\u318f\uac00-\ud7a3]"), "ja": re.compile(r"[\u3041-\u30ff]")}
"""Hangul (jamo and syllables) and the kana, by their Unicode blocks."""


def language_of(text: str) -> str | None:
    """`ko` or `ja` for words written in Hangul or kana; None for what any other script may be."""
    return next((code for code, script in SCRIPTS.items() if script.search(text)), None)


class VoiceByLanguage:
    """A voice of one language, with another voice for the phrases that are in Korean or Japanese."""

    def __init__(self, voice: Voice, language: str, other: Callable[[], Voice]) -> None:
        """`language` is the code of what `voice` speaks; `other` is started with the first phrase that needs it."""
        self._voice = voice
        self._language = language
        self._open = other

    @cached_property
    def identity(self) -> str:
        """Both voices, so that a change of either makes their clips again."""
        try:
            return f"{self._voice.identity}; else {self._other.identity}"
        except MachineLacks:  # this machine has only the one, which is enough until a phrase needs the other
            return self._voice.identity

    @property
    def description(self) -> VoiceDescription:
        """That of the voice itself."""
        return self._voice.description

    @property
    def at_once(self) -> int:
        """As many as the voice itself."""
        return self._voice.at_once

    def speaks(self, language: str) -> bool:
        """Whether the voice itself has a language, by what espeak-ng calls that, in whatever accent."""
        return self._language.partition("-")[0] == language.partition("-")[0]

    def say(self, text: str, rate: float) -> RawSound:
        """`text` by the voice that speaks its language. Raises InputFault, MachineLacks."""
        needed = language_of(text)
        own = needed is None or self._language.startswith(needed)
        return (self._voice if own else self._other).say(text, rate)

    @cached_property
    def _other(self) -> Voice:
        return self._open()

    def close(self) -> None:
        """End both."""
        self._voice.close()
        if "_other" in self.__dict__:
            self._other.close()
