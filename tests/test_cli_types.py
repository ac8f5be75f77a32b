"""Options are values with names of their own: mypy sees a name that is misspelt, and nothing is of any type."""

from __future__ import annotations

import ast
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

HOME = Path(__file__).parent.parent
SOURCES = [path for folder in ("cli", "session") for path in sorted((HOME / "src/cornercue" / folder).glob("*.py"))]

CLICKS_OWN = {("main.py", "make_context"), ("main.py", "invoke")}
"""Methods of click's, whose signatures are click's."""

MISSPELT = """\
from cornercue.cli.partner_options import PartnerOptions
from cornercue.cli.play_options import PlayOptions
from cornercue.session.overrides import Overrides

Overrides(levle=3)
def one(asked: Overrides, chosen: PartnerOptions, wanted: PlayOptions) -> None:
    print(asked.sede)
    print(chosen.minuets)
    print(wanted.plane)
"""


def test_mypy_names_every_option_that_is_misspelt(tmp_path: Path) -> None:
    (tmp_path / "misspelt.py").write_text(MISSPELT)
    done = subprocess.run(
        [sys.executable, "-m", "mypy", "--strict", str(tmp_path / "misspelt.py")],
        capture_output=True, text=True, check=False, cwd=HOME,
        env=os.environ | {"MYPYPATH": str(HOME / "src")},
    )  # fmt: skip
    found = [line for line in done.stdout.splitlines() if "misspelt.py" in line and "error" in line]
    assert len(found) == 4, done.stdout
    for line, name in zip(found, ("levle", "sede", "minuets", "plane"), strict=True):
        assert f'"{name}"' in line


def signatures(path: Path) -> Iterator[tuple[str, str]]:
    """Each function's name and how its arguments and its result are annotated."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.FunctionDef):
            yield node.name, f"{ast.unparse(node.args)} -> {ast.unparse(node.returns) if node.returns else 'nothing'}"


@pytest.mark.parametrize("path", SOURCES, ids=lambda path: f"{path.parent.name}/{path.name}")
def test_nothing_of_ours_takes_or_gives_just_anything(path: Path) -> None:
    loose = [(path.name, name) for name, signature in signatures(path) if "Any" in signature]
    assert set(loose) <= CLICKS_OWN


def test_the_two_that_are_clicks_are_still_there() -> None:
    main = HOME / "src/cornercue/cli/main.py"
    assert {("main.py", name) for name, signature in signatures(main) if "Any" in signature} == CLICKS_OWN
