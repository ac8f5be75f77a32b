"""The demo library of a club, as an instructor uses it: checked, rendered, made pages of and read aloud as a whole."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
import wave
from pathlib import Path

import pytest
from PIL import Image

from cornercue.coaching.traversal import includes
from cornercue.script.read import read_drill
from cornercue.session.folders import scripts_in
from cornercue.technique.vocabulary import USUAL
from cornercue.timing.phrasebook import phrasebook
from cornercue.voice.reading_sheet import read_sheet
from ear import RATE, Ear, listened_to, sounds

FOLDER = Path(__file__).parent.parent / "drills"
LIBRARY = FOLDER / "library"
NAMES = [script.relative_to(LIBRARY).with_suffix("").as_posix() for script in scripts_in([LIBRARY])]


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the library, and beside it a script that is not the club's."""
    folder = tmp_path_factory.mktemp("home")
    shutil.copytree(LIBRARY, folder / "library")
    shutil.copy(FOLDER / "first-combination.yaml", folder)
    return folder


def cornercue(command: str, home: Path) -> str:
    """What a command prints, in a process of its own; it has nothing to say about a fault."""
    done = subprocess.run(
        [sys.executable, "-m", "cornercue", *command.split()], cwd=home, capture_output=True, text=True, check=False,
        env=os.environ | {"XDG_CACHE_HOME": str(home / "cache")},
    )  # fmt: skip
    assert (done.returncode, done.stderr) == (0, "")
    return done.stdout


def test_a_folder_a_level_and_the_same_warm_up_and_cool_down_for_all() -> None:
    folders = [Path(name).parent.as_posix() for name in NAMES if "/" in name]
    assert {name: folders.count(name) for name in folders} == {"1-shingle": 2, "2-sand": 2, "3-harbour": 2}
    for script in LIBRARY.glob("*/*.yaml"):
        drill = read_drill(script)
        assert drill.level == int(script.parent.name[0])
        included = [Path(include.include.file).resolve() for include, _ in includes(drill)]
        assert included == [LIBRARY / "warm-up.yaml", LIBRARY / "cool-down.yaml"]


def test_check_finds_every_script_fine_without_a_hint(home: Path) -> None:
    lines = cornercue("check library", home).splitlines()
    assert [line for line in lines if not line.startswith((" ", "library/"))] == [lines[-1]]
    assert lines[-1].startswith(f"{len(NAMES)} scripts: {len(NAMES)} fine; about ")
    assert [line.split(",")[0] for line in lines if line.startswith("library/")] == [
        f"library/{name}.yaml: fine" for name in NAMES
    ]


def test_the_clubs_file_holds_for_its_own_folder_only(home: Path) -> None:
    club = read_drill(LIBRARY / "1-shingle" / "first-guard.yaml")
    beside = read_drill(FOLDER / "first-combination.yaml")
    assert dict(club.levels) == {1: "Shingle", 2: "Sand", 3: "Harbour"}
    assert dict(beside.levels) == {}
    assert beside.said_aloud == {}
    assert "Shingle" not in cornercue("show first-combination.yaml --voice none", home)
    assert "First guard · Shingle · " in cornercue("show library/1-shingle/first-guard.yaml --voice none", home)


def test_render_makes_a_track_a_script_as_long_as_show_says(home: Path) -> None:
    told = cornercue("render library -o tracks --format wav --seed 3 --voice system", home).splitlines()
    assert told[-1] == f"{len(NAMES)} tracks in tracks"
    assert [line for line in told[:-1] if " of 8: " not in line] == [phrasebook().safety["hold"]]
    told = [line for line in told if " of 8: " in line]
    for number, name in enumerate(NAMES, 1):
        shown = json.loads(cornercue(f"show library/{name}.yaml --json --seed 3 --voice system", home))
        with wave.open(str(home / "tracks" / f"{name}.wav")) as sound:
            assert sound.getnframes() == round(shown["duration"] * sound.getframerate())
        assert told[number - 1].startswith(f"{number} of {len(NAMES)}: tracks/{name}.wav: {shown['drill']} · ")


