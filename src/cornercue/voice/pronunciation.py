"""A phrase as it is given to a voice: words that are said otherwise than written, and each language by itself."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType

from cornercue.languages import Aloud
from cornercue.voice.language import language_of

AS_WRITTEN: Mapping[str, Aloud] = MappingProxyType({})
"""No word is said otherwise than written."""

NEXT_WORD, COMMA, FULL_STOP = 0.05, 0.12, 0.3
"""Seconds between two pieces of a phrase, by the sign between them: words of one breath, a comma said briskly, a new
sentence. Common practice, no source."""

_GAPS = {",": COMMA, "、": COMMA, ";": COMMA, ":": COMMA, **dict.fromkeys(".!?。！？", FULL_STOP)}


@dataclass(frozen=True, slots=True)
class Utterance:
    """Words of one language, the seconds of silence before the next piece, and the language where it is named."""

    text: str
    gap: float
    language: str | None = None


@dataclass(frozen=True)
class Pronunciation:
    """How words are said aloud: each by its usual name (lower case, single spaces), with what a voice is given."""

    words: Mapping[str, Aloud]

    def respelled(self, text: str) -> str:
        """The phrase as a voice is given it; unchanged where no such word is in it."""
        return "".join(aloud.text for _, aloud in self.stretches(text))

    def stretches(self, text: str) -> Iterator[tuple[str, Aloud]]:
        """The phrase cut at its words: each stretch as written, and as it is said."""
        composed = unicodedata.normalize("NFC", text)
        if not self.words or not self._any.search(composed):
            yield text, Aloud(text)
            return
        at = 0
        for found in self._any.finditer(composed):
            if at < found.start():
                yield composed[at : found.start()], Aloud(composed[at : found.start()])
            yield found[0], self._said(found)
            at = found.end()
        if at < len(composed):
            yield composed[at:], Aloud(composed[at:])

    def _said(self, found: re.Match[str]) -> Aloud:
        """What is said for a word; its English ending is said only where it is in the voice's own language."""
        said = self._composed.get(_usual(found["word"]))
        if said is None:  # a capital that has no small letter of its own
            return Aloud(found[0])
        return said if said.language or language_of(said.text) else Aloud(said.text + found["ending"])

    @cached_property
    def _composed(self) -> Mapping[str, Aloud]:
        return {_usual(word): said for word, said in self.words.items()}

    @cached_property
    def _any(self) -> re.Pattern[str]:
        """Any of the words, whole, the longest first; between its parts a space or a hyphen."""
        longest_first = sorted(self._composed, key=len, reverse=True)
        ways = "|".join(r"[\s\-_]+".join(map(re.escape, word.split())) for word in longest_first)
        return re.compile(
            rf"(?<!\w)(?<!\w['’])(?P<word>{ways})(?P<ending>(?:e?s|['’]s)?)(?!\w)(?!['’](?!s\b)\w)", re.IGNORECASE
        )


def _usual(word: str) -> str:
    return " ".join(re.split(r"[\s\-_]+", unicodedata.normalize("NFC", word).lower()))


def utterances(said: Sequence[Aloud]) -> list[Utterance]:
    """The phrase in pieces of one language each, which its words have or else the letters tell; mostly one piece."""
    runs: list[tuple[str | None, str | None, list[str]]] = []
    for word, named in _words(said):
        sounds = any(map(str.isalnum, word))
        language = (named, None if named else language_of(word)) if sounds or not runs else runs[-1][:2]
        if runs and runs[-1][:2] == language:
            runs[-1][2].append(word)
        elif sounds:
            runs.append((*language, [word]))
    if len(runs) < 2:
        return [Utterance("".join(one.text for one in said), 0.0, runs[0][0] if runs else None)]
    pieces = [(" ".join(words), named) for named, _, words in runs]
    gaps = [*(_GAPS.get(text[-1], NEXT_WORD) for text, _ in pieces[:-1]), 0.0]
    return [Utterance(text, gap, named) for (text, named), gap in zip(pieces, gaps, strict=True)]


def _words(said: Sequence[Aloud]) -> Iterator[tuple[str, str | None]]:
    """What stands between spaces, each with the first language that a letter of it has."""
    named = [one.language for one in said for _ in one.text]
    for found in re.finditer(r"\S+", "".join(one.text for one in said)):
        yield found[0], next(filter(None, named[found.start() : found.end()]), None)
