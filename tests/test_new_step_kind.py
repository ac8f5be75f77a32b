"""A step kind on trial: mypy names every place that must know it, and nothing else has to be told.

The kind is added to a copy of the package, by the recipe in DEVELOPERS.md, first half done and then whole.
"""

from __future__ import annotations

import ast
import inspect
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from cornercue.script.model import STEP_KINDS

HOME = Path(__file__).parent.parent

MODEL = '''
from __future__ import annotations

from typing import Annotated, final

from pydantic import Field, PlainValidator

from cornercue.durations import lasting
from cornercue.script.fields import Duration
from cornercue.script.in_words import named
from cornercue.script.moves import WrittenPosition, move_of
from cornercue.script.step import Inner, Practice, Said, StepNode
from cornercue.technique.move import Move
from cornercue.technique.sides import Stance


@final
class Freeze(StepNode):
    """A technique stopped halfway, on the word."""

    freeze: Annotated[Move, PlainValidator(move_of, json_schema_input_type=WrittenPosition)]
    for_: Duration = Field(5.0, alias="for")
'''

ANSWERS = '''
    def in_words(self, level: int) -> str:
        return f"Freeze in a {named([self.freeze])}: {lasting(self.for_)}."

    def said(self) -> tuple[Said, ...]:
        return ()

    def practice(self, level: int, stance: Stance, written: Stance) -> tuple[Practice, ...]:
        return (Practice((self.freeze,), 1, held=True),)

    def drawn(self) -> tuple[tuple[Move, ...], ...]:
        return ()

    def non_stop(self, level: int) -> float:
        return 0.0

    def inner(self) -> Inner | None:
        return None
'''

SEGMENTS = '''
from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from cornercue.script.freeze import Freeze
from cornercue.timing.segments import Segment, Talk, Work
from cornercue.timing.setting import Layout, Setting, called


def segments_of(step: Freeze, setting: Setting) -> Iterator[Segment]:
    technique = called((step.freeze,), setting.written)
    setting = setting.opened(technique, "freeze")
    yield Talk(setting, technique)
    yield Work(setting, technique, partial(_frozen, step.for_))


def _frozen(seconds: float, setting: Setting, start: float, ready: float) -> Layout:
    yield from ()
    return start + seconds
'''

SCRIPT = "drill: A\nsteps:\n- freeze: lead high side kick\n"


