"""From a drill to the sheet, from the recording to the pack, from the pack to the track: what an instructor types."""

from __future__ import annotations

import json
import wave
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
import soundfile
from click.testing import CliRunner, Result

from cornercue.cli.main import commands
from cornercue.session.folders import scripts_in
from cornercue.sound import SAMPLE_RATE
from cornercue.voice.pack import Pack
from cornercue.voice.reading_sheet import read_sheet, spoken_key
from cornercue.voice.speech import Speech
from cornercue.voice.voices import open_voice
from recorded import Faults, recording

DRILL = """\
drill: Two hands
level: 2
stance: both
gear: [a clear floor]
steps:
- say: Knees soft.
- shadow: [[jab, cross], [lead hook, rear body hook], [cross, jab]]
  for: 20 s
  gap: [5 s, 9 s]
- rest: 15 s
- exercise: push-ups
  reps: 6
"""

PARTNER = (
    "drill: Feed\nsteps:\n- partner: [parry, cover, weave]\n  reps: 2\n  answers: [[jab, cross], [cross, lead hook]]\n"
)


def run(*arguments: str) -> Result:
    return CliRunner().invoke(commands, arguments)


@pytest.fixture(scope="module")
def speech(shared_clips: Path) -> Iterator[Speech]:
    with open_voice("british", shared_clips) as one:
        yield one


@pytest.fixture
def drill(tmp_path: Path) -> str:
    path = tmp_path / "two-hands.yaml"
    path.write_text(DRILL)
    return str(path)


@pytest.fixture
def sheet(drill: str, tmp_path: Path) -> str:
    path = tmp_path / "sheet.txt"
    result = run("voice", "sheet", drill, "-o", str(path))
    assert result.exit_code == 0, result.output
    return str(path)


def record(speech: Speech, sheet: str, target: Path, faults: Faults = Faults()) -> list[str]:  # noqa: B008
    """Reads a sheet aloud into a file, and gives its phrases."""
    texts = [line.text for line in read_sheet(Path(sheet))]
    samples, _ = recording(speech, texts, faults)
    soundfile.write(target, samples, SAMPLE_RATE)
    return texts


def spoken(script: str, *options: str) -> set[str]:
    """The bare words of every cue of a session."""
    shown = run("show", "--json", "--voice", "none", *options, script)
    return {spoken_key(cue["text"]) for cue in json.loads(shown.stdout)["cues"] if cue["text"]}


@pytest.mark.parametrize("text", [DRILL, PARTNER])
def test_the_sheet_has_what_any_session_says_and_nothing_else(text: str, tmp_path: Path) -> None:
    path = tmp_path / "drill.yaml"
    path.write_text(text)
    result = run("voice", "sheet", str(path))
    (tmp_path / "sheet.txt").write_text(result.stdout)
    keys = [spoken_key(line.text) for line in read_sheet(tmp_path / "sheet.txt")]
    assert len(keys) == len(set(keys))
    heard = set().union(*(spoken(str(path), "--seed", str(seed)) for seed in range(40)))
    assert set(keys) == heard


def test_every_drill_of_the_library_is_covered_by_its_sheet(tmp_path: Path) -> None:
    drills = [*map(str, scripts_in([Path(__file__).parent.parent / "drills"]))]
    (tmp_path / "all.txt").write_text(run("voice", "sheet", *drills).stdout)
    keys = {spoken_key(line.text) for line in read_sheet(tmp_path / "all.txt")}
    for script in drills[::4]:
        assert spoken(script) <= keys


def test_the_sheet_is_in_reading_order(sheet: str) -> None:
    texts = [line.text for line in read_sheet(Path(sheet))]
    assert texts[:6] == ["one", "two", "three", "four", "five", "six"]
    headings = [line for line in Path(sheet).read_text().splitlines() if line.startswith("# ")][-4:]
    assert headings == ["# Counts", "# Calls", "# Signals", "# Sentences"]
    assert texts.index("jab, cross") < texts.index("Knees soft.")


def test_level_and_stance_decide_what_is_on_the_sheet(drill: str) -> None:
    both, one = run("voice", "sheet", drill), run("voice", "sheet", drill, "--stance", "southpaw")
    assert "Orthodox stance" in both.stdout
    assert "stance" not in one.stdout.partition("# Counts")[2]


def test_a_clean_recording_gives_a_whole_pack_and_the_drill_is_spoken_with_its_clips(
    speech: Speech, sheet: str, drill: str, tmp_path: Path
) -> None:
    texts = record(speech, sheet, tmp_path / "take.flac")
    folder = tmp_path / "mine"
    result = run("voice", "import", str(tmp_path / "take.flac"), "--sheet", sheet, "-o", str(folder))
    assert result.exit_code == 0, result.output
    assert result.output == f"{folder}: {len(texts)} phrases, {len(texts)} of them new\n"
    assert "pack" not in run("check", drill, "--voice", str(folder)).output
    target = tmp_path / "track.wav"
    rendered = run("render", drill, "--voice", str(folder), "--seed", "3", "-o", str(target))
    assert rendered.exit_code == 0, rendered.output
    assert f"voice {folder}" in rendered.output
    shown = json.loads(run("show", "--json", drill, "--voice", str(folder), "--seed", "3").stdout)
    with wave.open(str(target)) as file:
        track = np.frombuffer(file.readframes(file.getnframes()), np.int16)
    pack = Pack(folder)
    cues = [cue for cue in shown["cues"] if cue["text"]]
    assert len(cues) > 15
    for cue in cues:
        clip = pack.samples(cue["text"])
        assert clip is not None
        start = round(cue["start"] * SAMPLE_RATE)
        # `show` prints microseconds, so that a start may round to the next sample.
        heard = [track[start + by : start + by + len(clip)] for by in (0, -1, 1)]
        assert any(np.array_equal(one, clip) for one in heard), cue["text"]


