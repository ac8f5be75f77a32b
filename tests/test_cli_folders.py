"""A whole library at one go: a track, a page and a place on the sheet for each script of a folder and those below."""

from __future__ import annotations

import os
import re
import shutil
from pathlib import Path

import click
import pytest
import soundfile
from click.testing import CliRunner, Result

from cornercue.cli.main import commands
from cornercue.cli.render import render
from cornercue.script import club
from cornercue.script.source import Source, read_source
from cornercue.sound import SAMPLE_RATE
from cornercue.track.sound_files import FORMATS
from cornercue.voice.reading_sheet import read_sheet, spoken_key
from cornercue.voice.voices import open_voice
from recorded import Faults, recording

CLUB = "club: Saltmarsh Hall\nlevels: {1: Shingle, 2: Sand}\nwords:\n  tide kick: side kick\n"
WARM_UP = "drill: Warm-up\nvoice: system\nsteps:\n- exercise: easy jogging\n  for: 2 s\n"
TIDE = """\
drill: Tide
level: 2
voice: system
steps:
- include: ../warm-up.yaml
- combination: [lead tide kick]
  reps: 2
"""
JABS = "drill: Jabs\nvoice: system\nsteps:\n- combination: [jab]\n  reps: 2\n"
FED = "drill: {}\nvoice: system\nbrief: yes\nsteps:\n- partner: parry\n  reps: 2\n"
FAULTY = "drill: Ebb\nsteps:\n- combination: [corss]\n"


