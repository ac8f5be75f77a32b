"""`Any` stands in a signature of ours only where a value comes in from YAML, JSON or click, and that is listed here."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

SOURCE = Path(__file__).parent.parent / "src" / "cornercue"

FROM_YAML = "a value as YAML gives it, before anybody has looked at it"
TO_JSON = "values that go out as JSON"
FROM_CLICK = "click calls it with the options by their names, or hands a command to it"

ALLOWED = {
    "cli/main.py": (3, FROM_CLICK),
    "page/data.py": (4, TO_JSON),
    "script/aloud.py": (2, FROM_YAML),
    "script/answers.py": (2, FROM_YAML),
    "script/club.py": (2, FROM_YAML),
    "script/club_doses.py": (2, FROM_YAML),
    "script/doses.py": (1, FROM_YAML),
    "script/fields.py": (17, FROM_YAML),
    "script/model.py": (4, FROM_YAML),
    "script/moves.py": (5, FROM_YAML),
    "script/partner.py": (2, FROM_YAML),
    "script/photo.py": (4, FROM_YAML),
    "script/position.py": (1, FROM_YAML),
    "script/random_calls.py": (6, FROM_YAML),
    "script/react.py": (2, FROM_YAML),
    "script/read.py": (5, FROM_YAML),
    "script/schema.py": (3, TO_JSON),
    "script/sentences.py": (1, FROM_YAML),
    "script/silence.py": (4, FROM_YAML),
    "script/source.py": (2, FROM_YAML),
    "script/words.py": (9, FROM_YAML),
    "timing/phrasebook.py": (2, FROM_YAML),
    "timing/timeline.py": (4, TO_JSON),
    "totals/summary.py": (2, TO_JSON),
}
"""By file: how many parameters and returns say `Any`, and why. A number that has become smaller is made so here."""


def any_in_signatures(tree: ast.Module) -> Iterator[str]:
    """Each parameter, and each return, whose annotation has `Any` in it, as `function: parameter`."""
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            for where, annotation in _annotations(node):
                if annotation and "Any" in _names(annotation):
                    yield f"{node.name}: {where}"


def _annotations(function: ast.FunctionDef | ast.AsyncFunctionDef) -> Iterator[tuple[str, ast.expr | None]]:
    given = function.args
    for argument in (*given.posonlyargs, *given.args, given.vararg, *given.kwonlyargs, given.kwarg):
        if argument:
            yield argument.arg, argument.annotation
    yield "return", function.returns


def _names(annotation: ast.expr) -> set[str]:
    """The last words of all names in an annotation, also of one that is written as text."""
    if isinstance(annotation, ast.Constant) and isinstance(annotation.value, str):
        annotation = ast.parse(annotation.value, mode="eval").body
    return {node.id if isinstance(node, ast.Name) else node.attr for node in ast.walk(annotation)
            if isinstance(node, ast.Name | ast.Attribute)}  # fmt: skip


def files() -> dict[str, list[str]]:
    found = {
        path.relative_to(SOURCE).as_posix(): list(any_in_signatures(ast.parse(path.read_text("utf-8"))))
        for path in sorted(SOURCE.rglob("*.py"))
    }
    return {name: places for name, places in found.items() if places}


def test_any_stands_only_where_a_value_comes_from_outside() -> None:
    found = files()
    listed = {name: number for name, (number, _) in ALLOWED.items()}
    told = [
        f"{name} has {len(places)} ({', '.join(places)}), and {listed.get(name, 0)} are listed"
        for name, places in ({name: list[str]() for name in listed} | found).items()
        if len(places) != listed.get(name, 0)
    ]
    assert told == []


@pytest.mark.parametrize(
    ("text", "places"),
    [
        ("def f(a: Any, b: int, *c: list[Any], **d: Any) -> dict[str, Any]: ...", "a c d return"),
        ("class C:\n    async def f(self, *, a: typing.Any) -> 'Any': ...", "a return"),
        ("def f(a: Anything) -> object:\n    b: Any = a\n    return b", ""),
    ],
)
def test_each_any_is_seen_and_nothing_else(text: str, places: str) -> None:
    assert list(any_in_signatures(ast.parse(text))) == [f"f: {place}" for place in places.split()]


MOST_BY_POSITION = 5
"""Arguments by position; more become keywords, so that a call can be read. Own choice."""


def too_many_by_position(tree: ast.Module) -> Iterator[str]:
    """Functions that take, and calls that give, more arguments by position than can be told apart."""
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            taken = [one for one in (*node.args.posonlyargs, *node.args.args) if one.arg not in ("self", "cls")]
            if len(taken) > MOST_BY_POSITION:
                yield f"{node.name} takes {len(taken)}"
        if isinstance(node, ast.Call) and len(node.args) > MOST_BY_POSITION:
            yield f"{ast.unparse(node.func)} is given {len(node.args)} in line {node.lineno}"


def test_more_than_five_arguments_go_by_their_names() -> None:
    found = {path.name: list(too_many_by_position(ast.parse(path.read_text("utf-8")))) for path in SOURCE.rglob("*.py")}
    assert {name: places for name, places in found.items() if places} == {}
    assert list(too_many_by_position(ast.parse("def f(a, b, c, d, e, f): ...\nf(1, 2, 3, 4, 5, 6)"))) == [
        "f takes 6", "f is given 6 in line 2",
    ]  # fmt: skip
