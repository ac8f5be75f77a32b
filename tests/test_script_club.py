"""A club's file holds for every script of its folder and below: words, names of levels, includes from all of it."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from cornercue.cli.main import commands
from cornercue.languages import Aloud
from cornercue.script.faults import ScriptFaults
from cornercue.script.read import read_drill
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.setting import Request

CLUB = """\
club: Saltmarsh Hall
levels:
  1: {name: Shingle}
  2: Sand
words:
  tide kick: side kick
  heron: {kind: stance, sides: left/right}
"""
WARM_UP = "drill: Warm-up\nsteps:\n- exercise: easy jogging\n  for: 1 min\n"
DRILL = """\
drill: Tide
level: 2
steps:
- include: ../warm-up.yaml
- combination: [lead tide kick, heron left]
  reps: 2
"""


@pytest.fixture
def library(tmp_path: Path) -> Path:
    """A library with a folder for a level."""
    root = tmp_path / "library"
    (root / "sand").mkdir(parents=True)
    for name, text in {"club.yaml": CLUB, "warm-up.yaml": WARM_UP, "sand/tide.yaml": DRILL}.items():
        (root / name).write_text(text, encoding="utf-8")
    return root


def run(*arguments: object) -> str:
    result = CliRunner().invoke(commands, [*map(str, arguments)])
    assert result.exit_code == 0, result.output
    return result.output


def heard(script: Path, level: int | None = None) -> list[str]:
    return [cue.text for cue in expand(read_drill(script), Request(1, level), estimated_seconds).cues if cue.text]


def faults(script: Path) -> list[str]:
    with pytest.raises(ScriptFaults) as caught:
        read_drill(script)
    return [str(fault) for fault in caught.value.faults]


def test_its_words_hold_in_the_folders_below(library: Path) -> None:
    assert heard(library / "sand" / "tide.yaml").count("lead tide kick, heron left") == 2


def test_its_names_of_levels_are_spoken_shown_and_printed(library: Path) -> None:
    script = library / "sand" / "tide.yaml"
    assert "Tide. Sand." in heard(script)
    assert "Tide. Shingle." in heard(script, 1)
    assert "Tide. Level three." in heard(script, 3)
    assert "Tide · Sand · " in run("show", script, "--voice", "none")
    (advice,) = expand(read_drill(script), Request(1, 1), estimated_seconds).advice
    assert advice.told.startswith("this drill is for Sand and above; it is played at Shingle")


def test_the_name_of_a_level_may_be_said_otherwise_than_written(library: Path) -> None:
    (library / "club.yaml").write_text(CLUB.replace("2: Sand", "2: {name: Sand, said: すな}"), encoding="utf-8")
    script = library / "sand" / "tide.yaml"
    assert "Tide. Sand." in heard(script)
    assert read_drill(script).said_aloud == {"sand": Aloud("すな")}
    (library / "club.yaml").write_text("club: A\nlevels: {2: {name: Sand, said: 砂}}\n", encoding="utf-8")
    assert "club.yaml:2:10: a voice does not read `砂` as it is meant; write `said` in kana" in faults(script)[0]


def test_totals_have_its_words(library: Path) -> None:
    assert "Calls: lead tide kick, heron left 2." in run("show", library / "sand" / "tide.yaml", "--voice", "none")


def test_a_script_may_have_words_and_names_of_its_own_on_top(library: Path) -> None:
    script = library / "sand" / "own.yaml"
    script.write_text(
        "drill: Own\nlevels: {2: Dune}\nwords: {ebb: lead tide kick}\nsteps:\n- combination: [ebb]\n  reps: 1\n"
        .replace("lead tide kick", "tide kick").replace("[ebb]", "[rear ebb]"),
        encoding="utf-8",
    )  # fmt: skip
    assert "rear ebb" in heard(script)
    assert "Own. Dune." in heard(script, 2)
    assert "Own. Shingle." in heard(script)


def test_how_words_are_said_holds_for_the_session_and_the_scripts_own_way_comes_first(library: Path) -> None:
    club = CLUB.replace("tide kick: side kick", "tide kick: {like: side kick, said: tyde kick}")
    (library / "club.yaml").write_text(club, encoding="utf-8")
    inner = "drill: Inner\nwords:\n  ebb: {like: jab, said: ebbb}\n  low: {like: jab, said: loe}\n"
    (library / "inner.yaml").write_text(inner + "steps:\n- combination: [ebb, low]\n", encoding="utf-8")
    outer = "drill: Outer\nwords:\n  low: {like: cross, said: lough}\n"
    steps = "steps:\n- repeat: 2\n  steps:\n  - include: inner.yaml\n"
    (library / "outer.yaml").write_text(outer + steps, encoding="utf-8")
    aloud = {"tide kick": "tyde kick", "ebb": "ebbb", "low": "lough"}
    assert read_drill(library / "outer.yaml").said_aloud == {word: Aloud(said) for word, said in aloud.items()}


def test_its_words_and_names_of_levels_may_be_said_in_another_language(library: Path) -> None:
    club = CLUB.replace("2: Sand", "2: {name: Sable, language: french}")
    club = club.replace("tide kick: side kick", "fouetté: {like: side kick, language: french}\n  tide kick: side kick")
    (library / "club.yaml").write_text(club, encoding="utf-8")
    script = library / "sand" / "tide.yaml"
    aloud = {"sable": Aloud("Sable", "french"), "fouetté": Aloud("fouetté", "french")}
    assert read_drill(script).said_aloud == aloud
    (library / "club.yaml").write_text("club: A\nlevels: {2: {name: A b, language: frnch}}\n", encoding="utf-8")
    assert "club.yaml:2:10: words cannot be said in `frnch`; did you mean `french`?" in faults(script)[0]


def test_includes_come_from_the_whole_library_and_never_from_outside(library: Path, tmp_path: Path) -> None:
    (tmp_path / "secret.yaml").write_text(WARM_UP, encoding="utf-8")
    script = library / "sand" / "out.yaml"
    script.write_text("drill: Out\nsteps:\n- include: ../../secret.yaml\n", encoding="utf-8")
    (found,) = faults(script)
    assert found.endswith("lies outside the folder of club.yaml; includes stay inside it: copy the script into it")
    (library / "sand" / "link.yaml").symlink_to(tmp_path / "secret.yaml")
    script.write_text("drill: Out\nsteps:\n- include: link.yaml\n", encoding="utf-8")
    assert "lies outside" in faults(script)[0]


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("klub: Saltmarsh Hall\n", "club.yaml:1:1: a club's file starts with `club: its name`"),
        ("club: ''\n", "club.yaml:1:7: "),
        ("club: A\ntimes: 2\n", "club.yaml:2:1: a club's file has no `times`; it knows `club`, `levels`, `doses`"),
        ("club: A\nlevel: 2\n", "club.yaml:2:1: a club's file has no `level`; did you mean `levels`?"),
        ("club: A\nlevels: {11: Top}\n", "club.yaml:2:10: `11` is no level; levels go from 1 to 10"),
        ("club: A\nlevels: {one: Top}\n", "club.yaml:2:10: `one` is no level"),
        ("club: A\nlevels: {1: {belt: White}}\n", "club.yaml:2:10: a level has a name, and `said` where"),
        ("club: A\nlevels: [White]\n", "club.yaml:2:9: names of levels belong here"),
        ("club: A\nwords: {wheel: weel}\n", "club.yaml:2:9: `weel` is not a technique"),
        ("club: [\n", "club.yaml:2:1: this is not YAML"),
    ],
)
def test_a_faulty_club_file_is_told_by_its_own_name_and_place(library: Path, text: str, fault: str) -> None:
    (library / "club.yaml").write_text(text, encoding="utf-8")
    found = faults(library / "sand" / "tide.yaml")
    assert f"{library}/{fault}" in found[0]


def test_check_takes_the_folder_and_the_club_file_is_no_script(library: Path) -> None:
    told = run("check", library)
    assert f"{library}/sand/tide.yaml: fine, about" in told
    assert "club.yaml" not in told
    assert told.splitlines()[-1].startswith("2 scripts: 2 fine; about ")


def test_check_ends_with_a_total_of_what_it_found(library: Path) -> None:
    (library / "bad.yaml").write_text("drill: Bad\nsteps:\n- combination: [corss]\n", encoding="utf-8")
    many = "drill: Many\nsteps:\n- exercise: push-ups\n  reps: 40\n"
    (library / "many.yaml").write_text(many, encoding="utf-8")
    result = CliRunner().invoke(commands, ["check", str(library)])
    assert result.exit_code == 1
    last = result.output.splitlines()[-1]
    assert last.startswith("4 scripts: 2 fine, 1 with warnings, 1 with faults; about ")
    alone = CliRunner().invoke(commands, ["check", str(library / "many.yaml")])
    assert "scripts" not in alone.output


def test_the_clubs_file_given_as_a_script_is_told_for_what_it_is(library: Path) -> None:
    (found,) = faults(library / "club.yaml")
    assert found.endswith(
        "club.yaml:1:1: this is a club's file, not a drill; name the folder that it lies in, or a script there"
    )
