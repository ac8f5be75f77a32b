"""Whatever disk, pipe, terminal or script do to a command: a sentence and an exit code, never a traceback."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from collections.abc import Sequence
from itertools import product
from pathlib import Path

import pytest
import soundfile

from cornercue.cli.main import commands
from cornercue.errors import InputFault, MachineLacks
from cornercue.printing import NOBODY_READS
from cornercue.sound import SAMPLE_RATE
from cornercue.voice.reading_sheet import read_sheet
from cornercue.voice.voices import open_voice
from documents import everything
from recorded import Faults, recording

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="closes pipes and fills disks as Linux does")

SCRIPT = """\
drill: Salt · marsh
voice: system
steps:
- say: Hands up.
- hold: side kick
  for: 2 s
  sides: left
"""

FAULTY = 'drill: Low tide\nsteps:\n- combination: [jab, "c\\u202Eross"]\n'

PRINTING = {
    "check": "check {script}",
    "show": "show --voice none {script}",
    "play": "play --plain --device silent {short}",
    "render": "render {short} -o {out}.wav",
    "page": "page {short} --draws 1 -o {out}.html",
    "partner": "partner --minutes 3 --brief --voice system --save {out}.yaml",
    "new": "new {out}.yaml",
    "voice list": "voice list",
    "voice try": "voice try jab --voice system -o {out}.wav",
    "voice sheet": "voice sheet {script}",
    "voice import": "voice import {recording} --sheet {sheet} --sure --voice system -o {out}",
    "techniques": "techniques",
    "schema": "schema",
}
"""Every command in the shape in which it prints soonest."""

ALSO_PRINTING = (
    "--help",
    "--version",
    "render --help",
    "check {faulty}",
    "check --explain flow",
    "show --voice none --json {script}",
    "techniques parry",
    "voice sheet {script} -o {out}.txt",
    "techniques parry --picture {out}.svg",
    "check {library}",
    "render {library} -o {out}",
    "page {library} --draws 1 -o {out}",
)

WRITING = {
    "new": "new {target}",
    "partner": "partner --minutes 3 --brief --voice system --save {target}",
    "render": "render {short} -o {target}.wav",
    "page": "page {short} --draws 1 -o {target}.html",
    "show": "show {short} --picture {target}.png",
    "techniques": "techniques parry --picture {target}.svg",
    "voice sheet": "voice sheet {script} -o {target}",
    "voice try": "voice try jab --voice system -o {target}.flac",
    "voice import": "voice import {recording} --sheet {sheet} --voice system -o {target}",
}
"""Every command that writes a file; `{target}.wav` where the name must end so."""

FOLDERS = {
    "render": "render {library} --format wav -o {target}",
    "page": "page {library} --draws 1 -o {target}",
}
"""The commands that write a folder of files, made of a folder of scripts."""

WRITES_NOTHING = {"check", "play", "voice list", "schema"}


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a script, a faulty one, a sheet and its recording; the words are made already."""
    folder = tmp_path_factory.mktemp("home")
    (folder / "script.yaml").write_text(SCRIPT)
    (folder / "short.yaml").write_text("drill: Salt · marsh\nvoice: system\nsteps:\n- say: Up.\n")
    (folder / "faulty.yaml").write_text(FAULTY)
    (folder / "library").mkdir()
    (folder / "library" / "short.yaml").write_text((folder / "short.yaml").read_text())
    (folder / "sheet.txt").write_text("1. Hands up.\n2. jab, cross\n3. three\n")
    with open_voice("system", folder / "cache" / "cornercue" / "clips") as speech:
        texts = [line.text for line in read_sheet(folder / "sheet.txt")]
        soundfile.write(folder / "take.wav", recording(speech, texts, Faults())[0], SAMPLE_RATE)
    warm = ["partner --minutes 3 --brief --voice system --save {out}.yaml", WRITING["render"], WRITING["voice try"]]
    for number, command in enumerate(warm):
        done = ran(folder, command, folder / f"warm{number}")
        assert done.returncode == 0, done.stderr
    return folder


