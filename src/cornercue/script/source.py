"""A script file as plain values with the place of each one, whatever the file holds.

YAML's guesses at types are not used: every scalar stays text, and each field of the script says what it
makes of its text. So `say: no` is a word and `rest: 1:30` a minute and a half. Anchors and aliases are
refused, since a few lines of them can stand for gigabytes.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from os.path import isdir
from pathlib import Path
from typing import Any

import yaml

from cornercue.script.faults import Fault, ScriptFaults
from cornercue.script.layout_slips import quiet_slips, slip_at
from cornercue.script.written import Position, Written

MAX_BYTES = 200_000
MAX_DEPTH = 24
MAX_VALUES = 20_000

try:
    from yaml import CSafeLoader as Loader
except ImportError:  # a PyYAML built without libyaml: slower, the same events
    from yaml import SafeLoader as Loader  # type: ignore[assignment]

Path_ = tuple[str | int, ...]


@dataclass(frozen=True)
class Source:
    """A file's values as dicts, lists and strings, with (line, column) of each path, counted from 1.

    `places` holds the place of a value, `keys` that of a mapping's key; `faults` is what is wrong with the
    text although it could be read.
    """

    file: str
    data: Any
    places: Mapping[Path_, Position]
    keys: Mapping[Path_, Position]
    faults: tuple[Fault, ...] = ()


def read_source(path: Path) -> Source:
    """Read one script file; raises `ScriptFaults` with what is wrong with it as a file or as YAML."""
    return parse_source(_read_text(path), str(path))


def _read_text(path: Path) -> str:
    def refuse(text: str, line: int = 1, column: int = 1) -> ScriptFaults:
        return ScriptFaults([Fault(str(path), line, column, text)])

    if isdir(path):
        raise refuse("this is a folder; name a script file in it")
    try:
        with path.open("rb") as file:
            raw = file.read(MAX_BYTES + 1)
    except FileNotFoundError:
        raise refuse("there is no such file") from None
    except OSError as error:
        raise refuse(f"the file cannot be read: {error.strerror or error}") from None
    if len(raw) > MAX_BYTES:
        raise refuse(f"the file is larger than {MAX_BYTES // 1000} kB; a drill script is a page or two of text")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = raw[: error.start]
        line = before.count(b"\n") + 1
        column = error.start - (before.rfind(b"\n") + 1) + 1
        raise refuse("this is not UTF-8 text; save the file as UTF-8", line, column) from None


def parse_source(text: str, file: str) -> Source:
    """Parse YAML text; raises `ScriptFaults`."""
    if not text.strip():
        raise ScriptFaults([Fault(file, 1, 1, "the file is empty; `cornercue new FILE` writes a script to start from")])
    builder = _Builder(file)
    try:
        for event in yaml.parse(text, Loader=Loader):
            builder.take(event)
    except (yaml.YAMLError, UnicodeEncodeError) as error:
        raise ScriptFaults([*builder.faults, _syntax_fault(error, text, file)]) from None
    return Source(file, builder.root, builder.places, builder.keys, (*builder.faults, *_quiet(text, file)))


def _quiet(text: str, file: str) -> Iterator[Fault]:
    """What YAML reads otherwise than it is meant; raises `ScriptFaults` where nothing else can be said of the rest."""
    slips = [(slip, Fault(file, slip.line, slip.column, slip.text)) for slip in quiet_slips(text)]
    if any(slip.grave for slip, _ in slips):
        raise ScriptFaults([fault for _, fault in slips])
    return (fault for _, fault in slips)


def _syntax_fault(error: yaml.YAMLError | UnicodeEncodeError, text: str, file: str) -> Fault:
    if isinstance(error, yaml.reader.ReaderError | UnicodeEncodeError):
        # Found anew: libyaml counts in bytes, PyYAML's own reader in characters.
        odd = yaml.reader.Reader.NON_PRINTABLE.search(text)
        before = text[: odd.start()] if odd else ""
        line, column = before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1
        return Fault(file, line, column, "a character that text cannot hold; delete it and type it again")
    mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    line, column = (mark.line + 1, mark.column + 1) if mark else (1, 1)
    lines = text.splitlines()
    here = lines[line - 1] if line <= len(lines) else ""
    if "\t" in here[: len(here) - len(here.lstrip())] or here[column - 1 : column] == "\t":
        return Fault(file, line, here.index("\t") + 1, "a tab; indent with spaces")
    if slip := slip_at(text, line):
        return Fault(file, slip.line, slip.column, slip.text)
    problem = getattr(error, "problem", None) or "it cannot be read"
    return Fault(file, line, column, f"this is not YAML: {problem}; check the indents, colons and quotes near here")


class _Builder:
    """Builds values from YAML events without recursion, so that no nesting can exhaust the stack."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.root: Any = None
        self.places: dict[Path_, Position] = {}
        self.keys: dict[Path_, Position] = {}
        self.faults: list[Fault] = []
        self._stack: list[tuple[Any, Path_]] = []
        self._key: list[Written | None] = []
        self._documents = 0
        self._values = 0

    def take(self, event: yaml.Event) -> None:
        """Take the next event; raises `ScriptFaults` where going on makes no sense."""
        if isinstance(event, yaml.AliasEvent) or getattr(event, "anchor", None):
            self._stop(
                event, "anchors (&) and aliases (*) are not allowed; write the steps out, or use `repeat` or `include`"
            )
        if isinstance(event, yaml.DocumentStartEvent):
            self._documents += 1
            if self._documents > 1:
                self._stop(event, "a second document starts here; one file holds one drill")
        elif isinstance(event, yaml.ScalarEvent):
            self._scalar(event)
        elif isinstance(event, yaml.MappingStartEvent | yaml.SequenceStartEvent):
            self._open(event, {} if isinstance(event, yaml.MappingStartEvent) else [])
        elif isinstance(event, yaml.MappingEndEvent | yaml.SequenceEndEvent):
            self._stack.pop()
            self._key.pop()

    def _scalar(self, event: yaml.ScalarEvent) -> None:
        if self._stack and isinstance(self._stack[-1][0], dict) and self._key[-1] is None:
            self._start_key(event)
        else:
            self._place(event, _written(event))

    def _start_key(self, event: yaml.ScalarEvent) -> None:
        holder, path = self._stack[-1]
        key = _written(event)
        if key in holder:
            self.faults.append(self._fault(event, f"`{key}` is written twice; keep one of the two"))
        self._key[-1] = key
        self.keys[(*path, str(key))] = _place_of(event)

    def _open(self, event: yaml.Event, holder: dict[str, Any] | list[Any]) -> None:
        if self._stack and isinstance(self._stack[-1][0], dict) and self._key[-1] is None:
            self._stop(event, "a key must be a word")
        if len(self._stack) >= MAX_DEPTH:
            self._stop(event, f"steps are nested more than {MAX_DEPTH // 2} deep; write them one after the other")
        path = self._place(event, holder)
        self._stack.append((holder, path))
        self._key.append(None)

    def _place(self, event: yaml.Event, value: Any) -> Path_:
        self._values += 1
        if self._values > MAX_VALUES:
            self._stop(event, f"the script holds more than {MAX_VALUES} values; split it and use `include`")
        path: Path_ = ()
        if not self._stack:
            self.root = value
        else:
            holder, above = self._stack[-1]
            if isinstance(holder, dict):
                key, self._key[-1] = self._key[-1], None
                holder[key], path = value, (*above, str(key))
            else:
                path = (*above, len(holder))
                holder.append(value)
        self.places[path] = _place_of(event)
        return path

    def _fault(self, event: yaml.Event, text: str) -> Fault:
        return Fault(self.file, *_place_of(event), text)

    def _stop(self, event: yaml.Event, text: str) -> None:
        raise ScriptFaults([*self.faults, self._fault(event, text)])


def _written(event: yaml.ScalarEvent) -> Written:
    line, column = _place_of(event)
    in_one_line = bool(event.start_mark and event.end_mark and event.start_mark.line == event.end_mark.line)
    return Written(event.value, (line, column + (event.style in ("'", '"'))), in_one_line)


def _place_of(event: yaml.Event) -> Position:
    mark = event.start_mark
    return (mark.line + 1, mark.column + 1) if mark else (1, 1)


def ancestors(path: Path_) -> Iterator[Path_]:
    """The path itself, then each path above it, up to the root."""
    for length in range(len(path), -1, -1):
        yield path[:length]
