"""What is told stays readable: each line has a place, none fills over three lines of a terminal, none comes for ever.

Three lines of 80 columns and twenty of a kind are own choices.
"""

from __future__ import annotations

import random
import re
import time
from collections import Counter
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st

from cornercue.cli.main import commands
from cornercue.folding import folded, line_at
from cornercue.script.faults import Fault, ScriptFaults
from cornercue.script.read import parse_drill, read_drill
from cornercue.technique.table import TECHNIQUES
from test_script_fuzz import mutated

PLACE = re.compile(r"a\.yaml:\d+:\d+: \S")


def lines_of(text: str) -> list[str]:
    """What is told of a script; nothing, where it can be read."""
    try:
        parse_drill(text, "a.yaml")
    except ScriptFaults as faults:
        return str(faults).splitlines()
    return []


def misspelt(count: int) -> str:
    """A script with so many words, all different, that are no techniques and look like one."""
    rng, words = random.Random(1), dict[str, None]()
    while len(words) < count:
        name = rng.choice(TECHNIQUES).name
        at = rng.randrange(len(name))
        words[f"{name[:at]}{rng.choice('qzxvkw')}{rng.choice('qzxvkw')}{name[at:]}".strip()] = None
    each = list(words)
    lists = (", ".join(f"'{word}'" for word in each[at : at + 12]) for at in range(0, count, 12))
    return "drill: Misspelt\nsteps:\n" + "".join(f"- combination: [{words}]\n" for words in lists)


def test_six_thousand_misspelt_words_are_told_as_twenty_and_a_number_within_a_second(tmp_path: Path) -> None:
    path = tmp_path / "a.yaml"
    path.write_text(misspelt(6000))
    begun = time.process_time()
    with pytest.raises(ScriptFaults) as caught:
        read_drill(path)
    told = str(caught.value).splitlines()
    assert time.process_time() - begun < 1.0
    assert len(caught.value.faults) == 6000
    assert len(told) == 21
    assert all("is not a technique; did you mean" in line for line in told[:20])
    assert told[20] == f"{path}:4:{caught.value.faults[20].column}: ... and 5,980 more like this"
    assert CliRunner().invoke(commands, ["check", str(path)]).output.splitlines() == told


def test_twenty_are_told_one_by_one() -> None:
    assert len(lines_of(misspelt(20))) == 20
    assert [line.partition(": ")[2] for line in lines_of(misspelt(21))][-1] == "... and 1 more like this"


def test_other_kinds_are_told_between_them() -> None:
    many = [(f"a.yaml:{n}:1", f"`w{n}` is not a technique; did you mean `jab`?") for n in range(30)]
    told = list(folded([*many[:25], ("a.yaml:25:2", "the text is missing"), *many[25:]]))
    assert told[20:] == ["a.yaml:20:1: ... and 10 more like this", "a.yaml:25:2: the text is missing"]


def test_what_the_review_finds_again_and_again_is_told_as_twenty_and_a_number(tmp_path: Path) -> None:
    path = tmp_path / "a.yaml"
    steps = "- combination: [cross, rear hook]\n  reps: 1\n- rest: 3 s\n"
    path.write_text(f"drill: A\njunior: no\nsteps:\n{steps * 50}")
    output = CliRunner().invoke(commands, ["check", str(path)]).output.splitlines()
    flow = [line for line in output if "flow:" in line]
    assert len(flow) == 20
    assert [line for line in output if "more like this" in line] == [f"{path}:64:24: ... and 30 more like this"]


@pytest.mark.parametrize(
    "text",
    [
        f"drill: A\nsteps:\n- rest: {'x' * 5000}\n",
        f"drill: A\nsteps:\n- {'x' * 900}: 3\n",
        f"drill: A\n{'y' * 900}: 3\nsteps:\n- say: Go.\n",
        f"drill: A\nsteps:\n- partner: {{parry: {'`' * 700}}}\n  reps: 3\n",
        f"drill: A\nstance: {'`z`' * 300}\nsteps:\n- say: Go.\n",
    ],
)
def test_a_long_word_is_cut_and_the_remedy_is_kept(text: str) -> None:
    (line, *_) = lines_of(text)
    assert PLACE.match(line)
    assert len(line) <= 240


def test_the_longest_quote_is_cut_first() -> None:
    line = line_at("a.yaml:3:3", f"`{'x' * 300}` is not a duration; write for example `90 s`")
    assert len(line) == 240
    assert line.endswith("x…` is not a duration; write for example `90 s`")
    assert line_at("a.yaml:3:3", "short") == "a.yaml:3:3: short"


@given(st.text(max_size=400), st.text(max_size=30))
def test_no_line_is_over_three_lines_of_a_terminal(text: str, name: str) -> None:
    line = line_at(f"{name}:1:1", text)
    assert len(line) <= 240
    assert "\n" not in line


@given(mutated())
def test_whatever_is_wrong_is_told_at_a_place_in_three_lines_and_not_again_and_again(text: str) -> None:
    told = lines_of(text)
    assert all(PLACE.match(line) for line in told)
    assert all(len(line) <= 240 for line in told)
    texts = Counter(line.partition(": ")[2] for line in told)
    assert max(texts.values(), default=0) <= 20


def test_every_fault_is_kept_as_a_value() -> None:
    faults = [Fault("a.yaml", n, 1, "the text is missing") for n in range(1, 100)]
    assert len(ScriptFaults(faults).faults) == 99
    assert len(str(ScriptFaults(faults)).splitlines()) == 21
