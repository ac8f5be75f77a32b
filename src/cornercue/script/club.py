"""A club's file: what holds for every script of its folder and below, found on the way up from a script."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from os.path import isfile, realpath
from pathlib import Path
from typing import Any

from pydantic_core import PydanticCustomError

from cornercue.errors import InputFault
from cornercue.languages import Aloud
from cornercue.script.aloud import language_named, said_of
from cornercue.script.amount import MAX_LEVEL
from cornercue.script.club_doses import NO_DOSES, Doses, doses_from
from cornercue.script.faults import ClubFaults, Fault, ScriptFaults
from cornercue.script.fields import text_of, wrong
from cornercue.script.photo import photos_beside
from cornercue.script.source import Path_, Source, read_source
from cornercue.script.words import Words, words_from
from cornercue.spelling import listed, offer
from cornercue.technique.vocabulary import Vocabulary, normalise

NAME = "club.yaml"
"""The name of the file; the folder that it lies in is the root of the club's library."""

MOST_FOLDERS_UP = 12
"""Folders above a script in which the file is looked for."""

KEYS = ("club", "levels", "doses", "words")


@dataclass(frozen=True)
class LevelNames:
    """The names of levels, and how these are said aloud where that is not as they are written."""

    names: Mapping[int, str] = field(default_factory=dict)
    said: Mapping[str, Aloud] = field(default_factory=dict)

    def __or__(self, other: LevelNames) -> LevelNames:
        """These, with the other ones on top."""
        return LevelNames({**self.names, **other.names}, {**self.said, **other.said})


@dataclass(frozen=True)
class Club:
    """A club's name, its names of levels, its doses, and its words."""

    name: str = ""
    levels: LevelNames = field(default_factory=LevelNames)
    doses: Doses = field(default_factory=lambda: NO_DOSES)
    words: Words = field(default_factory=Words)


NO_CLUB = Club()


def root_of(folder: Path) -> Path | None:
    """The folder with a club's file, at or above this one; None where there is none."""
    here = Path(realpath(folder))
    return next((one for one in (here, *here.parents)[:MOST_FOLDERS_UP] if isfile(one / NAME)), None)


def vocabulary_of(folder: Path) -> Vocabulary:
    """The names that hold in a folder, by the club's file there or above; raises `InputFault` where there is none."""
    root = root_of(folder)
    if root is None:
        raise InputFault(f"there is no {NAME} in {folder} or above")
    return read_club(root / NAME).words.known


def read_club(path: Path) -> Club:
    """The club that a file holds; raises `ScriptFaults`."""
    source = read_source(path)
    if not isinstance(source.data, dict) or "club" not in source.data:
        start = Fault(source.file, 1, 1, "a club's file starts with `club: its name`")
        raise ScriptFaults([*source.faults, start])
    name, faults = _name_in(source)
    levels, wrong_levels = levels_from(source.data.get("levels"))
    doses, wrong_doses = doses_from(source.data.get("doses"))
    beside = photos_beside(source, path.parent, f"the folder of {NAME}")
    words, wrong_words = words_from(source.data.get("words"), Words(), beside)
    faults += [
        *_unknown_keys(source),
        *faults_at("levels", wrong_levels, source),
        *faults_at("doses", wrong_doses, source),
        *faults_at("words", wrong_words, source),
    ]
    if faults or source.faults:
        raise ScriptFaults([*source.faults, *faults])
    return Club(name, levels, doses, words)


class Clubs:
    """The clubs' files that one run meets, each read once for all scripts of its library."""

    def __init__(self) -> None:
        self._read: dict[Path, Club | ScriptFaults] = {}

    def of(self, root: Path | None) -> Club:
        """The club whose library has this root; `NO_CLUB` where there is none. Raises `ClubFaults`, whenever asked."""
        if root is None:
            return NO_CLUB
        if root not in self._read:
            try:
                self._read[root] = read_club(root / NAME)
            except ScriptFaults as found:
                self._read[root] = found
        club = self._read[root]
        if isinstance(club, ScriptFaults):
            raise ClubFaults(club.faults)
        return club


def _name_in(source: Source) -> tuple[str, list[Fault]]:
    try:
        return text_of(source.data["club"]), []
    except PydanticCustomError as fault:
        return "", [Fault(source.file, *source.places[("club",)], fault.message())]


def _unknown_keys(source: Source) -> Iterator[Fault]:
    for key in source.data:
        if key not in KEYS:
            text = f"a club's file has no `{key}`; {offer(key, KEYS, f'it knows {listed(KEYS)}')}"
            yield Fault(source.file, *source.keys[(key,)], text)


def levels_from(data: Any) -> tuple[LevelNames, list[tuple[Path_, str]]]:
    """The names of levels, `{1: {name: White}}` or `{1: White}`, and what is wrong, with paths in the table."""
    levels = LevelNames()
    faults: list[tuple[Path_, str]] = []
    if data is not None and not isinstance(data, dict):
        return levels, [((), "names of levels belong here, such as `1: {name: White}`")]
    for number, about in (data or {}).items():
        try:
            levels |= _named(_level_of(number), about if isinstance(about, dict) else {"name": about})
        except PydanticCustomError as fault:
            faults.append(((number,), fault.message()))
    return levels, faults


def _level_of(number: str) -> int:
    if not number.isdecimal() or len(number) > 2 or not 1 <= int(number) <= MAX_LEVEL:
        raise wrong(f"`{number}` is no level; levels go from 1 to {MAX_LEVEL}")
    return int(number)


def _named(level: int, about: Mapping[str, Any]) -> LevelNames:
    if "name" not in about or not {*about} <= {"name", "said", "language"} or not isinstance(about["name"], str):
        raise wrong("a level has a name, and `said` where that is said otherwise, or `language`: `{name: White}`")
    name = text_of(about["name"])
    if len(name) > 40:
        raise wrong("this is too long for the name of a level; 40 letters at most")
    language = language_named(about["language"]) if "language" in about else None
    otherwise = "said" in about or language
    return LevelNames({level: name}, {normalise(name): said_of(about.get("said", name), language)} if otherwise else {})


def faults_at(key: str, found: list[tuple[Path_, str]], source: Source) -> Iterator[Fault]:
    """Faults of a table, each at the key of its entry, or where the table starts."""
    for path, text in found:
        here = (key, *path)
        yield Fault(source.file, *(source.keys[here] if path else source.places[here]), text)
