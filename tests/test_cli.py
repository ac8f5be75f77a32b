"""What a person types, and what they get back."""

from __future__ import annotations

import json
import re
import subprocess
import sys
import wave
from pathlib import Path

import pytest
import yaml
from click.testing import CliRunner, Result
from jsonschema import Draft202012Validator

from cornercue.cli.main import commands, main
from cornercue.technique.table import TECHNIQUES

GOOD = """\
drill: One two
level: 2
steps:
- combination: [jab, cross]
  reps: 3
- rest: 10 s
- exercise: push-ups
  reps: 3 to 15
  sets: 2
  rest: 12 s
"""


def run(*arguments: str) -> Result:
    return CliRunner().invoke(commands, arguments)


@pytest.fixture
def script(tmp_path: Path) -> str:
    path = tmp_path / "one-two.yaml"
    path.write_text(GOOD)
    return str(path)


def test_check_names_every_fault_of_every_file_and_ends_with_1(tmp_path: Path, script: str) -> None:
    bad = tmp_path / "bad.yaml"
    bad.write_text("drill: Bad\nlevle: 2\nsteps:\n- combination: [jab, corss]\n")
    result = run("check", str(tmp_path))
    assert result.exit_code == 1
    assert f"{bad}:2:1: a drill script has no `levle`; did you mean `level`?" in result.output
    assert f"{bad}:4:22: `corss` is not a technique; did you mean `cross`?" in result.output
    assert f"{script}: fine, about" in result.output


def test_check_is_content_with_good_scripts(script: str) -> None:
    assert run("check", script).exit_code == 0


def test_check_tells_a_drill_of_more_than_six_hours_at_its_line(tmp_path: Path) -> None:
    path = tmp_path / "long.yaml"
    path.write_text("drill: Long\nsteps:\n- say: Go.\n- repeat: 100\n  steps:\n  - exercise: run\n    for: 1 h\n")
    result = run("check", str(path))
    assert result.exit_code == 1
    assert f"{path}:6:5: here the drill passes six hours" in result.output


def test_check_of_a_folder_without_scripts_says_so(tmp_path: Path) -> None:
    result = run("check", str(tmp_path))
    assert result.exit_code == 1
    assert "there is no script in this folder" in result.output


def test_show_prints_a_table_with_the_seed_and_the_totals(script: str) -> None:
    result = run("show", "--voice", "none", "--seed", "7", script)
    assert result.exit_code == 0
    assert "One two · level 2" in result.output
    assert "seed 7 · voice none" in result.output
    assert result.output.count("jab, cross  ") == 3
    assert result.output.rstrip().splitlines()[-1].startswith("Work ")


def test_show_json_is_the_timeline_as_the_design_says(script: str) -> None:
    data = json.loads(run("show", "--voice", "none", "--json", "--level", "3", script).output)
    assert set(data) >= {"drill", "level", "seed", "voice", "duration", "parts", "cues"}
    assert data["level"] == 3
    assert [cue["start"] for cue in data["cues"]] == sorted(cue["start"] for cue in data["cues"])
    counts = [cue for cue in data["cues"] if cue["kind"] == "count" and "rep" in cue]
    assert len(counts) == 2 * 2 * 3
    call = next(cue for cue in data["cues"] if cue["kind"] == "call")
    assert call["moves"] == [{"technique": "jab", "hand": "left"}, {"technique": "cross", "hand": "right"}]


ROUNDS = """\
drill: Rope and rest
steps:
- say: Rope in hand.
- repeat: 2
  rest: 15 s
  steps:
  - exercise: skipping
    for: 20 s
- exercise: squats
  reps: 3
  sets: 2
"""
TOLD = [
    "Rope in hand.",
    "Round 1 of 2 · Skipping",
    "Round 2 of 2 · Skipping",
    "Set 1 of 2 · Squats",
    "Set 2 of 2 · Squats",
]


