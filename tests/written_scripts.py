"""Every script that stands in the project, good and bad, and how an editor's reader of YAML sees it."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from importlib import resources
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import yaml

from cornercue.coaching.rules import RULES
from cornercue.script.faults import ScriptFaults
from cornercue.script.model import STEP_KINDS
from cornercue.script.read import read_drill
from documents import DOCUMENTS, HOME, blocks

_STEP = re.compile(rf"- (?:{'|'.join(STEP_KINDS)}|[a-zA-Z]+): ")
OTHER_FILES = r"there is no (script|picture) |`.*` lies outside the folder of this script"
"""What is told of files that a script names; nobody has them here."""


class EditorLoader(getattr(yaml, "CSafeLoader", yaml.SafeLoader)):  # type: ignore[misc]
    """YAML as editors read it: the core schema of YAML 1.2, where `no` and `1:30` are words."""

    yaml_implicit_resolvers: dict[str, list[tuple[str, re.Pattern[str]]]] = {}  # noqa: RUF012 - PyYAML's own name


for _tag, _pattern, _first in (
    ("bool", r"true|True|TRUE|false|False|FALSE", "tTfF"),
    ("null", r"~|null|Null|NULL|", ["~", "n", "N", ""]),
    ("int", r"[-+]?[0-9]+", "-+0123456789"),
    ("float", r"[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?", "-+.0123456789"),
):
    # YAML 1.2.2, section 10.3.2, without its octal, hexadecimal and infinite numbers (from memory).
    EditorLoader.add_implicit_resolver(f"tag:yaml.org,2002:{_tag}", re.compile(f"^(?:{_pattern})$"), list(_first))
EditorLoader.add_constructor("tag:yaml.org,2002:int", lambda _, node: int(node.value))
EditorLoader.add_constructor("tag:yaml.org,2002:float", lambda _, node: float(node.value))


def as_edited(text: str) -> Any:
    """A script as an editor hands it to a schema; raises `yaml.YAMLError`."""
    return _keys_as_text(yaml.load(text, EditorLoader))


def _keys_as_text(node: Any) -> Any:
    if isinstance(node, dict):
        return {_key(key): _keys_as_text(value) for key, value in node.items()}
    return [_keys_as_text(one) for one in node] if isinstance(node, list) else node


def _key(key: object) -> str:
    return "true" if key is True else "false" if key is False else "null" if key is None else str(key)


def in_tests() -> Iterator[str]:
    """Every text in the files of tests that is a script, or steps of one, which get a head.

    All but those of the test that judges them, which were written for it.
    """
    for path in sorted({*(HOME / "tests").glob("*.py")} - {HOME / "tests" / "test_script_schema_marks.py"}):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                yield from _script_in(node.value)


def _script_in(text: str) -> Iterator[str]:
    if re.search(r"^(drill|steps):", text, re.MULTILINE) and "club:" not in text and "\n" in text.strip():
        yield text
    elif _STEP.match(text):
        yield "drill: A\nsteps:\n" + text


def everywhere() -> list[str]:
    """Each once: the demo drills, the examples of the documents and of the rules, the starter, and those in tests."""
    files = [path.read_text(encoding="utf-8") for path in sorted((HOME / "drills").rglob("*.yaml"))]
    shown = [text for document in DOCUMENTS for text in blocks(document, "yaml")]
    rules = [text for rule in RULES for text in (rule.FAILING, rule.PASSING)]
    starter = resources.files("cornercue.cli").joinpath("starter.yaml").read_text(encoding="utf-8")
    return [*dict.fromkeys(text for text in (*files, *shown, *rules, starter, *in_tests()) if "club:" not in text)]


def faults_of(text: str) -> list[str]:
    """What `check` marks in it, but for what depends on other files."""
    with TemporaryDirectory() as folder:
        path = Path(folder, "a.yaml")
        path.write_bytes(text.encode("utf-8", "surrogatepass"))
        try:
            read_drill(path)
        except ScriptFaults as caught:
            return [fault.text for fault in caught.faults if not re.match(OTHER_FILES, fault.text)]
        return []
