"""How far apart two words sound: their phones, and the edit distance between them.

The words of the vocabulary stand in `phones.txt`, which says where its rows come from: American English in ARPAbet,
stress left out. A word that is not there is spoken by espeak-ng, where there is one, and so is the word it is compared
with, since the two notations do not mix. Without espeak-ng the letters are compared.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import cache
from importlib import resources
from types import MappingProxyType

Phones = tuple[str, ...]

UNSPOKEN: Mapping[str, Phones] = MappingProxyType({})
"""What espeak-ng says, where it is not asked or not there."""


def spoken_where_needed(words: Iterable[str]) -> Mapping[str, Phones]:
    """The words as espeak-ng speaks them if the table lacks one of them and espeak-ng is there; else nothing."""
    asked = frozenset(words)
    return UNSPOKEN if all(map(phones, asked)) else _spoken(asked)


def distance(one: str, other: str, spoken: Mapping[str, Phones] = UNSPOKEN) -> int:
    """The least number of phones to change, add or leave out to make one word the other (Levenshtein).

    Where a word has several pronunciations, the closest ones count. Where `by_spelling`, it is the number of letters.
    """
    if by_spelling(one, other, spoken):
        return edits(one, other)
    if phones(one) and phones(other):
        return min(edits(a, b) for a in phones(one) for b in phones(other))
    return edits(spoken[one], spoken[other])


def by_spelling(one: str, other: str, spoken: Mapping[str, Phones] = UNSPOKEN) -> bool:
    """Whether there are no phones to compare the two words by."""
    return not (phones(one) and phones(other)) and not (one in spoken and other in spoken)


def edits(one: Sequence[str], other: Sequence[str]) -> int:
    """The Levenshtein distance of two sequences."""
    row = list(range(len(other) + 1))
    for i, a in enumerate(one, start=1):
        before, row[0] = row[0], i
        for j, b in enumerate(other, start=1):
            before, row[j] = row[j], min(row[j] + 1, row[j - 1] + 1, before + (a != b))
    return row[-1]


def phones(word: str) -> tuple[Phones, ...]:
    """Every pronunciation of a word of the table; none of another one."""
    return _table().get(word.lower(), ())


@cache
def _table() -> Mapping[str, tuple[Phones, ...]]:
    text = resources.files("cornercue.coaching").joinpath("phones.txt").read_text(encoding="utf-8")
    rows = (line.split(maxsplit=1) for line in text.splitlines() if line and not line.startswith("#"))
    return {word: tuple(tuple(way.split()) for way in ways.split("|")) for word, ways in rows}


@cache
def _spoken(words: frozenset[str]) -> Mapping[str, Phones]:
    from cornercue.voice.pronouncing import pronounced

    return pronounced(sorted(words))
