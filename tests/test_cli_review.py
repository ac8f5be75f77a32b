"""`cornercue check` as a reviewer: what it prints after the faults, what counts, and the page of a rule."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from cornercue.cli.main import commands
from cornercue.coaching.rules import RULES

WARNED = "drill: A\nsteps:\n- combination: [cross, rear hook]\n"
HINTED = "drill: A\nsteps:\n- combination: [cross, rear low roundhouse kick]\n  reps: 2\n"
FAULTY = "drill: A\nsteps:\n- combination: [corss]\n"
FINE = "drill: A\nsteps:\n- combination: [jab, cross]\n"

Write = Callable[..., str]


def run(*arguments: str) -> Result:
    return CliRunner().invoke(commands, arguments)


@pytest.fixture
def write(tmp_path: Path) -> Write:
    """Writes scripts by their names and tells the folder that they are in."""

    def written(**scripts: str) -> str:
        for name, text in scripts.items():
            (tmp_path / f"{name}.yaml").write_text(text)
        return str(tmp_path)

    return written


def test_a_warning_is_told_with_its_place_its_rule_and_its_remedy(write: Write) -> None:
    folder = write(a=WARNED)
    result = run("check", folder)
    assert result.exit_code == 0
    lines = result.output.splitlines()
    assert lines[0] == (
        f"{folder}/a.yaml:3:24: warning: flow: the rear hook needs the hip that the cross before it has just used; "
        "put a strike of the other side, a jab or a step between them"
    )
    assert lines[1].startswith(f"{folder}/a.yaml: no fault, about ")


@pytest.mark.parametrize(("script", "code", "strict"), [(FINE, 0, 0), (HINTED, 0, 0), (WARNED, 0, 1), (FAULTY, 1, 1)])
def test_warnings_count_only_where_that_is_asked_for_and_hints_never(
    write: Write, script: str, code: int, strict: int
) -> None:
    folder = write(a=script)
    assert run("check", folder).exit_code == code
    assert run("check", "--strict", folder).exit_code == strict


def test_every_file_of_a_folder_is_told_whatever_is_found_in_the_one_before(write: Write) -> None:
    folder = write(a=WARNED, b=FAULTY, c=HINTED, d=FINE)
    result = run("check", "--strict", folder)
    flow = ("a.yaml:3:24: warning: flow", "c.yaml:3:24: hint: flow")
    for part in (*flow, "b.yaml:3:17: `corss`", "d.yaml: fine, about"):
        assert part in result.output


def test_what_is_wrong_in_an_included_file_is_told_once_and_under_its_own_name(write: Write) -> None:
    folder = write(part=WARNED, whole="drill: B\nsteps:\n- include: part.yaml\n")
    output = run("check", folder).output
    assert output.count("warning: flow") == 1
    assert "part.yaml:3:24: warning: flow" in output


def test_words_that_do_not_fit_are_told_once(write: Write) -> None:
    folder = write(a="drill: A\nsteps:\n- combination: [jab, cross]\n  every: 1 s\n")
    output = run("check", folder).output
    assert output.count("is too short for «jab, cross»") == 1
    assert "a.yaml:3:3: warning: fit: every 1 s is too short" in output


@pytest.mark.parametrize("name", [rule.NAME for rule in RULES])
def test_explain_prints_the_page_of_a_rule_and_needs_no_script(name: str) -> None:
    result = run("check", "--explain", name)
    assert result.exit_code == 0
    assert result.output.startswith(f"{name}: ")
    assert "Source: " in result.output
    assert f"  {name}: why it does not apply here" in result.output


def test_explain_offers_the_nearest_rule() -> None:
    result = run("check", "--explain", "flwo")
    assert result.exit_code == 2
    assert "there is no rule `flwo`; did you mean `flow`?" in result.output
    assert "one of `flow`, `sides`, `fit`, `rest`" in run("check", "--explain", "everything").output


@pytest.mark.parametrize("name", [rule.NAME for rule in RULES])
def test_the_scripts_of_a_page_are_right_and_review_as_it_says(name: str, tmp_path: Path) -> None:
    """The page as a person would use it: copy the script, take the indent away, check it."""
    page = run("check", "--explain", name).output
    failing, passing, _ = (
        "\n".join(line.removeprefix("    ") for line in part.splitlines() if line.startswith("    "))
        for part in page.partition("with this script")[2].split(":\n\n")[1:]
    )
    for script, found in ((failing, f": {name}: "), (passing, ": fine, about ")):
        path = tmp_path / "a.yaml"
        path.write_text(script)
        assert found in run("check", str(path)).output