def words(folder: Path, command: str, target: Path | str) -> list[str]:
    places = {
        "script": folder / "script.yaml", "short": folder / "short.yaml",
        "faulty": folder / "faulty.yaml", "sheet": folder / "sheet.txt",
        "library": folder / "library", "recording": folder / "take.wav", "out": target, "target": target,
    }  # fmt: skip
    return [word.format_map(places) for word in command.split()]


def ran(
    folder: Path,
    command: str,
    target: Path | str,
    *,
    stdout: int = subprocess.PIPE,
    encoding: str = "utf-8",
    room: int | None = None,
) -> subprocess.CompletedProcess[str]:
    """A command in a process of its own; with `room`, no file may grow beyond so many bytes, as on a full disk."""

    def limited() -> None:
        if room is not None:
            import resource

            resource.setrlimit(resource.RLIMIT_FSIZE, (room, resource.RLIM_INFINITY))

    return subprocess.run(
        [sys.executable, "-m", "cornercue", *words(folder, command, target)],
        stdin=subprocess.DEVNULL, stdout=stdout, stderr=subprocess.PIPE, encoding=encoding, check=False, cwd=folder,
        env=os.environ | {"XDG_CACHE_HOME": str(folder / "cache"), "PYTHONIOENCODING": encoding},
        preexec_fn=limited, timeout=60,
    )  # fmt: skip


def told(done: subprocess.CompletedProcess[str]) -> str:
    """What stands on standard error: whole sentences, and never Python's own words."""
    assert "Traceback" not in done.stderr, done.stderr
    assert "Exception ignored" not in done.stderr, done.stderr
    return done.stderr


def test_every_command_is_tried() -> None:
    assert set(PRINTING) == set(everything(commands))
    assert set(WRITING) | WRITES_NOTHING == set(everything(commands))


EVERY: Sequence[str] = (*PRINTING.values(), *ALSO_PRINTING)


@pytest.mark.parametrize("command", EVERY)
def test_a_full_disk_under_standard_output_is_told(home: Path, tmp_path: Path, command: str) -> None:
    with open("/dev/full", "w") as full:
        done = ran(home, command, tmp_path / "one", stdout=full.fileno())
    assert "there is no room left on the disk" in told(done)
    assert done.returncode == MachineLacks.exit_code


@pytest.mark.parametrize("command", EVERY)
def test_whoever_stops_reading_ends_a_command_quietly(home: Path, tmp_path: Path, command: str) -> None:
    """A shell reports 128 + 13 of what SIGPIPE ended (bash's manual, "Exit status"; from memory)."""
    ours, theirs = os.pipe()
    os.close(ours)
    try:
        done = ran(home, command, tmp_path / "one", stdout=theirs)
    finally:
        os.close(theirs)
    assert told(done) == ""
    assert done.returncode == NOBODY_READS == 128 + 13


@pytest.mark.parametrize("command", [one for one in EVERY if one != PRINTING["voice sheet"]])
def test_a_narrow_encoding_costs_signs_and_nothing_else(home: Path, tmp_path: Path, command: str) -> None:
    done = ran(home, command, tmp_path / "one", encoding="ascii")
    assert told(done) == ""
    assert done.returncode == (InputFault.exit_code if "{faulty}" in command else 0)
    assert done.stdout.strip()


def test_a_sign_that_an_encoding_has_is_printed_and_another_is_a_question_mark(home: Path) -> None:
    command = "show --voice none {script}"
    for encoding, title in (("ascii", "Salt ? marsh"), ("latin-1", "Salt · marsh"), ("utf-8", "Salt · marsh")):
        assert ran(home, command, "", encoding=encoding).stdout.startswith(title)


def test_json_keeps_its_meaning_in_a_narrow_encoding(home: Path) -> None:
    command = "show --voice none --seed 1 --json {script}"
    narrow, wide = ran(home, command, "", encoding="ascii"), ran(home, command, "")
    assert json.loads(narrow.stdout) == json.loads(wide.stdout)
    assert json.loads(wide.stdout)["drill"] == "Salt · marsh"


