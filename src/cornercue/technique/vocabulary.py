"""The names that techniques go by: those of the table, and those that a club adds."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from cornercue.technique.sides import Limb
from cornercue.technique.table import TECHNIQUES, Technique


def normalise(text: str) -> str:
    """Lower case, single spaces, hyphens and underscores as spaces."""
    return re.sub(r"[\s\-_]+", " ", text.strip().lower()).strip()


def _otherwise(technique: Technique) -> Iterator[str]:
    """Other ways to say a base: with its height ("roundhouse kick to the head", "hook to the body"), or as a strike
    ("elbow strike")."""
    if technique.kind == "kick" and technique.height:
        where = {"low": "leg", "body": "body", "head": "head"}[technique.height]
        for name in (technique.base, *(other.removeprefix(f"{technique.limb} ") for other in technique.synonyms)):
            plain = name.removeprefix("low ").removeprefix("high ")
            yield from (f"{plain} to the {where}", f"{where} {plain}")
    elif technique.height == "body" and technique.base.startswith("body "):
        yield f"{technique.base.removeprefix('body ')} to the body"
    if technique.kind == "strike" and not technique.base.endswith(" strike"):
        yield f"{technique.base} strike"


def _without_accents(text: str) -> str:
    return "".join(letter for letter in unicodedata.normalize("NFD", text) if not unicodedata.combining(letter))


@dataclass(frozen=True)
class Vocabulary:
    """Every name that can be looked up: without a side, and with the side left open (or said besides)."""

    names: Mapping[str, Technique]
    bases: Mapping[str, Mapping[Limb, Technique]]

    def __contains__(self, name: object) -> bool:
        return name in self.names or name in self.bases

    @cached_property
    def known(self) -> tuple[str, ...]:
        """All of them, to offer the nearest."""
        return (*self.names, *self.bases)

    @cached_property
    def with_accents(self) -> Mapping[str, str]:
        """The names that have accents, by what they are without."""
        return {plain: name for name in self.known if not name.isascii() and (plain := _without_accents(name)) != name}

    def with_alias(self, word: str, known: str) -> Vocabulary:
        """The same with another name for what a known one stands for."""
        names = {word: self.names[known]} if known in self.names else {}
        bases = {word: self.bases[known]} if known in self.bases else {}
        return Vocabulary({**self.names, **names}, {**self.bases, **bases})

    def with_techniques(self, new: Iterable[Technique]) -> Vocabulary:
        """The same with techniques of a club's own."""
        added = tuple(new)
        return Vocabulary({**self.names, **_names(added)}, {**self.bases, **_bases(added)})


def _names(techniques: Iterable[Technique]) -> dict[str, Technique]:
    all_of_them = tuple(techniques)
    names = {technique.name: technique for technique in all_of_them}
    for technique in all_of_them:
        for other in (*technique.synonyms, *filter(None, [technique.number])):
            names.setdefault(other, technique)
    return names


def _bases(techniques: Iterable[Technique]) -> dict[str, dict[Limb, Technique]]:
    bases: dict[str, dict[Limb, Technique]] = {}
    for technique in techniques:
        if technique.limb:
            for name in (technique.name, technique.base, *technique.synonyms, *_otherwise(technique)):
                bare = name.removeprefix(f"{technique.limb} ")
                bases.setdefault(bare, {})[technique.limb] = technique
    return bases


USUAL = Vocabulary(_names(TECHNIQUES), _bases(TECHNIQUES))
"""The names of the table."""

KNOWN_NAMES: tuple[str, ...] = tuple(USUAL.names)
"""Every usual name, synonym and number that can be looked up without a side."""
