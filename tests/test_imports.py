"""The arrows between our own packages: those of the map in DEVELOPERS.md and no other, and never round in a circle.

An import counts wherever it stands: at the top of a module, in a function, or for the types alone.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator, Mapping
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
SOURCE = ROOT / "src" / "cornercue"

Arrows = Mapping[str, set[str]]
"""For each module, by its dotted name below the package, such as `voice.clip`, what it imports of ours."""


def arrows(folder: Path) -> dict[str, set[str]]:
    """Who imports whom below `folder`, which is a package called `cornercue`."""
    trees = {_dotted(path.relative_to(folder)): ast.parse(path.read_text("utf-8")) for path in folder.rglob("*.py")}
    return {name: {_module(path, trees) for path in _imported(tree)} for name, tree in trees.items()}


def _dotted(path: Path) -> str:
    parts = path.with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def _imported(tree: ast.Module) -> Iterator[str]:
    """What a module imports of ours, as a dotted path that may end in a name inside the module."""
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom):
            assert node.level == 0, "an import that begins with a dot is not followed here: write it whole"
        elif not isinstance(node, ast.Import):
            continue
        start = [f"{node.module}."] if isinstance(node, ast.ImportFrom) else [""]
        for written in (start[0] + alias.name for alias in node.names):
            if written.startswith("cornercue."):
                yield written.removeprefix("cornercue.")


def _module(path: str, known: Mapping[str, object]) -> str:
    return path if path in known else path.rpartition(".")[0]


def allowed_arrows(text: str) -> dict[str, set[str]]:
    """What each package, and each module beside the packages, may import, as the text of DEVELOPERS.md says it.

    A row of the map is `| name | job | imports |`; "all" in its last field stands for every row above. The modules that
    everyone may import are named before the table, up to its first full stop.
    """
    everyone = re.search(r"everyone may\s+import the modules beside the packages:(.*?)\.\s", text, re.DOTALL)
    rows = re.findall(r"^\| `(\w+)/?(?:\.py)?` \|.*\| (.*) \|$", text, re.MULTILINE)
    assert everyone, "DEVELOPERS.md does not name the modules that everyone may import"
    beside = set(re.findall(r"`(\w+)`", everyone[1]))
    allowed = {name: set(beside) for name in beside}
    above: set[str] = set()
    for name, imports in rows:
        named = above if imports.startswith("all") else set(re.findall(r"`(\w+)/?`", imports))
        assert named <= above, f"the map lets {name} import what does not stand above it: {named - above}"
        allowed[name] = {name} | named | beside
        above = above | {name}
    return allowed


def forbidden(found: Arrows, allowed: Mapping[str, set[str]]) -> list[str]:
    """The arrows that the map does not have."""
    return [
        f"{module} imports {other}"
        for module, others in sorted(found.items())
        for other in sorted(others)
        if other.partition(".")[0] not in allowed[module.partition(".")[0]]
    ]


def circle(found: Arrows) -> list[str]:
    """The modules of a circle, each imported by the next; empty where there is none."""
    try:
        TopologicalSorter(found).prepare()
    except CycleError as fault:
        return list(fault.args[1])
    return []


@pytest.fixture(scope="module")
def found() -> Arrows:
    return arrows(SOURCE)


@pytest.fixture(scope="module")
def allowed() -> dict[str, set[str]]:
    return allowed_arrows((ROOT / "DEVELOPERS.md").read_text("utf-8"))


def test_every_package_and_every_module_beside_them_is_on_the_map(
    found: Arrows, allowed: dict[str, set[str]]
) -> None:
    assert {module.partition(".")[0] for module in found} - {""} == set(allowed)


def test_no_arrow_that_the_map_does_not_allow(found: Arrows, allowed: dict[str, set[str]]) -> None:
    assert forbidden(found, allowed) == []


def test_the_map_has_no_arrow_that_nothing_needs(found: Arrows, allowed: dict[str, set[str]]) -> None:
    """But for the last rooms, which may import everything."""
    text = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    everything = set(re.findall(r"^\| `(\w+)/?(?:\.py)?` \|.*\| all.* \|$", text, re.MULTILINE))
    packages = {module.partition(".")[0] for module in found if "." in module}
    for name in packages - everything:
        used = {
            other.partition(".")[0] for module in found if module.startswith(f"{name}.") for other in found[module]
        }
        assert allowed[name] & packages - {name} <= used, f"{name} may import what it does not"


def test_no_module_is_imported_in_a_circle(found: Arrows) -> None:
    assert circle(found) == []


def test_whatever_is_imported_is_there(found: Arrows) -> None:
    assert set().union(*found.values()) <= found.keys()


HOUSE = """
A package imports what its line says; everyone may
import the modules beside the packages: `errors` (the family) and `sound`.

| package | job | imports |
|---|---|---|
| `cellar/` | holds | nothing of ours |
| `kitchen/` | cooks | `cellar`, for jam |
| `attic/` | keeps | `cellar` |
| `porch/` | greets | all |
"""


@pytest.fixture
def house(tmp_path: Path) -> Path:
    """A small tree with the faults that the tests above look for."""
    for name, text in {
        "errors": "",
        "sound": "",
        "cellar.jam": "from cornercue import errors, sound\n",
        "kitchen.stove": "import cornercue.cellar.jam\nimport numpy.random\n",
        "kitchen.bread": "def bake():\n    from cornercue.kitchen.table import lay\n",
        "kitchen.table": "if TYPE_CHECKING:\n    from cornercue.kitchen.bread import bake\n",
        "attic.trunk": "def open():\n    from cornercue.kitchen import stove\n",
        "porch.door": "from cornercue.attic.trunk import open\n",
    }.items():
        path = tmp_path.joinpath(*name.split(".")).with_suffix(".py")
        path.parent.mkdir(exist_ok=True)
        path.write_text(text)
    return tmp_path


def test_a_wrong_arrow_is_seen_also_in_a_function(house: Path) -> None:
    assert forbidden(arrows(house), allowed_arrows(HOUSE)) == ["attic.trunk imports kitchen.stove"]


def test_a_circle_is_seen_also_through_functions_and_types(house: Path) -> None:
    assert set(circle(arrows(house))) == {"kitchen.bread", "kitchen.table"}
    (house / "kitchen" / "table.py").write_text("")
    assert circle(arrows(house)) == []


def test_a_map_that_points_downwards_is_refused() -> None:
    with pytest.raises(AssertionError, match=r"the map lets cellar import .*attic"):
        allowed_arrows(HOUSE.replace("nothing of ours", "`attic`"))
