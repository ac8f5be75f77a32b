"""Reading a drill: file to `Drill`, with every fault of the file at once."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from pydantic import ValidationError

from cornercue.script.faults import Fault, ScriptFaults
from cornercue.script.fields import wrong
from cornercue.script.model import AT, Drill, Included
from cornercue.script.sentences import faults_of
from cornercue.script.source import Path_, Source, parse_source, read_source

MAX_INCLUDES = 100


def read_drill(path: Path) -> Drill:
    """The drill that a file holds; raises `ScriptFaults`.

    Includes are looked up beside the file and may not leave its folder.
    """
    library = _Library(path.parent)
    try:
        return library.read(path)
    except ScriptFaults as fault:
        raise ScriptFaults([*fault.faults, *library.faults]) from None


def parse_drill(text: str, file: str = "script.yaml") -> Drill:
    """The drill that a text holds, without includes; raises `ScriptFaults`."""
    return _validated(parse_source(text, file), {})


class _Library:
    """The folder of one script: opens its includes, each once, and refuses circles and ways out."""

    def __init__(self, folder: Path) -> None:
        self._root = folder.resolve()
        self._opened: dict[Path, Drill] = {}
        self._stack: list[Path] = []
        self.faults: list[Fault] = []

    def read(self, path: Path) -> Drill:
        self._stack.append(path.resolve())
        try:
            return _validated(read_source(path), {"open": lambda value: self._include(value, path.parent)})
        finally:
            self._stack.pop()

    def _include(self, value: Any, folder: Path) -> Included:
        path = self._inside(value, folder)
        target = path.resolve()
        if target in self._stack:
            names = " includes ".join(one.name for one in (*self._stack[self._stack.index(target) :], target))
            raise wrong(f"the includes go round in a circle: {names}")
        if target not in self._opened:
            if len(self._opened) >= MAX_INCLUDES:
                raise wrong(f"more than {MAX_INCLUDES} files are included; split the session")
            try:
                self._opened[target] = self.read(path)
            except ScriptFaults as faults:
                self.faults.extend(faults.faults)
                raise wrong(f"`{value}` cannot be included until it is mended") from None
        return Included(str(path), self._opened[target])

    def _inside(self, value: Any, folder: Path) -> Path:
        if not isinstance(value, str) or not value.strip() or "\0" in value:
            raise wrong("the name of a script file belongs here, such as `warm-up.yaml`")
        path = folder / value.strip()
        if not path.resolve().is_relative_to(self._root):
            raise wrong(f"`{value}` lies outside the folder of this script; includes stay inside it")
        if not path.is_file():
            raise wrong(f"there is no script `{value}` in this folder")
        return path


def _validated(source: Source, context: dict[str, Any]) -> Drill:
    if not isinstance(source.data, dict):
        raise ScriptFaults([Fault(source.file, 1, 1, "a drill script starts with `drill: its title` and has `steps:`")])
    data = {**source.data, "steps": _placed(source.data.get("steps"), ("steps",), source)}
    if "steps" not in source.data:
        del data["steps"]
    try:
        return Drill.model_validate(data, context={**context, "stance": data.get("stance")})
    except ValidationError as error:
        raise ScriptFaults(faults_of(error, source)) from None


def _placed(steps: Any, path: Path_, source: Source) -> Any:
    """The steps with each one's place in it, for the timeline's lines."""
    if not isinstance(steps, list):
        return steps
    placed = []
    for index, step in enumerate(steps):
        here = (*path, index)
        if isinstance(step, dict):
            inner = {"steps": _placed(step["steps"], (*here, "steps"), source)} if "steps" in step else {}
            step = {**step, **inner, AT: source.places[here]}
        placed.append(step)
    return placed