def test_show_tells_the_finest_parts_with_their_numbers(tmp_path: Path) -> None:
    (tmp_path / "rope.yaml").write_text(ROUNDS)
    output = run("show", "--voice", "none", str(tmp_path / "rope.yaml")).output
    found = re.findall(r"^Part (\d+) · (.+) \(line \d+\)$", output, re.MULTILINE)
    assert found == [(str(number), told) for number, told in enumerate(TOLD, start=1)]


def test_show_json_has_the_parts_as_a_tree_and_each_cue_points_to_its_finest_one(tmp_path: Path) -> None:
    (tmp_path / "rope.yaml").write_text(ROUNDS)
    data = json.loads(run("show", "--voice", "none", "--json", str(tmp_path / "rope.yaml")).output)
    said, rounds, squats = data["parts"]
    assert [said["title"], said["kind"], said["line"], said["start"]] == ["Rope in hand.", "say", 3, 0]
    assert [(one["kind"], one["number"], one["count"], one["title"]) for one in rounds["parts"]] == [
        ("round", 1, 2, "Round 1 of 2"), ("round", 2, 2, "Round 2 of 2"),
    ]  # fmt: skip
    assert [one["title"] for part in rounds["parts"] for one in part["parts"]] == ["Skipping", "Skipping"]
    assert [(one["kind"], one["number"], one["count"]) for one in squats["parts"]] == [("set", 1, 2), ("set", 2, 2)]
    leaves = [said, *(one for part in rounds["parts"] for one in part["parts"]), *squats["parts"]]
    for cue in data["cues"]:
        assert leaves[cue["part"]]["start"] <= cue["start"] < leaves[cue["part"]]["end"]
    assert [span["part"] for span in data["spans"] if span["kind"] == "rest"] == [1, 3]  # the second between the sets
    assert [cue["text"] for cue in data["cues"] if cue.get("ahead")] == [
        "Round two of two.",
        "Skipping, twenty seconds.",
        "Set two of two.",
    ]


def test_stance_on_the_command_line_turns_the_hands(script: str) -> None:
    data = json.loads(run("show", "--voice", "none", "--json", "--stance", "southpaw", script).output)
    call = next(cue for cue in data["cues"] if cue["kind"] == "call")
    assert call["moves"] == [{"technique": "jab", "hand": "right"}, {"technique": "cross", "hand": "left"}]


def test_a_slower_pace_on_the_command_line_makes_the_drill_longer(script: str) -> None:
    def duration(*options: str) -> float:
        return float(json.loads(run("show", "--voice", "none", "--json", *options, script).output)["duration"])

    assert duration("--pace", "learning") > duration("--pace", "sharp")


def test_a_pace_that_is_none_is_a_fault_of_the_command_line(script: str) -> None:
    result = run("show", "--pace", "staedy", script)
    assert result.exit_code == 2
    assert "did you mean `steady`?" in result.output


def test_render_writes_what_show_promises(script: str, tmp_path: Path) -> None:
    target = tmp_path / "one-two.wav"
    result = run("render", script, "-o", str(target))
    assert result.exit_code == 0, result.output
    shown = json.loads(run("show", "--json", script).stdout)
    with wave.open(str(target)) as sound:
        assert sound.getnframes() == round(shown["duration"] * sound.getframerate())
    assert str(target) in result.output


def test_render_refuses_a_suffix_it_cannot_write_before_it_does_any_work(script: str, tmp_path: Path) -> None:
    result = run("render", script, "-o", str(tmp_path / "evening.doc"))
    assert result.exit_code == 1
    assert ".wav" in result.output
    assert list(tmp_path.glob("evening*")) == []


