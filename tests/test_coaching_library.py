"""A library as a whole: doses from level to level, what is used before it is taught, twins, and the club's words."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from click.testing import CliRunner

from cornercue.cli.main import commands
from cornercue.coaching import library
from cornercue.interface import Clubs, check_libraries, check_script, scripts_in

DRILLS = Path(__file__).parent.parent / "drills"
LEVELS = "drill: {0}\nlevel: {0}\nsteps:\n{1}"


def found_in(folder: Path, **scripts: str) -> list[str]:
    """What is found in scripts by their names, as `file:line:column: text`."""
    for name, text in scripts.items():
        (folder / f"{name}.yaml").write_text(text, encoding="utf-8")
    clubs = Clubs()
    reports = {path: check_script(path, clubs=clubs) for path in scripts_in([folder])}
    problems = check_libraries(reports, clubs)
    return [f"{Path(file).name}:{one.line}:{one.column}: {one.severity}: {one.text}" for file, one in problems]


def levels(folder: Path, low: str, high: str, top: int = 2) -> list[str]:
    return found_in(folder, low=LEVELS.format(1, low), high=LEVELS.format(top, high))


def parts(text: str) -> dict[str, str]:
    """The scripts of an example by their names."""
    _, *rest = re.split(r"^# (\w+)\.yaml\n", text, flags=re.MULTILINE)
    return dict(zip(rest[::2], rest[1::2], strict=True))


def test_the_examples_of_its_page_fail_and_pass(tmp_path: Path) -> None:
    (found,) = found_in(tmp_path, **parts(library.FAILING))
    assert found.startswith("first.yaml:4:22: hint: the hook is used at level 1, and the library teaches it at level 2")
    assert found_in(tmp_path, **parts(library.PASSING)) == []


def test_nothing_is_found_in_the_demo_drills_and_the_demo_library() -> None:
    clubs = Clubs()
    reports = {path: check_script(path, clubs=clubs) for path in scripts_in([DRILLS])}
    assert len(reports) > 40
    assert check_libraries(reports, clubs) == ()


@pytest.mark.parametrize(
    ("low", "high", "told"),
    [
        ("- exercise: push-ups\n  reps: 4\n", "- exercise: Push-ups\n  reps: 9\n", "9 push-ups"),
        ("- exercise: skipping\n  for: 20 s\n", "- exercise: skipping\n  for: 45 s\n", "45 s of skipping"),
        ("- hold: horse stance\n  for: 10 s\n", "- hold: horse stance\n  for: 30 s\n", "30 s of the horse stance"),
        ("- shadow: [jab]\n  for: 20 s\n", "- shadow: [jab]\n  for: 1 min\n", "1 min of shadow boxing"),
        ("- react: [left, right]\n  for: 20 s\n", "- react: [left, right]\n  for: 1 min\n", "1 min of reactions"),
    ],
)
def test_a_dose_that_more_than_doubles_to_the_next_level_is_told(
    tmp_path: Path, low: str, high: str, told: str
) -> None:
    (found,) = levels(tmp_path, low, high)
    assert found.startswith(f"high.yaml:4:3: hint: {told} at level 2 after ")
    assert "low.yaml are more than twice as much a level" in found


def test_a_dose_may_double_with_each_level(tmp_path: Path) -> None:
    low, twice, more = (f"- exercise: push-ups\n  reps: {reps}\n" for reps in (3, 6, 12))
    assert levels(tmp_path, low, twice) == []
    assert len(levels(tmp_path, low, more)) == 1
    assert levels(tmp_path, low, more, top=3) == []
    between = LEVELS.format(2, twice)
    assert found_in(tmp_path, low=LEVELS.format(1, low), between=between, high=LEVELS.format(3, more)) == []


def test_gentle_exercises_are_no_dose(tmp_path: Path) -> None:
    easy = "- exercise: easy jogging\n  for: {}\n"
    assert levels(tmp_path, easy.format("20 s"), easy.format("5 min")) == []


KICK = "- combination: [jab, rear {}]\n  reps: 2\n"
TAUGHT = "- combination: [lead {}]\n  reps: 2\n  teach: 1\n"


def test_a_technique_is_not_used_below_the_level_that_teaches_it(tmp_path: Path) -> None:
    (found,) = levels(tmp_path, KICK.format("side kick"), TAUGHT.format("side kick"))
    assert found == (
        "low.yaml:4:22: hint: the side kick is used at level 1, and the library teaches it at level 2 only"
    )
    both = KICK.format("side kick") + TAUGHT.format("side kick")
    assert levels(tmp_path, both, TAUGHT.format("side kick")) == []


@pytest.mark.parametrize(
    ("low", "high"),
    [
        (KICK.format("side kick"), KICK.format("side kick") + "- say: Go.\n"),  # a person teaches it
        (TAUGHT.format("side kick"), KICK.format("side kick")),
        (TAUGHT.format("side kick") + KICK.format("low side kick"), TAUGHT.format("low side kick")),
        ("- hold: rear side kick\n  for: 5 s\n  silence: {sides: it is the other one today}\n",
         TAUGHT.format("side kick")),
    ],
)  # fmt: skip
def test_what_a_person_teaches_other_heights_and_holds_are_left_alone(tmp_path: Path, low: str, high: str) -> None:
    assert levels(tmp_path, low, high) == []


def test_drills_that_differ_in_name_only_are_told(tmp_path: Path) -> None:
    steps = "steps:\n- combination: [jab, cross]\n- repeat: 2\n  steps:\n  - say: Go.\n"
    (found,) = found_in(
        tmp_path,
        a=f"drill: One\n{steps}",
        b=f"# The same.\nabout: Another one.\ndrill: Two\n{steps.replace('[jab, cross]', 'jab, cross')}",
        c=f"drill: One\n{steps.replace('Go', 'Again')}",
        d=f"drill: One\nlevel: 2\n{steps}",
    )
    assert re.fullmatch(r"b.yaml:2:1: warning: «Two» is the same drill as «One» in a.yaml, but for its name", found)


def test_a_words_of_a_club_that_sound_alike_are_told_in_its_file(tmp_path: Path) -> None:
    (tmp_path / "club.yaml").write_text("club: Tide\nwords:\n  kama: low block\n  hama: high block\n")
    assert found_in(tmp_path, a="drill: A\nsteps:\n- say: Go.\n") == [
        "club.yaml:4:3: hint: “hama” and “kama” differ in 1 sound only"
    ]


def test_two_clubs_are_two_libraries(tmp_path: Path) -> None:
    steps = "drill: A\nsteps:\n- say: Go.\n"
    for name in ("one", "two"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "club.yaml").write_text(f"club: {name}\n")
        (tmp_path / name / "a.yaml").write_text(steps)
    assert found_in(tmp_path) == []


def test_a_silence_holds_and_one_that_silences_nothing_is_told(tmp_path: Path) -> None:
    silence = "silence: {library: it is only shown here}\n"
    low, high = (LEVELS.format(n, steps.format("side kick")) for n, steps in ((1, KICK), (2, TAUGHT)))
    assert found_in(tmp_path, low=f"{silence}{low}", high=high) == []
    assert found_in(tmp_path, low=low.replace("reps: 2", "reps: 2\n  " + silence.strip()), high=high) == []
    (found,) = found_in(tmp_path, low=f"{silence}{low}", high=f"{silence}{high}")
    assert found == "high.yaml:1:1: hint: `library` is silenced here, but it finds nothing"


def test_check_of_a_folder_tells_it_after_the_scripts_and_strict_counts_its_warnings(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)  # a long path would be cut
    for name in "ab":
        (tmp_path / f"{name}.yaml").write_text("drill: A\nsteps:\n- say: Go.\n")
    result = CliRunner().invoke(commands, ["check", "."])
    *_, told, total = result.output.splitlines()
    assert told.startswith("b.yaml:1:1: warning: library: «A» is the same drill as «A» in ")
    assert told.endswith("a.yaml, but for its name; keep one of the two")
    assert total.startswith("2 scripts: ")
    assert result.exit_code == 0
    assert CliRunner().invoke(commands, ["check", "--strict", "."]).exit_code == 1
