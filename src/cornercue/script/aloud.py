"""How a word of a club's own is said aloud: `said`, in letters that a voice reads, and `language`."""

from __future__ import annotations

import unicodedata
from typing import Any

from cornercue.languages import LANGUAGES, Aloud
from cornercue.script.fields import text_of, wrong
from cornercue.spelling import listed, nearest

LONGEST_SAID = 80
"""Letters of a word as it is said aloud; it may take more of them than the word has."""

_READ_ALOUD = ("LATIN", "HANGUL", "HIRAGANA", "KATAKANA")
"""How Unicode begins the names of the letters that there is a voice for where no language is given."""


def language_named(value: Any) -> str:
    """The language that a script names, one of `LANGUAGES`."""
    name = str(text_of(value)).lower()
    if name in LANGUAGES:
        return name
    if name == "english":
        raise wrong("a word is said in English where it has no `language`; leave it out")
    near = nearest(name, [*LANGUAGES])
    meant = f"did you mean `{near}`? " if near else ""
    raise wrong(f"words cannot be said in `{value}`; {meant}there are {listed([*LANGUAGES])}")


def said_of(value: Any, language: str | None = None) -> Aloud:
    """How a word is said aloud, in letters that a voice reads: one of its language, if it has one."""
    text = unicodedata.normalize("NFKC", text_of(value))
    if len(text) > LONGEST_SAID:
        raise wrong(f"this has {len(text)} letters; a word is said in {LONGEST_SAID} at most")
    for letter in filter(str.isalpha, text):
        if language:
            _check_in(letter, language)
        else:
            _check(letter)
    return Aloud(text, language)


def _check_in(letter: str, language: str) -> None:
    """Raises where the language's own voice does not read a letter."""
    if not unicodedata.name(letter, "").startswith(LANGUAGES[language].letters):
        written = LANGUAGES[language].written
        raise wrong(f"`{letter}` is not read in `{language}`; write `said` in {written}, or leave out `language`")


def _check(letter: str) -> None:
    """Raises where no voice tells by a letter what to make of it."""
    name = unicodedata.name(letter, "")
    reading = [language for language, one in LANGUAGES.items() if name.startswith(one.letters)]
    beside = f", or add `language: {reading[0]}`" if reading else ""
    if name.startswith("CJK"):
        raise wrong(f"a voice does not read `{letter}` as it is meant; write `said` in kana, or in Hangul{beside}")
    if not name.startswith(_READ_ALOUD):
        latin = "in Latin letters, in Hangul or in kana"
        raise wrong(f"no voice reads `{letter}` aloud; write `said` {latin}{beside}")
