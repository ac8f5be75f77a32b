"""Words to techniques: names, synonyms, numbers, and a side said before or after."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from types import MappingProxyType

from cornercue.errors import InputFault
from cornercue.spelling import offer
from cornercue.technique.move import Move
from cornercue.technique.sides import SIDES, Limb, Stance, limb_of
from cornercue.technique.table import TECHNIQUES, Technique

_LISTED = "`cornercue techniques` lists the known ones"


class UnknownTechnique(InputFault):
    """A word that names no technique; one of those `known` that is near is offered."""

    def __init__(self, word: str, known: tuple[str, ...]) -> None:
        super().__init__(f"`{word}` is not a technique; {offer(normalise(word), known, _LISTED)}")


class WhichSide(InputFault):
    """A name that fits the lead and the rear technique alike."""

    def __init__(self, word: str, options: tuple[str, ...]) -> None:
        self.options = options
        super().__init__(f"`{word}` leaves the side open; write `{'` or `'.join(options)}`")


def normalise(text: str) -> str:
    """Lower case, single spaces, hyphens and underscores as spaces."""
    return re.sub(r"[\s\-_]+", " ", text.strip().lower()).strip()


def _aimed(technique: Technique) -> Iterator[str]:
    """Ways to say a base with its height: "roundhouse kick to the head", "hook to the body"."""
    if technique.kind == "kick":
        where = {"low": "leg", "body": "body", "head": "head"}[str(technique.height)]
        for name in (technique.base, *(other.removeprefix(f"{technique.limb} ") for other in technique.synonyms)):
            plain = name.removeprefix("low ").removeprefix("high ")
            yield from (f"{plain} to the {where}", f"{where} {plain}")
    elif technique.height == "body" and technique.base.startswith("body "):
        yield f"{technique.base.removeprefix('body ')} to the body"


def _names() -> dict[str, Technique]:
    names = {technique.name: technique for technique in TECHNIQUES}
    for technique in TECHNIQUES:
        for other in (*technique.synonyms, *filter(None, [technique.number])):
            names.setdefault(other, technique)
    return names


def _bases() -> dict[str, dict[Limb, Technique]]:
    bases: dict[str, dict[Limb, Technique]] = {}
    for technique in TECHNIQUES:
        if technique.limb:
            for name in (technique.name, technique.base, *technique.synonyms, *_aimed(technique)):
                bare = name.removeprefix(f"{technique.limb} ")
                bases.setdefault(bare, {})[technique.limb] = technique
    return bases


_NAMES: Mapping[str, Technique] = MappingProxyType(_names())
_BASES: Mapping[str, Mapping[Limb, Technique]] = MappingProxyType(_bases())

KNOWN_NAMES: tuple[str, ...] = tuple(_NAMES)
"""Every name, synonym and number that can be looked up without a side."""


def resolve(text: str, stance: Stance = "orthodox") -> Move:
    """The move that the words name, for a script written for `stance`.

    "straight right" is the cross of an orthodox fighter and the jab of a southpaw, and stays so called. Raises
    `UnknownTechnique` or `WhichSide`.
    """
    words = normalise(text)
    if words in _NAMES:
        technique = _NAMES[words]
        return Move(technique, technique.limb, None if words == technique.name or words[0].isdigit() else words)
    limb, rest = _split_side(words, stance)
    if limb and rest in _BASES and limb in _BASES[rest]:
        technique = _BASES[rest][limb]
        return Move(technique, limb, None if f"{limb} {rest}" == technique.name == words else words)
    if limb and rest in _NAMES and _NAMES[rest].sided:
        technique = _NAMES[rest]
        usual = rest == technique.name and not words.startswith(SIDES)
        return Move(technique, limb, None if usual else words)
    if limb is None and words in _BASES:
        raise WhichSide(text, tuple(technique.name for technique in _BASES[words].values()))
    raise UnknownTechnique(text, (*_NAMES, *_BASES))


def resolve_base(text: str, stance: Stance = "orthodox") -> tuple[Move, ...]:
    """Like `resolve`, but a name that leaves the side open gives both: the lead move, then the rear."""
    try:
        move = resolve(text, stance)
    except WhichSide:
        words = normalise(text)
        return tuple(
            Move(technique, technique.limb, None if words == technique.base else words)
            for technique in _BASES[words].values()
        )
    if move.technique.sided and move.limb is None:
        return Move(move.technique, "lead", move.written), Move(move.technique, "rear", move.written)
    return (move,)


def _split_side(words: str, stance: Stance) -> tuple[Limb | None, str]:
    """A leading or trailing left, right, lead or rear, turned into lead or rear, and what remains."""
    head, _, after = words.partition(" ")
    before, _, tail = words.rpartition(" ")
    limbs: dict[str, Limb] = {"lead": "lead", "rear": "rear", **{side: limb_of(side, stance) for side in SIDES}}
    for side, rest in ((head, after), (tail, before)):
        if side in limbs:
            return limbs[side], rest
    return None, words
