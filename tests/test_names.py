"""A public class or type stands for one thing: no two packages call different things by the same name."""

from __future__ import annotations

import ast
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

SOURCE = Path(__file__).parent.parent / "src" / "cornercue"

SAME_MEANING = {"Progress": ["session/progress.py", "track/sound_files.py"]}
"""How much of the work is done: a track is written without knowing of a session."""


def types_of(tree: ast.Module) -> Iterator[str]:
    """The public classes of a module, and the types that it gives a name to, such as `Side = Literal[...]`."""
    for node in tree.body:
        if isinstance(node, ast.ClassDef):
            yield node.name
        elif isinstance(node, ast.Assign) and isinstance(node.value, ast.Subscript | ast.BinOp | ast.Call):
            yield from (name.id for name in node.targets if isinstance(name, ast.Name) and not name.id.isupper())


def test_every_type_has_a_name_of_its_own() -> None:
    homes = defaultdict(list)
    for file in sorted(SOURCE.rglob("*.py")):
        for name in types_of(ast.parse(file.read_text(encoding="utf-8"))):
            if not name.startswith("_"):
                homes[name].append(file.relative_to(SOURCE).as_posix())
    assert {"Cue", "Move", "Side", "Motion"} <= set(homes)
    assert {name: files for name, files in homes.items() if len(files) > 1} == SAME_MEANING
