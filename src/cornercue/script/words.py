"""A club's own words: other names for techniques, techniques like others, and new ones; how they are said and look.

Seconds that a new word leaves out are those of an ordinary technique of its kind: common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Literal, get_args

from pydantic_core import PydanticCustomError

from cornercue.feed.table import FED
from cornercue.languages import Aloud
from cornercue.script.aloud import language_named, said_of
from cornercue.script.fields import seconds_of, wrong
from cornercue.script.photo import Photo, PhotoFinder, no_photo
from cornercue.script.source import Path_
from cornercue.script.written import Position, place_of
from cornercue.spelling import listed, offer
from cornercue.technique.sides import LIMBS, SIDES, Limb
from cornercue.technique.table import ByPace, Height, Technique, TechniqueKind
from cornercue.technique.vocabulary import USUAL, Vocabulary, normalise

MAX_WORDS = 300
"""Words of one table."""

WordKey = Literal["like", "kind", "sides", "seconds", "height", "said", "language", "picture"]
KEYS: tuple[str, ...] = get_args(WordKey)
BESIDE = ("said", "language", "picture")
"""Keys that say nothing about the technique."""

KINDS: Mapping[TechniqueKind, tuple[str, float]] = {
    "strike": ("lead/rear", 0.55),
    "kick": ("lead/rear", 1.1),
    "defence": ("left/right", 0.5),
    "stance": ("none", 1.0),
    "footwork": ("none", 0.8),
    "ground": ("none", 1.5),
}
"""What a new word may be: the sides that it has and the seconds that it takes at a steady pace, if it does not say."""

SIDES_WORDS = ("lead/rear", "left/right", "none")
SLOW, SHARP = 2.0, 0.65
"""How many times as long a technique takes at learning and at sharp pace: as in the table of techniques."""


@dataclass(frozen=True)
class Words:
    """All that can be named, a club's own words too; how these are said aloud where that is not as written, and their
    pictures. `places` has those of one table, that of the script or of the club, with the line and column of each."""

    known: Vocabulary = USUAL
    said: Mapping[str, Aloud] = field(default_factory=dict)
    photos: Mapping[str, Photo] = field(default_factory=dict)
    places: Mapping[str, Position] = field(default_factory=dict)


def words_from(data: Any, known: Words, photo: PhotoFinder = no_photo) -> tuple[Words, list[tuple[Path_, str]]]:
    """A table read: its words on top of those known, and what is wrong, each with its path in the table."""
    known = replace(known, places={})
    if data is None:
        return known, []
    if not isinstance(data, dict):
        return known, [((), "a table of words belongs here, such as `tide kick: side kick`")]
    if len(data) > MAX_WORDS:
        return known, [((), f"more than {MAX_WORDS} words; keep those that the club uses")]
    faults: list[tuple[Path_, str]] = []
    for name, meaning in data.items():
        here: Path_ = (name,)
        try:
            word = _name_of(name, plainly=isinstance(meaning, str))
            technique, beside = _parted(word, meaning)
            places = {**known.places, word: place_of(name) or (1, 1)}
            known = replace(known, known=_meant(known.known, word, technique), places=places)
            language = None
            if "language" in beside:
                here = (name, "language")
                language = language_named(beside["language"])
            if "said" in beside:
                here = (name, "said")
            if "said" in beside or language:
                known = replace(known, said={**known.said, word: said_of(beside.get("said", name), language)})
            if "picture" in beside:
                here = (name, "picture")
                known = replace(known, photos={**known.photos, word: photo(here, beside["picture"])})
        except PydanticCustomError as fault:
            faults.append((here, fault.message()))
    return known, faults


def _name_of(name: str, plainly: bool) -> str:
    """The name as it is looked up. A usual one may be given a meaning of its own, but not plainly that of another."""
    word = normalise(name)
    short = len(word) < 2 and word.isascii()  # a syllable in Hangul or kana may be a word
    if short or len(word) > 40 or not any(map(str.isalpha, word)) or re.search(r"[^\w'. ]", word):
        raise wrong(f"`{name}` is no name for a technique; use letters and spaces, 40 at most")
    if {*word.split()} & {*SIDES, *LIMBS}:
        raise wrong(f"`{name}` names a side; leave it out, since it is said besides: `lead {_without_side(word)}`")
    if word in FED:
        raise wrong(f"`{name}` is fed by partners, who are told how; choose another name")
    if word in USUAL and plainly:
        raise wrong(f"`{name}` is a technique already; choose another name, or say what is meant: `{{kind: strike}}`")
    if word in USUAL.names and USUAL.names[word].limb:
        raise wrong(f"`{name}` is one hand's or leg's name already; choose another name")
    return word


def _without_side(word: str) -> str:
    return " ".join(part for part in word.split() if part not in {*SIDES, *LIMBS}) or "tide kick"


def _parted(word: str, meaning: Any) -> tuple[Mapping[str, Any], Mapping[str, Any]]:
    """What a word means as a technique, and what there is beside: how it is said, and its picture."""
    if isinstance(meaning, str):
        return {"like": meaning}, {}
    if not isinstance(meaning, dict) or not meaning:
        raise wrong(f"`{word}` needs a technique, such as `side kick`, or `{{kind: kick, seconds: 1.2}}`")
    for key in meaning:
        if key not in KEYS:
            raise wrong(f"a word has no `{key}`; {offer(key, KEYS, f'it knows {listed(KEYS)}')}")
    technique = {key: value for key, value in meaning.items() if key not in BESIDE}
    return technique, {key: value for key, value in meaning.items() if key in BESIDE}


def _meant(known: Vocabulary, word: str, meaning: Mapping[str, Any]) -> Vocabulary:
    if "like" in meaning and "kind" in meaning:
        raise wrong(f"`{word}` is either `like` a technique or of a `kind`; leave out one of the two")
    if "like" in meaning:
        like = _like(meaning["like"], known)
        if {*meaning} == {"like"}:
            return known.with_alias(word, like)
        return known.with_techniques(_alike(word, _all_of(like, known), meaning))
    return known.with_techniques(_new(word, meaning))


def _like(value: Any, known: Vocabulary) -> str:
    name = normalise(str(value))
    if name not in known:
        raise wrong(f"`{value}` is not a technique; {offer(name, known.known, '`cornercue techniques` lists them')}")
    return name


def _all_of(name: str, known: Vocabulary) -> tuple[Technique, ...]:
    """The one technique of a name, or the lead and the rear one."""
    return (known.names[name],) if name in known.names else tuple(known.bases[name].values())


def _alike(word: str, like: tuple[Technique, ...], meaning: Mapping[str, Any]) -> Iterator[Technique]:
    """Like these, but for what the word says otherwise."""
    if "sides" in meaning:
        raise wrong(f"`{word}` has the sides of what it is like; leave out `sides`")
    for technique in like:
        limb = technique.limb if len(like) > 1 else None
        yield replace(
            technique,
            name=f"{limb} {word}" if limb else word,
            base=word,
            seconds=_seconds_of(meaning["seconds"]) if "seconds" in meaning else technique.seconds,
            height=_height_of(meaning["height"]) if "height" in meaning else technique.height,
            number=None,
            synonyms=(),
        )


def _new(word: str, meaning: Mapping[str, Any]) -> Iterator[Technique]:
    if "kind" not in meaning:
        raise wrong(f"`{word}` needs `like: a technique` or `kind:`, one of {listed(tuple(KINDS))}")
    kind = next((one for one in KINDS if one == meaning["kind"]), None)
    if kind is None:
        raise wrong(f"`{meaning['kind']}` is no kind of technique; {offer(str(meaning['kind']), tuple(KINDS))}")
    usual_sides, usual_seconds = KINDS[kind]
    sides = re.sub(r"\s*/\s*|\s+or\s+|\s+and\s+", "/", str(meaning.get("sides", usual_sides)).strip())
    if sides not in SIDES_WORDS:
        raise wrong(f"`{meaning['sides']}` are no sides; {offer(sides, SIDES_WORDS)}")
    seconds = _seconds_of(meaning.get("seconds", usual_seconds))
    height = _height_of(meaning["height"]) if "height" in meaning else None
    limbs: tuple[Limb | None, ...] = LIMBS if sides == "lead/rear" else (None,)
    for limb in limbs:
        yield Technique(
            f"{limb} {word}" if limb else word, kind, word, limb=limb, sided=sides == "left/right",
            hip=limb if kind in ("strike", "kick") else None, height=height, seconds=seconds,
        )  # fmt: skip


def _seconds_of(value: Any) -> ByPace:
    """At each pace, from what it takes at a steady one."""
    steady = seconds_of(value)
    if not 0.1 <= steady <= 30:
        raise wrong(f"`{value}` is out of range; a technique takes 0.1 to 30 s")
    return ByPace(round(SLOW * steady, 3), steady, round(SHARP * steady, 3))


def _height_of(value: Any) -> Height:
    known: tuple[Height, ...] = get_args(Height)
    found = next((one for one in known if one == value), None)
    if found is None:
        raise wrong(f"`{value}` is no height; {offer(str(value), known)}")
    return found