def test_faults_are_told_the_rest_is_kept_and_a_second_recording_fills_the_gap(
    speech: Speech, sheet: str, drill: str, tmp_path: Path
) -> None:
    texts = [line.text for line in read_sheet(Path(sheet))]
    missing = texts.index("Knees soft.")
    record(speech, sheet, tmp_path / "take.wav", Faults(missing=missing, double=7, cough=2))
    folder = tmp_path / "mine"
    result = run("voice", "import", str(tmp_path / "take.wav"), "--sheet", sheet, "-o", str(folder))
    assert result.exit_code == 1
    told = result.output.splitlines()
    assert len(told) == 4, told
    assert told[0].startswith(f"Line 8, “{texts[7]}”, is double")
    assert told[1] == f"Line {missing + 1}, “Knees soft.”, is missing."
    assert "is no line of the sheet" in told[2]
    own = tmp_path / "own.yaml"
    own.write_text(f"voice: {folder}\n{Path(drill).read_text()}")
    for script, with_pack in ((drill, ["--voice", str(folder)]), (str(own), [])):
        lacking = run("check", script, *with_pack)
        assert lacking.exit_code == 0
        assert [line for line in lacking.output.splitlines() if "pack" in line] == [
            f"{script}: “Knees soft.” is not in the pack; another voice says it"
        ]
    (folder / "pack.json").rename(tmp_path / "kept.json")
    broken = run("check", str(own), drill)
    assert broken.exit_code == 1
    first = broken.output.splitlines()[0]
    assert first.startswith(f"{own}:1:1: `voice: ")
    assert " is not a pack" in first
    assert f"{drill}: " in broken.output
    (tmp_path / "kept.json").rename(folder / "pack.json")
    rest = tmp_path / "rest.txt"
    assert run("voice", "sheet", drill, "--lacking", str(folder), "-o", str(rest)).exit_code == 0
    assert [line.text for line in read_sheet(rest)] == ["Knees soft."]
    kept = Pack(folder).samples("jab, cross")
    record(speech, sheet, tmp_path / "again.wav")
    options = ["voice", "import", str(tmp_path / "again.wav"), "--sheet", sheet, "-o", str(folder)]
    assert run(*options, "--add").output == f"{folder}: {len(texts)} phrases, 1 of them new\n"
    still = Pack(folder).samples("jab, cross")
    assert kept is not None
    assert still is not None
    assert np.array_equal(kept, still)
    assert "lacks nothing" in run("voice", "sheet", drill, "--lacking", str(folder)).output


def test_nothing_is_overwritten_without_being_told(speech: Speech, sheet: str, tmp_path: Path) -> None:
    folder = tmp_path / "photos"
    folder.mkdir()
    (folder / "sea.jpg").write_text("the sea")
    take = tmp_path / "take.wav"
    record(speech, sheet, take)
    options = ["voice", "import", str(take), "--sheet", sheet, "-o", str(folder)]
    plain, replaced, both = run(*options), run(*options, "--replace"), run(*options, "--replace", "--add")
    assert (plain.exit_code, replaced.exit_code, both.exit_code) == (1, 1, 2)
    assert "is there already" in plain.output
    assert "is not a pack" in replaced.output
    assert [path.name for path in folder.iterdir()] == ["sea.jpg"]


@pytest.mark.parametrize(
    ("content", "sentence"), [(b"no sound", "not a sound file"), (b"RIFF\xff\xff\x00\x00WAVEfmt ", "was cut short")]
)
def test_a_bad_recording_is_told_and_leaves_nothing(content: bytes, sentence: str, sheet: str, tmp_path: Path) -> None:
    take, folder = tmp_path / "take.wav", tmp_path / "mine"
    take.write_bytes(content)
    result = run("voice", "import", str(take), "--sheet", sheet, "-o", str(folder))
    assert result.exit_code == 1
    assert sentence in result.output
    assert not folder.exists()


def test_a_word_that_is_said_otherwise_than_written_is_found_by_how_it_is_said(speech: Speech, tmp_path: Path) -> None:
    """The sheet tells the reader how, and the voice that the recording is compared with says it so."""
    script, sheet, take = tmp_path / "own.yaml", tmp_path / "sheet.txt", tmp_path / "take.wav"
    words = "words: {ebb: {like: jab, said: thunderbolt}, flow: {like: cross, said: marigold}}\n"
    script.write_text(f"drill: Own\n{words}steps:\n- combination: [ebb, flow]\n  teach: 1\n  reps: 2\n", "utf-8")
    assert run("voice", "sheet", str(script), "-o", str(sheet)).exit_code == 0
    assert "ebb, flow [thunderbolt, marigold]\n" in sheet.read_text("utf-8")
    lines = read_sheet(sheet)
    samples, _ = recording(speech, [line.aloud for line in lines], Faults())
    soundfile.write(take, samples, SAMPLE_RATE)
    result = run("voice", "import", str(take), "--sheet", str(sheet), "-o", str(tmp_path / "mine"))
    assert result.exit_code == 0, result.output
    pack = Pack(tmp_path / "mine")
    otherwise = [line for line in lines if line.said]
    assert [line.text for line in otherwise] == ["ebb", "flow", "ebb, flow"]
    for line in otherwise:
        found = pack.samples(line.text)
        assert found is not None
        assert len(found) / SAMPLE_RATE == pytest.approx(speech.seconds(line.aloud), abs=0.1), line