def test_a_sheet_that_would_lose_words_is_not_printed(home: Path, tmp_path: Path) -> None:
    (tmp_path / "korean.yaml").write_text("drill: Three\ncounting: korean\nsteps:\n- exercise: squats\n  reps: 3\n")
    command = f"voice sheet {tmp_path / 'korean.yaml'}"
    done = ran(home, command, "", encoding="ascii")
    assert (done.returncode, done.stdout) == (MachineLacks.exit_code, "")
    assert "write the sheet to a file with `-o`" in told(done)
    assert ran(home, command, "").returncode == 0


def test_where_nobody_reads_the_errors_either_the_exit_code_still_tells(home: Path) -> None:
    with open("/dev/full", "w") as full:
        done = subprocess.run(
            [sys.executable, "-m", "cornercue", "show", "no-such-file.yaml"], stderr=full, check=False, cwd=home
        )
    assert done.returncode == InputFault.exit_code


TARGETS = {
    "an empty name": "",
    "this folder": ".",
    "a folder": "folder",
    "a device": "device",
    "a missing folder": "nowhere/one",
    "a name too long": "x" * 300,
}


MADE = ("voice import", "a missing folder")
"""No fault: the folders above a pack are made."""


@pytest.mark.parametrize(("name", "kind"), [case for case in product(WRITING, TARGETS) if case != MADE])
def test_what_is_no_file_to_write_is_told(home: Path, tmp_path: Path, name: str, kind: str) -> None:
    """A folder or a device stands in the way under the very name, with whatever ending it must have."""
    command = WRITING[name]
    ending = command.partition("{target}")[2]
    (tmp_path / f"folder{ending}").mkdir()
    (tmp_path / f"device{ending}").symlink_to("/dev/full")
    before = sorted(tmp_path.iterdir())
    target = TARGETS[kind]
    if target not in ("", "."):
        target = str(tmp_path / target)
    done = ran(home, command.replace("{target}" + ending, "{target}") if target in ("", ".") else command, target)
    assert done.returncode == InputFault.exit_code, done.stderr
    assert told(done).strip().count("\n") == 0
    assert re.search(r"file|folder|name|there|written", done.stderr)
    assert sorted(tmp_path.iterdir()) == before


@pytest.mark.parametrize("name", WRITING)
def test_a_full_disk_is_told_and_leaves_nothing(home: Path, tmp_path: Path, name: str) -> None:
    """A file that may not grow stands for a full disk: the same writes fail."""
    done = ran(home, WRITING[name], tmp_path / "one", room=200)
    assert "disk" in told(done).splitlines()[-1]
    assert done.returncode == MachineLacks.exit_code, done.stderr
    assert [*tmp_path.iterdir()] == []


@pytest.mark.parametrize("name", FOLDERS)
@pytest.mark.parametrize("kind", [kind for kind in TARGETS if kind not in ("this folder", "a folder")])
def test_what_is_no_folder_to_write_in_is_told(home: Path, tmp_path: Path, name: str, kind: str) -> None:
    (tmp_path / "device").symlink_to("/dev/full")
    before = sorted(tmp_path.iterdir())
    target = TARGETS[kind] and str(tmp_path / TARGETS[kind])
    done = ran(home, FOLDERS[name], target)
    if kind == "a missing folder":  # no fault: it is made
        assert done.returncode == 0, done.stderr
        assert len([*(tmp_path / "nowhere" / "one").iterdir()]) == 1
        return
    assert done.returncode == InputFault.exit_code, done.stderr
    assert told(done).strip().count("\n") == 0
    assert re.search(r"folder|name", done.stderr)
    assert sorted(tmp_path.iterdir()) == before


@pytest.mark.parametrize("name", FOLDERS)
def test_a_full_disk_leaves_no_folder_either(home: Path, tmp_path: Path, name: str) -> None:
    done = ran(home, FOLDERS[name], tmp_path / "deep" / "one", room=200)
    assert "disk" in told(done).splitlines()[-1]
    assert done.returncode == MachineLacks.exit_code, done.stderr
    assert [*tmp_path.iterdir()] == []
