"""A phrase as it is given to a voice: words that are said otherwise than written, and each language by itself."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType

from cornercue.voice.language import language_of

AS_WRITTEN: Mapping[str, str] = MappingProxyType({})
"""No word is said otherwise than written."""

NEXT_WORD, COMMA, FULL_STOP = 0.05, 0.12, 0.3
"""Seconds between two pieces of a phrase, by the sign between them: words of one breath, a comma said briskly, a new
sentence. Common practice, no source."""

_GAPS = {",": COMMA, "、": COMMA, ";": COMMA, ":": COMMA, **dict.fromkeys(".!?。！？", FULL_STOP)}


@dataclass(frozen=True, slots=True)
class Utterance:
    """Words of one language, and the seconds of silence before the next piece."""

    text: str
    gap: float


@dataclass(frozen=True)
class Pronunciation:
    """How words are said aloud: each by its usual name (lower case, single spaces), with what a voice is given."""

    words: Mapping[str, str]

    def respelled(self, text: str) -> str:
        """The phrase as a voice is given it; unchanged where no such word is in it."""
        return "".join(spoken for _, spoken in self.stretches(text))

    def stretches(self, text: str) -> Iterator[tuple[str, str]]:
        """The phrase cut at its words: each stretch as written, and as it is said."""
        composed = unicodedata.normalize("NFC", text)
        if not self.words or not self._any.search(composed):
            yield text, text
            return
        at = 0
        for found in self._any.finditer(composed):
            if at < found.start():
                yield composed[at : found.start()], composed[at : found.start()]
            yield found[0], self._said(found)
            at = found.end()
        if at < len(composed):
            yield composed[at:], composed[at:]

    def _said(self, found: re.Match[str]) -> str:
        """What is said for a word; several of it are said so too, in a language that has an ending for that."""
        said = self._composed.get(_usual(found["word"]))
        if said is None:  # a capital that has no small letter of its own
            return found[0]
        return said if language_of(said) else said + found["many"]

    @cached_property
    def _composed(self) -> Mapping[str, str]:
        return {_usual(word): said for word, said in self.words.items()}

    @cached_property
    def _any(self) -> re.Pattern[str]:
        """Any of the words, whole, the longest first; between its parts a space or a hyphen."""
        longest_first = sorted(self._composed, key=len, reverse=True)
        ways = "|".join(r"[\s\-_]+".join(map(re.escape, word.split())) for word in longest_first)
        return re.compile(
            rf"(?<!\w)(?<!\w['’])(?P<word>{ways})(?P<many>(?:e?s)?)(?!\w)(?!['’](?!s\b)\w)", re.IGNORECASE
        )


def _usual(word: str) -> str:
    return " ".join(re.split(r"[\s\-_]+", unicodedata.normalize("NFC", word).lower()))


def utterances(text: str) -> list[Utterance]:
    """The phrase in pieces of one language each, which is told by the letters; most phrases are one piece."""
    runs: list[tuple[str | None, list[str]]] = []
    for word in text.split():
        sounds = any(map(str.isalnum, word))
        language = language_of(word) if sounds or not runs else runs[-1][0]
        if runs and runs[-1][0] == language:
            runs[-1][1].append(word)
        elif sounds:
            runs.append((language, [word]))
    if len(runs) < 2:
        return [Utterance(text, 0.0)]
    *others, last = (" ".join(words) for _, words in runs)
    return [*(Utterance(run, _GAPS.get(run[-1], NEXT_WORD)) for run in others), Utterance(last, 0.0)]
