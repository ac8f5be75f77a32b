"""The README says what the program does: every command, every key, both of the two lines, and scripts that parse."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from coaching import reviewed_file
from cornercue.cli.main import commands
from cornercue.coaching.rules import rules_table
from cornercue.script.model import STEP_KINDS, Drill
from cornercue.script.read import read_drill
from cornercue.script.step import ScriptNode, keys_of
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.setting import Request

HOME = Path(__file__).parent.parent
README = (HOME / "README.md").read_text(encoding="utf-8")


def everything(group: click.Group, before: str = "") -> dict[str, click.Command]:
    """Every command by its full name, those of a group too; the group itself is only the way to them."""
    found: dict[str, click.Command] = {}
    for name, one in group.commands.items():
        found |= everything(one, f"{before}{name} ") if isinstance(one, click.Group) else {before + name: one}
    return found


COMMANDS = everything(commands)
NAMES = sorted(COMMANDS)


def blocks(language: str, after: str = "") -> list[str]:
    """The README's fenced blocks in one language; those after a heading, where one is named."""
    text = README[README.index(after) :]
    return re.findall(rf"^```{language}\n(.*?)^```$", text, flags=re.MULTILINE | re.DOTALL)


def row(opener: str) -> str:
    """The table row whose first cell starts with these characters."""
    found = [line for line in README.splitlines() if line.startswith(f"| `{opener}")]
    assert found, f"no row of a table starts with `{opener}`"
    return found[0]


def keys_of_its_own(model: type[ScriptNode]) -> list[str]:
    """The keys of a step without `silence`, which every step may have."""
    return [key for key in keys_of(model) if key != "silence"]


def test_the_job_comes_first_and_then_the_two_lines() -> None:
    render, tests = blocks("sh")[:2]
    assert README.index("drill script") < README.index(render) < README.index(tests) < README.index("\n## ")
    assert render.strip() == (
        "python3 -m venv .venv && .venv/bin/pip install . && "
        ".venv/bin/cornercue render drills/first-combination.yaml -o first-combination.wav"
    )
    assert tests.strip() == (
        "python3 -m venv .venv && .venv/bin/pip install -e '.[test]' && .venv/bin/python -m pytest"
    )


@pytest.mark.parametrize("name", NAMES)
def test_every_command_is_in_the_table_of_commands(name: str) -> None:
    assert row(f"cornercue {name}").count("|") == 3


@pytest.mark.parametrize("name", NAMES)
def test_every_command_has_help_with_an_example(name: str) -> None:
    result = CliRunner().invoke(commands, [*name.split(), "--help"])
    assert result.exit_code == 0
    example = result.output.partition("Example:\n")[2]
    assert example.strip().startswith(f"cornercue {name}")


@pytest.mark.parametrize("name", NAMES)
def test_every_option_of_a_command_is_in_the_readme(name: str) -> None:
    options = [param for param in COMMANDS[name].params if isinstance(param, click.Option)]
    for option in options:
        assert any(f"`{word}" in README or f" {word} " in README for word in option.opts), option.opts


@pytest.mark.parametrize("name", NAMES)
def test_o_is_short_for_output_and_output_long_for_o(name: str) -> None:
    options = [set(param.opts) for param in COMMANDS[name].params if isinstance(param, click.Option)]
    assert all(("-o" in words) == ("--output" in words) for words in options)


def test_every_command_that_writes_a_sound_a_page_a_sheet_or_a_voice_takes_output() -> None:
    writing = {name for name in NAMES for param in COMMANDS[name].params if "--output" in param.opts}
    assert writing == {"render", "page", "partner", "voice try", "voice sheet", "voice import"}


def test_no_command_is_documented_that_does_not_exist() -> None:
    groups = {name for name, one in commands.commands.items() if isinstance(one, click.Group)}
    for first, second in re.findall(r"`cornercue ([a-z]+)(?: ([a-z]+))?", README):
        assert (f"{first} {second}" if first in groups else first) in NAMES


@pytest.mark.parametrize("key", keys_of(Drill))
def test_every_key_of_a_script_is_in_the_first_table(key: str) -> None:
    assert row(f"{key}`")


@pytest.mark.parametrize("kind", sorted(STEP_KINDS))
def test_every_key_of_a_step_is_in_its_row(kind: str) -> None:
    steps = README.partition("| first key |")[2]
    (line,) = [line for line in steps.splitlines() if line.startswith(f"| `{kind}` |")]
    for key in keys_of_its_own(STEP_KINDS[kind]):
        assert f"`{key}`" in line


def test_the_script_examples_are_scripts_without_advice(tmp_path: Path) -> None:
    shutil.copytree(HOME / "drills", tmp_path, dirs_exist_ok=True)
    examples = blocks("yaml")
    assert examples
    for number, example in enumerate(examples):
        script = tmp_path / f"example-{number}.yaml"
        script.write_text(example, encoding="utf-8")
        assert expand(read_drill(script), Request(seed=1), estimated_seconds).advice == ()
        assert reviewed_file(script) == []


def test_the_table_of_rules_is_the_one_that_the_rules_make() -> None:
    assert f"\n\n{rules_table()}\n\n" in README


def test_the_example_shows_every_kind_of_step() -> None:
    example = blocks("yaml", "## The script language")[0]
    assert set(re.findall(r"^- (\w+):", example, flags=re.MULTILINE)) == set(STEP_KINDS)


def test_every_file_that_the_readme_names_is_there() -> None:
    links = re.findall(r"\]\(([^)#]+)\)", README) + re.findall(r"drills/[\w-]+\.yaml", README)
    assert links
    for link in links:
        assert (HOME / link).is_file(), link


def test_the_index_of_drills_tells_each_scripts_title_and_level() -> None:
    index = (HOME / "drills" / "README.md").read_text(encoding="utf-8")
    scripts = sorted((HOME / "drills").glob("*.yaml"))
    for script in scripts:
        drill = read_drill(script)
        assert f"| [{script.name}]({script.name}) | {drill.drill} | {drill.level} |" in index
    assert index.count(".yaml](") == len(scripts)
