"""The README says what the program is, how it is installed and tried, and what keeps people safe."""

from __future__ import annotations

import re
from itertools import chain
from pathlib import Path

from click.testing import CliRunner

from cornercue.cli.main import commands
from cornercue.script.partner import Partner
from cornercue.script.read import read_drill
from cornercue.timing.phrasebook import phrasebook
from documents import blocks, text_of

README = text_of("README.md")
SAFETY = " ".join(README.partition("\n## Safety\n")[2].partition("\n## ")[0].split())


def test_the_job_comes_first_and_then_the_two_lines() -> None:
    render, tests = blocks("README.md", "sh")[:2]
    assert README.index("drill script") < README.index(render) < README.index(tests) < README.index("\n## ")
    assert render.strip() == (
        "python3 -m venv .venv && .venv/bin/pip install . && "
        ".venv/bin/cornercue render drills/first-combination.yaml -o first-combination.wav"
    )
    assert tests.strip() == (
        "python3 -m venv .venv && .venv/bin/pip install -e '.[test]' && .venv/bin/python -m pytest"
    )


def test_each_of_the_two_is_found_by_a_machine_in_one_line() -> None:
    for words in (".venv/bin/cornercue render", "-m pytest"):
        assert len([line for line in README.splitlines() if words in line]) == 1


def test_what_the_program_says_first_for_safety_stands_in_the_readme() -> None:
    """The cautions have one place, `safety` in `english.yaml`; every word that carries one is in the README too."""
    spoken = phrasebook().safety
    lists = (spoken[what]["written"] for what in ("junior", "adult", "pads"))
    sentences = [*chain.from_iterable(lists), spoken["hold"], spoken["bag"]]
    for sentence in sentences:
        told = words_of(sentence)
        lacking = told - words_of(SAFETY)
        assert not lacking, f"{sentence} {sorted(lacking)}"


def defences_in(minutes: str, folder: Path) -> list[set[str]]:
    """What each round of `cornercue partner` calls."""
    script = folder / f"{minutes}.yaml"
    asked = ["partner", "--minutes", minutes, "--voice", "system", "--save", str(script)]
    assert CliRunner().invoke(commands, asked).exit_code == 0
    steps = read_drill(script).steps
    return [{kind.technique.name for kind in step.partner} for step in steps if isinstance(step, Partner)]


def test_what_a_parent_is_told_of_a_session_holds_for_ten_minutes_and_eight(tmp_path: Path) -> None:
    ten = defences_in("10", tmp_path)
    assert "It lasts ten minutes" in README
    assert ten[:3] == [{"parry"}, {"cover"}, {"weave"}]
    assert ten[3:] == [{"parry", "cover", "weave"}] * 3  # mixed, with punches thrown back, in turn
    assert "`--minutes 8` leaves the weave for another day" in " ".join(README.split())
    assert set().union(*defences_in("8", tmp_path)) == {"parry", "cover"}


SMALL_WORDS = (
    "for its own of only keep drills their come comes before this say says what and or the a an who is in it at to "
    "with within your first"
)
"""Words that carry no caution."""


def words_of(text: str) -> set[str]:
    """The words that carry a caution, lower case, each without a plural's s."""
    return {word.removesuffix("s") for word in re.findall(r"[\w']+", text.lower()) if word not in SMALL_WORDS.split()}
