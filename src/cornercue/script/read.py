"""Reading a drill: file to `Drill`, with every fault of the file at once."""

from __future__ import annotations

from dataclasses import replace
from itertools import count
from os.path import isfile, realpath
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from cornercue.script.club import NAME as CLUB_FILE
from cornercue.script.club import NO_CLUB, Club, Clubs, faults_at, levels_from, root_of
from cornercue.script.club_doses import Doses, with_doses
from cornercue.script.faults import Fault, ScriptFaults
from cornercue.script.fields import wrong
from cornercue.script.model import Drill, IncludedDrill
from cornercue.script.photo import PhotoFinder, no_photo, photos_beside
from cornercue.script.sentences import faults_of
from cornercue.script.source import Path_, Source, parse_source, read_source
from cornercue.script.step import AT
from cornercue.script.words import words_from

MAX_INCLUDES = 100
MAX_NESTED_INCLUDES = 8

_A_CLUB = "this is a club's file, not a drill; name the folder that it lies in, or a script there"


def read_drill(path: Path, clubs: Clubs | None = None) -> Drill:
    """The drill that a file holds; raises `ScriptFaults`, which are `ClubFaults` where its club's file has them.

    `clubs` has those that were read before, for whoever reads several scripts in one go. Includes are looked up beside
    the file. They may not leave the library, which is the folder of the club's file, or that of the script where there
    is none.
    """
    root = root_of(path.parent)
    library = _Library(root or path.parent, (clubs or Clubs()).of(root))
    try:
        return library.read(path)
    except ScriptFaults as fault:
        raise ScriptFaults([*fault.faults, *library.faults]) from None


def parse_drill(text: str, file: str = "script.yaml") -> Drill:
    """The drill that a text holds, without includes; raises `ScriptFaults`."""
    return _validated(parse_source(text, file), {}, NO_CLUB, no_photo)


class _Library:
    """The folder of one script, or its club's: opens its includes, each once, and refuses circles and ways out."""

    def __init__(self, folder: Path, club: Club) -> None:
        self._root = Path(realpath(folder))
        self._club = club
        self._where = "the folder of this script" if club is NO_CLUB else f"the folder of {CLUB_FILE}"
        self._opened: dict[Path, Drill | None] = {}  # None where the file is faulty
        self._height: dict[Path, int] = {}  # how deep the includes below a file go
        self._stack: list[Path] = []
        self.faults: list[Fault] = []

    def read(self, path: Path) -> Drill:
        self._stack.append(Path(realpath(path)))
        try:
            source = read_source(path)
            photo = photos_beside(source, self._root, self._where)
            return _validated(source, {"open": lambda value: self._include(value, path.parent)}, self._club, photo)
        finally:
            self._stack.pop()

    def _include(self, value: Any, folder: Path) -> IncludedDrill:
        path = self._inside(value, folder)
        target = Path(realpath(path))
        if target in self._stack:
            names = " includes ".join(one.name for one in (*self._stack[self._stack.index(target) :], target))
            raise wrong(f"the includes go round in a circle: {names}")
        if len(self._stack) + self._height.get(target, 0) > MAX_NESTED_INCLUDES:
            raise wrong(f"includes are nested more than {MAX_NESTED_INCLUDES} deep; include the innermost one directly")
        if target not in self._opened:
            self._opened[target] = self._open(path)
        here = self._stack[-1]
        self._height[here] = max(self._height.get(here, 0), 1 + self._height.get(target, 0))
        drill = self._opened[target]
        if drill is None:
            raise wrong(f"`{value}` cannot be included until it is mended")
        return IncludedDrill(str(path), drill)

    def _open(self, path: Path) -> Drill | None:
        if len(self._opened) >= MAX_INCLUDES:
            raise wrong(f"more than {MAX_INCLUDES} files are included; split the session")
        try:
            return self.read(path)
        except ScriptFaults as faults:
            self.faults.extend(faults.faults)
            return None

    def _inside(self, value: Any, folder: Path) -> Path:
        if not isinstance(value, str) or not value.strip() or "\0" in value:
            raise wrong("the name of a script file belongs here, such as `warm-up.yaml`")
        path = folder / value.strip()
        # os.path, since pathlib raises for a link to itself and for a name too long
        if not Path(realpath(path)).is_relative_to(self._root):
            raise wrong(f"`{value}` lies outside {self._where}; includes stay inside it: copy the script into it")
        if not isfile(path):
            raise wrong(f"there is no script `{value}` in this folder")
        return path


def _validated(source: Source, context: dict[str, Any], club: Club, photo: PhotoFinder) -> Drill:
    if not isinstance(source.data, dict):
        start = Fault(source.file, 1, 1, "a drill script starts with `drill: its title` and has `steps:`")
        raise ScriptFaults([*source.faults, start])
    if "club" in source.data and not {"drill", "steps"} & {*source.data}:
        raise ScriptFaults([*source.faults, Fault(source.file, *source.keys[("club",)], _A_CLUB)])
    steps = _placed(source.data.get("steps"), ("steps",), source, club.doses)
    data = {**source.data, AT: source.places[()], "steps": steps}
    if "steps" not in source.data:
        del data["steps"]
    words, wrong_words = words_from(data.get("words"), club.words, photo)
    levels, wrong_levels = levels_from(data.get("levels"))
    faults = [*source.faults, *faults_at("words", wrong_words, source), *faults_at("levels", wrong_levels, source)]
    heads = {key: data.get(key) for key in ("stance", "junior")}
    levels = club.levels | levels
    aloud = replace(words, said={**levels.said, **words.said})
    own = {"searched": count(), "vocabulary": words.known, "words": aloud, "levels": dict(levels.names)}
    try:
        drill = Drill.model_validate({"levels": {}, "words": {}, **data}, context={**context, **heads, **own})
    except ValidationError as error:
        raise ScriptFaults([*faults, *faults_of(error, source)]) from None
    if faults:
        raise ScriptFaults(faults)
    return drill


def _placed(steps: Any, path: Path_, source: Source, doses: Doses) -> Any:
    """The steps with each one's place in it, for the timeline's lines, and with the club's doses for what is open."""
    if not isinstance(steps, list):
        return steps
    placed = []
    for index, step in enumerate(steps):
        here = (*path, index)
        if isinstance(step, dict):
            inner = {"steps": _placed(step["steps"], (*here, "steps"), source, doses)} if "steps" in step else {}
            step = {**with_doses(step, doses), **inner, AT: source.places[here]}
        placed.append(step)
    return placed