def test_no_library_chatters_while_an_mp3_is_written(home: Path) -> None:
    """libmpg123 called the end of this one an error, since it began to read in the middle."""
    cornercue("render library/1-shingle/heron.yaml -o heron.mp3 --seed 1 --voice system", home)
    with open(os.devnull, "w") as nowhere:
        done = subprocess.run(
            ["sh", "-c", "exec 2>&-; \"$0\" -m cornercue render library/warm-up.yaml -o closed.mp3", sys.executable],
            cwd=home, stdout=nowhere, check=False, env=os.environ | {"XDG_CACHE_HOME": str(home / "cache")},
        )  # fmt: skip
    assert done.returncode == 0  # also where there is no standard error to keep it from
    assert (home / "closed.mp3").stat().st_size > 100_000


def test_its_own_words_are_heard_as_they_are_said(home: Path) -> None:
    """By an outside ear: every call of a drill, told from the usual word that it stands for and from its neighbours."""
    script = "library/2-sand/haar-kick.yaml"
    cornercue(f"render {script} -o haar.wav --seed 3 --voice british", home)
    cues = json.loads(cornercue(f"show {script} --json --seed 3 --voice british", home))["cues"]
    calls = [cue for cue in cues if cue["kind"] == "call" and "kick" in cue["text"]]
    assert len(calls) == 13  # one slow one and twice the club's six
    track = listened_to(home / "haar.wav")
    ear = Ear(["lead", "rear"], ["har kick", "hook kick", "side kick", "front kick"])
    for call in calls:
        heard = ear.hear(track[round((call["start"] - 0.3) * RATE) : round((call["end"] + 0.3) * RATE)])
        assert heard == call["text"].replace("haar", ", har").replace(" ,", ","), call
        near = [begin for begin, _ in sounds(track) if abs(begin / RATE - call["start"]) < 0.06]
        assert near, call


def test_page_makes_a_page_a_script_and_the_clubs_picture_is_on_the_one_that_needs_it(home: Path) -> None:
    told = cornercue("page library -o pages --draws 1 --seed 3 --voice system", home).splitlines()
    assert told[-1] == f"{len(NAMES)} pages in pages"
    pages = {name: (home / "pages" / f"{name}.html").read_text(encoding="utf-8") for name in NAMES}
    assert all(text.lower().startswith("<!doctype html>") for text in pages.values())
    assert [name for name, text in pages.items() if "data:image/jpeg" in text] == ["1-shingle/heron"]


def test_the_picture_is_small_and_has_nothing_but_the_drawing() -> None:
    path = LIBRARY / "heron.png"
    assert path.stat().st_size < 10_000
    with Image.open(path) as image:
        assert image.size == (240, 320)
        assert image.info.keys() <= {"transparency"}
        assert not image.getexif()


def test_one_sheet_has_all_that_is_said_in_the_library(home: Path) -> None:
    told = cornercue("voice sheet library -o sheet.txt", home)
    lines = read_sheet(home / "sheet.txt")
    assert told == f"sheet.txt: {len(lines)} phrases to read\n"
    texts = {line.text: line.said for line in lines}
    assert texts["lead haar kick"] == "lead har kick"
    assert texts["selkie roll left"] == "selky roll left"
    assert texts["rear tide kick"] is texts["skerry block left, cross"] is None
    assert sum(bool(re.fullmatch(r"Warm-up\.?", text)) for text in texts) == 1


def test_its_words_are_the_clubs_and_not_known_elsewhere() -> None:
    words = read_drill(LIBRARY / "2-sand" / "haar-kick.yaml").words.known
    for word in ("haar kick", "tide kick", "skerry block", "selkie roll", "heron"):
        assert word in str(words)
        assert word not in str(USUAL)