def test_play_without_a_sound_device_ends_with_3_and_says_what_to_do(script: str, tmp_path: Path) -> None:
    (tmp_path / ".asoundrc").write_text("pcm.!default { type null_that_is_not }\nctl.!default { type nothing }\n")
    done = subprocess.run(
        [sys.executable, "-m", "cornercue", "play", script],
        env={"HOME": str(tmp_path), "PATH": "", "PULSE_SERVER": "unix:/nowhere"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 3, done.stderr
    assert "cornercue render" in done.stderr


def test_new_writes_a_script_that_check_accepts_and_never_overwrites(tmp_path: Path) -> None:
    path = tmp_path / "mine.yaml"
    assert run("new", str(path)).exit_code == 0
    assert run("check", str(path)).exit_code == 0
    assert "advice" not in run("check", str(path)).output
    before = path.read_text()
    again = run("new", str(path))
    assert again.exit_code == 1
    assert "is there already" in again.output
    assert path.read_text() == before


def test_schema_of_a_folder_knows_the_words_of_its_club(tmp_path: Path) -> None:
    nowhere = run("schema", str(tmp_path))
    assert nowhere.exit_code == 1
    assert f"there is no club.yaml in {tmp_path} or above" in nowhere.output
    (tmp_path / "club.yaml").write_text("club: A\nwords: {tide kick: side kick}\n")
    (tmp_path / "kicks").mkdir()
    script = {"drill": "A", "steps": [{"combination": ["lead tide kick"]}]}
    assert Draft202012Validator(json.loads(run("schema", str(tmp_path / "kicks")).output)).is_valid(script)
    assert not Draft202012Validator(json.loads(run("schema").output)).is_valid(script)


def test_new_explains_a_folder_that_is_not_there(tmp_path: Path) -> None:
    result = run("new", str(tmp_path / "nowhere" / "mine.yaml"))
    assert result.exit_code == 1
    assert f"there is no folder {tmp_path / 'nowhere'}; make it first" in result.output


def test_schema_is_a_2020_12_schema_that_the_starter_satisfies(tmp_path: Path) -> None:
    schema = json.loads(run("schema").output)
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    Draft202012Validator.check_schema(schema)
    run("new", str(tmp_path / "mine.yaml"))
    Draft202012Validator(schema).validate(yaml.safe_load((tmp_path / "mine.yaml").read_text()))


def test_techniques_can_be_searched() -> None:
    assert "weave" in run("techniques", "roll").output
    assert "lead hook" in run("techniques", "3").output
    told = run("techniques", "high block").output
    assert "for children and teenagers\n  Not fed: a chop from above" in told
    assert "for adults\n  High block: raise the forearm" in told
    assert "inner block\n  Not fed: no feed is described for it." in run("techniques", "inner block").output
    nothing = run("techniques", "moonwalk")
    assert nothing.exit_code == 1
    assert "moonwalk" in nothing.output


def test_techniques_are_listed_in_groups_on_80_columns_with_every_name() -> None:
    lines = run("techniques").output.splitlines()
    assert max(map(len, lines)) <= 80
    titles = [line.split(",")[0] for line in lines if line and not line.startswith((" ", "Times"))]
    assert titles == ["Strikes", "Kicks", "Defences", "Footwork", "Stances", "On the ground"]
    assert [line.split() for line in lines if line.startswith(("  jab", "  hook,", "  walking"))] == [
        ["jab", "1", "1.20", "0.50", "0.30"],
        ["hook,", "lead", "or", "rear", "3,", "4", "1.30", "0.55", "0.35"],
        ["walking", "stance,", "left", "or", "right", "2.00", "1.00", "0.65"],
    ]
    told = " ".join(" ".join(lines).split())
    for technique in TECHNIQUES:
        for name in (technique.name, *technique.synonyms):
            assert name.removeprefix(f"{technique.limb} ") in told, name
    assert "low kick (rear)" in told


def test_every_command_has_help_with_an_example() -> None:
    for name in commands.commands:
        assert "Example:" in run(name, "--help").output, name


def test_help_needs_none_of_the_slow_libraries() -> None:
    code = (
        "import sys, cornercue.cli.main as m\n"
        "slow = {'numpy', 'pydantic', 'yaml', 'soundfile', 'scipy', 'rich', 'miniaudio'} & set(sys.modules)\n"
        "sys.exit(', '.join(slow) or 0)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


def test_ctrl_c_ends_with_130(monkeypatch: pytest.MonkeyPatch, script: str) -> None:
    def interrupted(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("cornercue.session.checking.read_drill", interrupted)
    monkeypatch.setattr(sys, "argv", ["cornercue", "check", script])
    with pytest.raises(SystemExit) as end:
        main()
    assert end.value.code == 130
