"""The tables of the documents that go by the program: commands, options, keys of scripts, rules, METs, exit codes."""

from __future__ import annotations

import inspect
import re

import click
import pytest
from click.testing import CliRunner

from cornercue import errors
from cornercue.cli.main import commands
from cornercue.coaching.rules import rules_table
from cornercue.player.tide import KEYS
from cornercue.script.model import STEP_KINDS, Drill
from cornercue.script.read import read_drill
from cornercue.script.step import ScriptNode, keys_of
from cornercue.session.folders import scripts_in
from cornercue.totals.activities import BY_NAME, HOLD, NO_ROW, OTHER, STANDING, TECHNIQUES, Activity
from documents import COMMANDS, DOCUMENTS, HOME, blocks, row, text_of

NAMES = sorted(COMMANDS)
EVERY_PAGE = "\n".join(map(text_of, DOCUMENTS))
SCRIPTS = "docs/script-language.md"


@pytest.mark.parametrize("name", NAMES)
def test_every_command_is_in_the_table_of_commands(name: str) -> None:
    assert row("docs/commands.md", f"cornercue {name}").count("|") == 3


@pytest.mark.parametrize("name", NAMES)
def test_every_command_has_help_with_an_example(name: str) -> None:
    result = CliRunner().invoke(commands, [*name.split(), "--help"])
    assert result.exit_code == 0
    example = result.output.partition("Example:\n")[2]
    assert example.strip().startswith(f"cornercue {name}")


@pytest.mark.parametrize("name", NAMES)
def test_every_option_of_a_command_is_in_the_documents(name: str) -> None:
    options = [param for param in COMMANDS[name].params if isinstance(param, click.Option)]
    for option in options:
        assert any(f"`{word}" in EVERY_PAGE or f" {word} " in EVERY_PAGE for word in option.opts), option.opts


@pytest.mark.parametrize("name", NAMES)
def test_o_is_short_for_output_and_output_long_for_o(name: str) -> None:
    options = [set(param.opts) for param in COMMANDS[name].params if isinstance(param, click.Option)]
    assert all(("-o" in words) == ("--output" in words) for words in options)


def test_every_command_that_writes_a_sound_a_page_a_sheet_or_a_voice_takes_output() -> None:
    writing = {name for name in NAMES for param in COMMANDS[name].params if "--output" in param.opts}
    assert writing == {"render", "page", "partner", "voice try", "voice sheet", "voice import"}


@pytest.mark.parametrize("key", keys_of(Drill))
def test_every_key_of_a_script_is_in_the_first_table(key: str) -> None:
    assert row(SCRIPTS, f"{key}`")


def keys_of_its_own(model: type[ScriptNode]) -> list[str]:
    """The keys of a step without `silence`, which every step may have."""
    return [key for key in keys_of(model) if key != "silence"]


@pytest.mark.parametrize("kind", sorted(STEP_KINDS))
def test_every_key_of_a_step_is_in_its_row(kind: str) -> None:
    steps = text_of(SCRIPTS).partition("| first key |")[2]
    (line,) = [line for line in steps.splitlines() if line.startswith(f"| `{kind}` |")]
    for key in keys_of_its_own(STEP_KINDS[kind]):
        assert f"`{key}`" in line


def test_the_example_shows_every_kind_of_step() -> None:
    example = blocks(SCRIPTS, "yaml")[0]
    assert set(re.findall(r"^- (\w+):", example, flags=re.MULTILINE)) == set(STEP_KINDS)


def test_the_table_of_rules_is_the_one_that_the_rules_make() -> None:
    assert f"\n\n{rules_table()}\n\n" in text_of("docs/review.md")


def test_the_table_of_efforts_has_every_row_that_the_program_goes_by() -> None:
    rows = re.findall(r"^\| .+ \| ([\d.]+) \| (\d{5}), [^|]+ \| ([^|]+) \|$", text_of(SCRIPTS), re.MULTILINE)
    used = {HOLD, OTHER, STANDING, TECHNIQUES, *(activity for _, activity in BY_NAME)}

    def for_juniors(activity: Activity) -> str:
        mets = " ".join(map(str, activity.youth.mets))
        return f"{mets.split()[0]}" if activity.youth.code == NO_ROW else f"{mets} ({activity.youth.code})"

    assert sorted(rows) == sorted((f"{one.met}", one.code, for_juniors(one)) for one in used)


def test_the_table_of_keys_has_those_that_the_screen_names() -> None:
    page = text_of("docs/page-and-player.md")
    told = re.findall(r"^\| ([^|`]+) \| ", page[page.index("| key |") :], re.MULTILINE)
    pressed = {"space": "space", "←": "left", "→": "right", "r again": "R", "↑": "up", "↓": "down", "q": "Q"}
    for sign, words in pressed.items():
        assert sign in KEYS[0]
        assert any(words in key.split() or f"{words}," in key.split() for key in told), words


def test_every_exit_code_of_an_error_is_told() -> None:
    codes = {one.exit_code for _, one in inspect.getmembers(errors, inspect.isclass) if hasattr(one, "exit_code")}
    assert codes
    users, programmers = text_of("docs/commands.md").partition("Exit codes:")[2], text_of("DEVELOPERS.md")
    for code in codes:
        assert re.search(rf"\b{code} ", users)
        assert f"\n| {code} |" in programmers


def test_the_index_of_drills_tells_each_scripts_title_and_level() -> None:
    index = text_of("drills/README.md")
    scripts = [*scripts_in([HOME / "drills"])]
    for script in scripts:
        drill, name = read_drill(script), script.relative_to(HOME / "drills").as_posix()
        assert f"| [{name}]({name}) | {drill.drill} | {drill.level} |" in index
    assert index.count(".yaml](") == len(scripts)