def replaced(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert text.count(old) == 1, f"{path.name} is not as the recipe says"
    path.write_text(text.replace(old, new), encoding="utf-8")


def run(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    """Python's answer where the copy of the package in this folder is the one that is imported."""
    environment = {**os.environ, "PYTHONPATH": str(folder), "PYTHONIOENCODING": "utf-8"}
    command = [sys.executable, *arguments]
    return subprocess.run(command, cwd=folder, env=environment, capture_output=True, encoding="utf-8", check=False)


def complaints(folder: Path) -> list[tuple[str, str]]:
    """What mypy, as strict as for the project, finds in the copy: file, within the package, and sentence."""
    strict = ("--config-file", str(HOME / "pyproject.toml"), "--cache-dir", str(folder / ".mypy"))
    said = run(folder, "-m", "mypy", *strict, "--no-pretty", "cornercue").stdout
    found = re.findall(r"^cornercue/(.+?):\d+: error: (.*)$", said.replace("\\", "/"), re.MULTILINE)
    assert f"Found {len(found)} error" in said or (not found and "Success: no issues found" in said), said
    return found


FUTURE = "from __future__ import annotations\n"
LAST = "        case _:\n            assert_never(step)\n"


@pytest.fixture(scope="module")
def half_done(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the package with a model and its entry in the table, and nothing else."""
    folder = tmp_path_factory.mktemp("half")
    package = folder / "cornercue"
    shutil.copytree(HOME / "src" / "cornercue", package, ignore=shutil.ignore_patterns("__pycache__"))
    known = HOME / ".mypy_cache"  # what the project's own run of mypy learnt; it looks itself what has changed since
    if known.is_dir():
        shutil.copytree(known, folder / ".mypy")
    (package / "script" / "freeze.py").write_text(MODEL, encoding="utf-8")
    replaced(package / "script" / "model.py", FUTURE, f"{FUTURE}from cornercue.script.freeze import Freeze\n")
    replaced(package / "script" / "model.py", " | Include\n", " | Include | Freeze\n")
    return folder


@pytest.fixture(scope="module")
def whole(half_done: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same with what mypy asks for."""
    folder = tmp_path_factory.mktemp("whole") / "copy"
    shutil.copytree(half_done, folder)
    package = folder / "cornercue"
    (package / "script" / "freeze.py").write_text(MODEL + ANSWERS, encoding="utf-8")
    (package / "timing" / "freeze.py").write_text(SEGMENTS, encoding="utf-8")
    imports = "from cornercue.script.freeze import Freeze\nfrom cornercue.timing import freeze\n"
    replaced(package / "timing" / "steps.py", FUTURE, FUTURE + imports)
    case = "        case Freeze():\n            yield from freeze.segments_of(step, setting)\n"
    replaced(package / "timing" / "steps.py", LAST, case + LAST)
    replaced(package / "timing" / "timeline.py", '"include", "round"', '"include", "freeze", "round"')
    return folder


def test_mypy_names_every_place_that_must_know_a_new_kind(half_done: Path) -> None:
    found = dict(complaints(half_done))
    assert set(found) == {"script/freeze.py", "timing/steps.py"}
    for question in ("in_words", "said", "practice", "drawn", "non_stop", "inner"):
        assert f'"{question}"' in found["script/freeze.py"]
    assert "assert_never" in found["timing/steps.py"]
    assert "Freeze" in found["timing/steps.py"]


def test_a_kind_that_leaves_a_question_open_cannot_be_read_at_all(half_done: Path) -> None:
    done = run(half_done, "-c", f"from cornercue.script.read import parse_drill; parse_drill({SCRIPT!r})")
    assert "Can't instantiate abstract class Freeze" in done.stderr


def test_nothing_else_has_to_be_told_of_a_new_kind(whole: Path) -> None:
    assert complaints(whole) == []


def test_a_new_kind_is_checked_shown_and_printed(whole: Path) -> None:
    (whole / "a.yaml").write_text(SCRIPT, encoding="utf-8")
    checked = run(whole, "-m", "cornercue", "check", "a.yaml").stdout
    assert "a.yaml:3:11: warning: guard: a high side kick is above the height for level 1" in checked
    shown = run(whole, "-m", "cornercue", "show", "a.yaml", "--voice", "none").stdout
    assert re.search(r"say +lead high side kick", shown)
    paper = "from cornercue.page.paper import sheet; from cornercue.script.read import parse_drill; "
    printed = run(whole, "-c", f"{paper}print(sheet(parse_drill({SCRIPT!r}), 1, []))").stdout
    assert "<li>Freeze in a lead high side kick: 5 s.</li>" in printed


def test_a_misspelt_key_of_a_new_kind_is_told_with_the_right_one(whole: Path) -> None:
    (whole / "b.yaml").write_text(SCRIPT + "  fro: 3 s\n- freez: jab\n", encoding="utf-8")
    told = run(whole, "-m", "cornercue", "check", "b.yaml").stdout
    assert "`freeze` has no `fro`; did you mean `for`?" in told
    assert "`freez` is not a kind of step; did you mean `freeze`?" in told


@pytest.mark.parametrize("kind", STEP_KINDS)
def test_every_kind_is_final_and_answers_every_question(kind: str) -> None:
    assert getattr(STEP_KINDS[kind], "__final__", False)
    assert not inspect.isabstract(STEP_KINDS[kind])


def matches() -> Iterator[tuple[str, ast.Match]]:
    """Every `match` of the project that goes by the kinds of step, with its place."""
    models = {model.__name__ for model in STEP_KINDS.values()}
    for path in sorted(one for folder in ("src", "tests") for one in (HOME / folder).rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Match):
                classes = {ast.unparse(inner.cls).rpartition(".")[2] for case in node.cases
                           for inner in ast.walk(case.pattern) if isinstance(inner, ast.MatchClass)}  # fmt: skip
                if classes & models:
                    yield f"{path.relative_to(HOME).as_posix()}:{node.lineno}", node


def test_every_match_over_step_kinds_ends_in_assert_never() -> None:
    found = dict(matches())
    assert any(place.startswith("src/cornercue/timing/steps.py") for place in found)
    for place, node in found.items():
        last = ast.unparse(node.cases[-1])
        assert re.fullmatch(r"case _:\s+assert_never\(\w+\)", last.strip()), place
