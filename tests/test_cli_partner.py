"""`cornercue partner` for a parent who has never fed a drill, and partner drills as sound files."""

from __future__ import annotations

import hashlib
import json
import re
import subprocess
import sys
import wave
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from click.testing import CliRunner, Result

from cornercue.cli.main import commands
from cornercue.script.model import Drill
from cornercue.script.partner import Partner
from cornercue.script.read import read_drill
from cornercue.sound import Samples
from cornercue.technique.move import Move
from cornercue.timing.phrasebook import phrasebook
from test_track_captions import read_webvtt

FEEDER = """\
drill: Read the stick
junior: yes
safety: short
steps:
- partner: [parry, weave]
  reps: 4
  listener: feeder
  answers: [[jab, cross], [lead hook]]
  between: circle left
"""


def run(*arguments: str) -> Result:
    return CliRunner().invoke(commands, arguments)


@pytest.fixture(scope="module", autouse=True)
def cache(tmp_path_factory: pytest.TempPathFactory) -> Any:
    """Clips of this file's own, made once."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_CACHE_HOME", str(tmp_path_factory.mktemp("cache")))
        yield


@pytest.fixture
def feeder(tmp_path: Path) -> str:
    path = tmp_path / "feeder.yaml"
    path.write_text(FEEDER)
    return str(path)


def rounds(drill: Drill) -> list[Partner]:
    return [step for step in drill.steps if isinstance(step, Partner)]


def answers_of(drill: Drill) -> tuple[tuple[Move, ...], ...]:
    """The answers of the first round that has any."""
    return next(tuple(step.answers.combinations()) for step in rounds(drill) if step.answers)


# The command


def test_save_writes_a_script_that_check_accepts_and_never_overwrites(tmp_path: Path) -> None:
    path = tmp_path / "ours.yaml"
    options = ["--defences", "parry,duck", "--minutes", "9", "--listener", "feeder", "--level", "4", "--adults"]
    options += ["--answer", "1-2", "--answer", "lead hook, cross", "--stance", "southpaw"]
    options += ["--voice", "system"]
    assert run("partner", *options, "--save", str(path)).exit_code == 0
    checked = run("check", str(path))
    assert checked.exit_code == 0, checked.output
    assert "advice" not in checked.output
    drill = read_drill(path)
    assert (drill.level, drill.stance, drill.junior) == (4, "southpaw", False)
    assert {step.listener for step in rounds(drill)} == {"feeder"}
    assert [len(moves) for moves in answers_of(drill)] == [2, 2]
    before = path.read_text()
    again = run("partner", "--minutes", "3", "--save", str(path))
    assert again.exit_code == 1
    assert "is there already" in again.output
    assert path.read_text() == before


def test_answers_of_one_technique_each_stay_apart(tmp_path: Path) -> None:
    path = tmp_path / "short.yaml"
    options = ["--voice", "system", "--answer", "jab", "--answer", "cross"]
    assert run("partner", *options, "--save", str(path)).exit_code == 0
    assert [len(moves) for moves in answers_of(read_drill(path))] == [1, 1]


def test_a_ladder_without_answers_has_none(tmp_path: Path) -> None:
    path = tmp_path / "plain.yaml"
    assert run("partner", "--answer", "none", "--save", str(path)).exit_code == 0
    assert not any(step.answers for step in rounds(read_drill(path)))


@pytest.mark.parametrize(
    ("options", "sentence"),
    [
        (["--defences", "pary"], "did you mean `parry`"),
        (["--defences", "jab"], "is not a defence"),
        (["--defences", ""], "is not a defence"),
        (["--minutes", "0"], "--minutes"),
        (["--answer", "jab, corss"], "did you mean `cross`"),
        (["--answer", ", ".join(["jab"] * 17)], "16"),
        (["--listener", "dog"], "--listener"),
        (["--level", "0"], "--level"),
        (["--pace", "quick"], "--pace"),
        (["--split"], "-o"),
        (["--captions"], "-o"),
    ],
)
def test_a_bad_option_ends_with_2_and_writes_nothing(options: list[str], sentence: str, tmp_path: Path) -> None:
    path = tmp_path / "never.yaml"
    extra = [] if sentence == "-o" else ["--save", str(path)]
    result = run("partner", *options, *extra, "--device", "silent")
    assert result.exit_code == 2, result.output
    assert sentence in result.output
    assert not path.exists()


def test_a_sound_file_of_no_known_kind_is_refused_before_anything_is_saved(tmp_path: Path) -> None:
    path = tmp_path / "never.yaml"
    result = run("partner", "--save", str(path), "-o", str(tmp_path / "drill.doc"))
    assert result.exit_code == 1
    assert ".wav" in result.output
    assert not path.exists()


def test_without_a_sound_device_it_ends_with_3_and_says_what_to_do(tmp_path: Path) -> None:
    (tmp_path / ".asoundrc").write_text("pcm.!default { type null_that_is_not }\nctl.!default { type nothing }\n")
    done = subprocess.run(
        [sys.executable, "-m", "cornercue", "partner", "--minutes", "3", "--brief"],
        env={"HOME": str(tmp_path), "PATH": "", "PULSE_SERVER": "unix:/nowhere"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 3, done.stderr
    assert re.search(r"-o |cornercue render", done.stderr)


def test_captions_are_written_beside_the_sound_when_asked(tmp_path: Path) -> None:
    arguments = ["partner", "--minutes", "3", "--defences", "parry", "--answer", "none", "--seed", "4"]
    sound, beside = tmp_path / "ladder.wav", tmp_path / "ladder.vtt"
    assert run(*arguments, "-o", str(sound)).exit_code == 0
    plain = sound.read_bytes()
    assert not beside.exists()
    result = run(*arguments, "-o", str(sound), "--captions")
    assert result.exit_code == 0, result.output
    assert f"{beside}: its captions" in result.output
    assert sound.read_bytes() == plain
    shown = [caption.text for caption in read_webvtt(beside.read_bytes())]
    assert shown[0].startswith("Safety first: a soft foam stick")
    assert {"parry left", "parry right"} <= set(shown)


def test_it_renders_the_ladder_cautions_first_and_the_tally_last(tmp_path: Path) -> None:
    target = tmp_path / "ladder.wav"
    options = ["--minutes", "3", "--defences", "parry", "--answer", "none", "--seed", "4"]
    result = run("partner", *options, "-o", str(target))
    assert result.exit_code == 0, result.output
    lines = [line for line in result.stdout.splitlines() if line]
    cautions = phrasebook().safety["junior"]["written"]
    assert lines[: len(cautions)] == cautions
    assert "seed 4" in lines[len(cautions)]
    assert lines[-2].startswith("Defences: parry left ")
    assert lines[-1].startswith("Work ")
    with wave.open(str(target)) as sound:
        assert sound.getnframes() / sound.getframerate() == pytest.approx(180, rel=0.1)


# Feeder files


def samples(path: Path) -> tuple[Any, int]:
    with wave.open(str(path)) as sound:
        frames = np.frombuffer(sound.readframes(sound.getnframes()), np.int16)
        return frames.reshape(-1, sound.getnchannels()), sound.getframerate()


def level(piece: Any) -> float:
    """Decibels below full scale of the root mean square; nothing at all is minus infinity."""
    mean = float(np.mean((piece / 32768) ** 2))
    return 10 * np.log10(mean) if mean else -np.inf


def shown(script: str, *options: str) -> list[dict[str, Any]]:
    return list(json.loads(run("show", "--json", *options, script).stdout)["cues"])


def test_the_prompts_are_in_one_channel_and_the_room_in_the_other(feeder: str, tmp_path: Path) -> None:
    target = tmp_path / "feeder.wav"
    result = run("render", feeder, "--split", "--seed", "8", "-o", str(target))
    assert result.exit_code == 0, result.output
    track, rate = samples(target)
    prompts, room = track[:, 0], track[:, 1]
    cues = shown(feeder, "--seed", "8")
    assert sum(cue.get("listener") == "feeder" for cue in cues) == 4
    # By the timeline: in every prompt's time the room is silent, and in the room's the prompts are.
    for cue in cues:
        piece = slice(round(cue["start"] * rate), round(cue["end"] * rate))
        mine, other = (prompts, room) if cue.get("listener") == "feeder" else (room, prompts)
        assert level(mine[piece]) > -40, cue
        assert level(other[piece]) < -60, cue
    # And without it: wherever one channel sounds, over a hundredth of a second, the other does not.
    window = rate // 100
    whole = len(track) // window * window
    loud = [[level(part) > -60 for part in np.split(side[:whole], whole // window)] for side in (prompts, room)]
    assert min(map(sum, loud)) > 100
    assert not any(one and other for one, other in zip(*loud, strict=True))


def test_without_split_everything_is_in_one_channel(feeder: str, tmp_path: Path) -> None:
    target = tmp_path / "mono.wav"
    assert run("render", feeder, "--seed", "8", "-o", str(target)).exit_code == 0
    track, rate = samples(target)
    assert track.shape[1] == 1
    assert all(
        level(track[round(cue["start"] * rate) : round(cue["end"] * rate)]) > -40
        for cue in shown(feeder, "--seed", "8")
    )


def test_a_session_repeats_to_the_sample_from_its_printed_seed(feeder: str, tmp_path: Path) -> None:
    def rendered(name: str, *options: str) -> tuple[str, str]:
        target = tmp_path / name
        result = run("render", feeder, "-o", str(target), *options)
        assert result.exit_code == 0, result.output
        (seed,) = re.findall(r"seed (\d+)", result.stdout)
        return seed, hashlib.sha256(target.read_bytes()).hexdigest()

    seed, first = rendered("one.wav")
    assert rendered("two.wav", "--seed", seed) == (seed, first)
    assert rendered("three.wav", "--seed", str(int(seed) + 1))[1] != first


def test_the_cautions_are_printed_first_wherever_a_partner_feeds(feeder: str, tmp_path: Path) -> None:
    printed = phrasebook().safety["junior"]["written"]
    result = run("render", feeder, "-o", str(tmp_path / "drill.wav"))
    assert [line for line in result.stdout.splitlines() if line][: len(printed)] == printed
    cautions = phrasebook().safety["junior"]["short"]
    table = [line for line in run("show", feeder).stdout.splitlines() if line]
    spoken = [line for line in table if re.match(r"\s*\d+:\d\d\.\d\d ", line)]
    assert all(caution[:30] in line for caution, line in zip(cautions, spoken, strict=False))


def test_playing_prints_the_cautions_before_any_sound(feeder: str, monkeypatch: pytest.MonkeyPatch) -> None:
    from cornercue.player import silent_output

    printed_before: list[str] = []
    printed: list[str] = []
    monkeypatch.setattr("cornercue.cli.playback.say", lambda text="", **_: printed.append(str(text)))
    outputs = [value for value in vars(silent_output).values() if hasattr(value, "play")]

    def played_at_once(output: object, track: Iterable[Samples], channels: int, heard: object) -> int:
        printed_before.extend(printed)
        return sum(map(len, track))

    for one in outputs:
        monkeypatch.setattr(one, "play", played_at_once)
    result = run("play", "--device", "silent", feeder)
    assert result.exit_code == 0, result.output
    cautions = phrasebook().safety["junior"]["written"]
    assert printed_before[: len(cautions)] == cautions
    assert printed[-1].startswith("Work ")


def test_show_ends_with_the_tally(feeder: str) -> None:
    lines = run("show", "--voice", "none", "--seed", "2", feeder).stdout.rstrip().splitlines()
    defences, answers, work = lines[-3:]
    assert sum(map(int, re.findall(r"(?:left|right) (\d+)[;. ]", defences.split("(")[0] + " "))) == 4
    assert answers.startswith("Answers: ")
    assert work.startswith("Work ")