@pytest.fixture(scope="module")
def cache(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("cache")


@pytest.fixture
def library(tmp_path: Path, cache: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A club's library with a folder a level; the commands run in the folder that it lies in."""
    files = {"club.yaml": CLUB, "warm-up.yaml": WARM_UP, "1-shingle/jabs.yml": JABS, "2-sand/tide.yaml": TIDE}
    for name, text in files.items():
        (tmp_path / "library" / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / "library" / name).write_text(text, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CACHE_HOME", str(cache))
    return tmp_path / "library"


def run(*arguments: object) -> Result:
    return CliRunner().invoke(commands, [*map(str, arguments)])


def files(folder: str) -> list[str]:
    return sorted(path.relative_to(folder).as_posix() for path in Path(folder).rglob("*") if path.is_file())


def sentence(*arguments: object) -> str:
    """What a command that cannot do it tells, in one line, and leaves nothing new behind."""
    before = sorted(Path().rglob("*"))
    result = run(*arguments)
    assert (result.exit_code, result.stdout) == (1, ""), result.output
    assert sorted(Path().rglob("*")) == before
    (line,) = result.stderr.splitlines()
    return line


def test_a_folder_becomes_a_folder_of_tracks_with_the_same_folders(library: Path) -> None:
    result = run("render", "library", "-o", "tracks", "--seed", 5, "--captions")
    assert result.exit_code == 0, result.output
    *told, total = result.stdout.splitlines()
    assert [re.sub(r" \d:\d\d ", " 0:00 ", line) for line in told] == [
        "1 of 3: tracks/1-shingle/jabs.mp3: Jabs · Shingle · 0:00 · seed 5 · voice system; with captions",
        "2 of 3: tracks/2-sand/tide.mp3: Tide · Sand · 0:00 · seed 5 · voice system; with captions",
        "3 of 3: tracks/warm-up.mp3: Warm-up · Shingle · 0:00 · seed 5 · voice system; with captions",
    ]
    assert total == "3 tracks in tracks"
    names = ("1-shingle/jabs", "2-sand/tide", "warm-up")
    assert files("tracks") == sorted(f"{name}{ending}" for name in names for ending in (".mp3", ".vtt"))
    for name in names:  # each is the track that the script makes alone, byte for byte
        script = next(library.glob(f"{name}.y*ml"))
        assert run("render", script, "-o", "alone.mp3", "--seed", 5).exit_code == 0
        assert Path("alone.mp3").read_bytes() == Path(f"tracks/{name}.mp3").read_bytes()


@pytest.mark.parametrize("kind", FORMATS)
def test_the_format_of_all_tracks_is_chosen_by_its_name(library: Path, kind: str) -> None:
    assert run("render", "library/1-shingle", "-o", "deep/tracks", "--format", kind[1:]).exit_code == 0
    assert files("deep/tracks") == [f"jabs{kind}"]
    with soundfile.SoundFile(f"deep/tracks/jabs{kind}") as file:
        assert (file.format, file.samplerate) == (FORMATS[kind].container, SAMPLE_RATE)


def test_the_formats_to_choose_from_are_all_there_are() -> None:
    (choice,) = [param.type for param in render.params if "--format" in param.opts]
    assert isinstance(choice, click.Choice)
    assert [f".{name}" for name in choice.choices] == list(FORMATS)


def test_a_folder_becomes_a_folder_of_pages_with_the_same_folders(library: Path) -> None:
    result = run("page", "library", "-o", "pages", "--draws", 1, "--seed", 5)
    assert result.exit_code == 0, result.output
    assert [re.sub(r"\d\.\d\d", "0.00", line) for line in result.stdout.splitlines()] == [
        "1 of 3: pages/1-shingle/jabs.html: 0.00 MB",
        "2 of 3: pages/2-sand/tide.html: 0.00 MB",
        "3 of 3: pages/warm-up.html: 0.00 MB",
        "3 pages in pages",
    ]
    assert files("pages") == ["1-shingle/jabs.html", "2-sand/tide.html", "warm-up.html"]
    assert run("page", "library/2-sand/tide.yaml", "-o", "alone.html", "--draws", 1, "--seed", 5).exit_code == 0
    assert Path("alone.html").read_bytes() == Path("pages/2-sand/tide.html").read_bytes()


@pytest.mark.parametrize(("command", "what", "ending"), [("render", "track", "mp3"), ("page", "page", "html")])
def test_a_script_at_fault_is_told_with_its_place_and_the_others_go_on(
    library: Path, command: str, what: str, ending: str
) -> None:
    (library / "0-ebb").mkdir()
    (library / "0-ebb" / "ebb.yaml").write_text(FAULTY)
    result = run(command, "library", "-o", "out")
    assert result.exit_code == 1
    assert result.stderr == "library/0-ebb/ebb.yaml:3:17: `corss` is not a technique; did you mean `cross`?\n"
    assert result.stdout.splitlines()[-1] == f"3 {what}s in out, 1 script at fault"
    assert files("out") == [f"1-shingle/jabs.{ending}", f"2-sand/tide.{ending}", f"warm-up.{ending}"]
    assert not Path("out/0-ebb").exists()


def test_a_voice_that_one_script_names_and_nobody_has_is_a_fault_of_that_script(library: Path) -> None:
    (library / "warm-up.yaml").write_text(WARM_UP.replace("system", "parrot"))
    result = run("render", "library", "-o", "out")
    assert result.exit_code == 1
    assert result.stderr.startswith("library/warm-up.yaml: There is no voice “parrot”; ")
    assert result.stderr.count("\n") == 1
    assert result.stdout.splitlines()[-1] == "2 tracks in out, 1 script at fault"


def test_what_cannot_be_is_told_before_any_work(library: Path) -> None:
    Path("there").touch()
    folder = "a folder of scripts becomes a folder of files; name a folder, such as `tracks`."
    assert sentence("render", "library", "-o", "there") == f"there: {folder}"
    assert sentence("render", "library", "-o", "tracks.mp3") == f"tracks.mp3: {folder}"
    assert sentence("page", "library", "-o", "pages.html") == f"pages.html: {folder}"
    assert sentence("render", "library", "-o", "") == f": {folder}"
    file = "library: that is a folder, and one script becomes one file; name it, such as library/"
    assert sentence("render", "library/warm-up.yaml", "-o", "library") == f"{file}warm-up.mp3."
    assert sentence("page", "library/warm-up.yaml", "-o", "library") == f"{file}warm-up.html."
    assert sentence("render", "library", "-o", "out", "--voice", "parrot").startswith("There is no voice “parrot”; ")
    Path("empty").mkdir()
    assert sentence("render", "empty", "-o", "out").startswith("empty: there is no script in this folder; ")
    shutil.copy("library/1-shingle/jabs.yml", "library/1-shingle/Jabs.yaml")
    twice = "library/1-shingle/Jabs.yaml and library/1-shingle/jabs.yml would both become out/1-shingle/jabs"
    assert sentence("render", "library", "-o", "out") == f"{twice}.mp3; rename one of them."
    assert sentence("page", "library", "-o", "out") == f"{twice}.html; rename one of them."


def test_a_folder_that_may_not_be_written_in_is_told_before_any_work(
    library: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(os, "access", lambda path, mode: (str(path), mode) != ("out", os.W_OK))  # for an administrator
    assert sentence("render", "library", "-o", "out") == "out: writing is not allowed there; choose another folder."


def test_a_format_is_asked_for_a_folder_only(library: Path) -> None:
    result = run("render", "library/warm-up.yaml", "-o", "one.mp3", "--format", "wav")
    assert result.exit_code == 2
    assert "--format is for a folder of scripts; the ending of a file's name tells its format" in result.stderr


def test_each_caution_is_said_once_for_all_tracks(library: Path) -> None:
    for name in ("first", "second"):
        (library / "2-sand" / f"{name}.yaml").write_text(FED.format(name))
    lines = run("render", "library/2-sand", "-o", "out").stdout.splitlines()
    alone = run("render", "library/2-sand/first.yaml", "-o", "alone.mp3").stdout.splitlines()
    cautions = alone[: next(at for at, line in enumerate(alone) if line.startswith("alone.mp3"))]
    assert len(cautions) > 3
    assert lines[: len(cautions)] == cautions
    assert len(lines) == len(cautions) + 4


def test_one_sheet_has_every_phrase_of_all_scripts_once(library: Path) -> None:
    result = run("voice", "sheet", "library", "-o", "sheet.txt")
    assert result.exit_code == 0, result.output
    phrases = [spoken_key(line.text) for line in read_sheet(Path("sheet.txt"))]
    assert len(phrases) == len(set(phrases))
    assert result.stdout == f"sheet.txt: {len(phrases)} phrases to read\n"
    apart = set()
    for script in ("1-shingle/jabs.yml", "2-sand/tide.yaml", "warm-up.yaml"):
        Path("one.txt").write_text(run("voice", "sheet", f"library/{script}").stdout, encoding="utf-8")
        apart |= {spoken_key(line.text) for line in read_sheet(Path("one.txt"))}
    assert set(phrases) == apart
    assert {"jab", "lead tide kick", "tide sand", "warm up shingle"} <= apart


def test_one_recording_of_that_sheet_is_a_voice_for_the_whole_library(library: Path) -> None:
    assert run("voice", "sheet", "library", "-o", "sheet.txt").exit_code == 0
    with open_voice("system") as speech:
        texts = [line.text for line in read_sheet(Path("sheet.txt"))]
        soundfile.write("evening.wav", recording(speech, texts, Faults())[0], SAMPLE_RATE)
    made = run("voice", "import", "evening.wav", "--sheet", "sheet.txt", "-o", "mine", "--sure", "--voice", "system")
    assert made.exit_code == 0, made.output
    checked = run("check", "library", "--voice", "mine")
    assert checked.exit_code == 0
    assert "not in the pack" not in checked.output
    assert sentence("voice", "sheet", "library", "--lacking", "mine") == "mine lacks nothing that these drills say."
    assert run("render", "library", "-o", "tracks", "--voice", "mine").exit_code == 0


def test_all_faults_come_before_a_sheet(library: Path) -> None:
    (library / "2-sand" / "ebb.yaml").write_text(FAULTY)
    (library / "1-shingle" / "ebb.yaml").write_text(FAULTY)
    result = run("voice", "sheet", "library", "-o", "sheet.txt")
    assert result.exit_code == 1
    places = [line.partition(" ")[0] for line in result.stderr.splitlines()]
    assert places == ["library/1-shingle/ebb.yaml:3:17:", "library/2-sand/ebb.yaml:3:17:"]
    assert not Path("sheet.txt").exists()


def test_more_phrases_than_one_recording_takes_are_told_before_the_evening(
    library: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("cornercue.session.sheet_needs.MOST_LINES", 6)
    assert re.fullmatch(
        r"These drills say \d+ phrases, and a sheet has 6 at most: name fewer of them; `--lacking` .*",
        sentence("voice", "sheet", "library", "-o", "sheet.txt"),
    )
    assert run("voice", "sheet", "library/1-shingle", "-o", "sheet.txt").exit_code == 0


@pytest.fixture
def read(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The names of the clubs' files read so far."""
    seen: list[str] = []

    def watched(path: Path) -> Source:
        seen.append(path.parent.name)
        return read_source(path)

    monkeypatch.setattr(club, "read_source", watched)
    return seen


COMMANDS = {
    "check": "check library",
    "render": "render library -o out",
    "page": "page library --draws 1 -o out",
    "voice sheet": "voice sheet library",
}


@pytest.mark.parametrize("name", COMMANDS)
def test_a_clubs_file_is_read_once_a_folder_and_anew_by_the_next_run(library: Path, read: list[str], name: str) -> None:
    (library / "2-sand" / "club.yaml").write_text(CLUB.replace("Saltmarsh", "Sand"))
    (library / "2-sand" / "tide.yaml").write_text(TIDE.replace("- include: ../warm-up.yaml\n", ""))
    shutil.copy(library / "2-sand" / "tide.yaml", library / "2-sand" / "again.yaml")
    assert run(*COMMANDS[name].split()).exit_code == 0
    assert read == ["library", "2-sand"]
    (library / "club.yaml").write_text("club: []\n")
    assert run(*COMMANDS[name].split()).exit_code == 1


TOTALS = {
    "check": "3 scripts: 3 not read before club.yaml is mended; about 0:00 in all",
    "render": "0 tracks in out, 3 scripts not read before club.yaml is mended",
    "page": "0 pages in out, 3 scripts not read before club.yaml is mended",
    "voice sheet": None,
}


@pytest.mark.parametrize("name", COMMANDS)
def test_what_is_wrong_with_a_clubs_file_is_told_once_a_run(library: Path, name: str) -> None:
    (library / "club.yaml").write_text("club: Saltmarsh Hall\nwrods: {}\nlevels: {99: Moon}\n")
    result = run(*COMMANDS[name].split())
    assert result.exit_code == 1
    told = [line for line in result.output.splitlines() if "club.yaml:" in line]
    assert [line.split(": ")[0] for line in told] == [f"{library}/club.yaml:2:1", f"{library}/club.yaml:3:10"]
    assert [line for line in result.output.splitlines() if line not in told] == [TOTALS[name]] * bool(TOTALS[name])
    assert not Path("out").exists()
