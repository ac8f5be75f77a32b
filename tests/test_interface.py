"""Cornercue from a program: a build, a server or a notebook asks for values, and nothing is printed."""

from __future__ import annotations

import inspect
import json
import subprocess
import sys
import wave
from pathlib import Path

import numpy as np
import pytest

from cornercue import interface

SCRIPT = """\
drill: Saltmarsh Tuesday
level: 2
voice: system
steps:
- say: Hands up, chin down.
- combination: [jab, cross]
  reps: 2
"""

FAULTY = "drill: Low tide\nlevle: 2\nsteps:\n- combination: [jab, corss]\n"

CLOCKWORK = """\
drill: Long evening
steps:
- exercise: push-ups
  reps: 400
"""

PROGRAM = """
import json, sys
from pathlib import Path
from cornercue.interface import (
    SAMPLE_RATE, InputFault, Overrides, ScriptFaults, check_script, faults_of, open_script, page_text, read,
    sample_blocks, samples, sheet_text, write_track,
)

folder = Path(sys.argv[1])
script = folder / "tuesday.yaml"
heard, written = [], []
with open_script(script, Overrides(level=3, seed=5), heard.append) as opened:
    line, drill = opened.timeline, opened.drill
    track, split = samples(opened), samples(opened, "split")
    frames = sum(map(len, sample_blocks(opened)))
    captions = write_track(opened, folder / "tuesday.wav", captions=True, progress=written.append)
page = page_text(str(script), read(script), Overrides(seed=5), draws=1)
try:
    check_script(folder / "faulty.yaml")
except ScriptFaults as found:
    faults = [(fault.line, fault.column) for fault in found.faults]
try:
    with open_script(script, Overrides(voice="parrot")):
        sys.exit("there is no such voice")
except InputFault as fault:
    sentence = str(fault)
assert faults_of(script) == ()
assert "click" not in sys.modules, "a program needs no command line"
track.tofile(folder / "track.raw")
json.dump({
    "level": line.level, "seed": line.seed, "voice": line.voice, "duration": line.duration, "drill": drill.drill,
    "shape": track.shape, "split": split.shape, "frames": frames, "rate": SAMPLE_RATE, "dtype": str(track.dtype),
    "captions": captions.name, "heard": heard, "written": written, "page": page[:15], "faults": faults,
    "problems": [(one.line, one.rule, one.severity) for one in check_script(folder / "clockwork.yaml").problems],
    "sentence": sentence, "sheet": sheet_text([script]),
}, open(folder / "told.json", "w"))
"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """What the program leaves, run without a terminal and with a cache of its own."""
    home = tmp_path_factory.mktemp("program")
    (home / "tuesday.yaml").write_text(SCRIPT)
    (home / "faulty.yaml").write_text(FAULTY)
    (home / "clockwork.yaml").write_text(CLOCKWORK)
    done = subprocess.run(
        [sys.executable, "-c", PROGRAM, home],
        stdin=subprocess.DEVNULL, capture_output=True, text=True, check=False,
        env={"XDG_CACHE_HOME": str(home / "cache"), "PYTHONPATH": str(Path(inspect.getfile(interface)).parents[1])},
    )  # fmt: skip
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")
    return home


def test_a_script_is_opened_as_asked_and_its_samples_are_those_of_the_file(folder: Path) -> None:
    told = json.loads((folder / "told.json").read_text())
    assert (told["drill"], told["level"], told["seed"], told["voice"]) == ("Saltmarsh Tuesday", 3, 5, "system")
    with wave.open(str(folder / "tuesday.wav")) as file:  # Python's own reader
        frames = file.readframes(file.getnframes())
        assert (file.getframerate(), file.getnchannels()) == (told["rate"], 1)
    assert frames == (folder / "track.raw").read_bytes()
    assert np.abs(np.frombuffer(frames, np.int16)).max() > 1000
    assert told["dtype"] == "int16"
    assert told["shape"] == [told["frames"]] == [round(told["duration"] * told["rate"])]
    assert told["split"] == [told["frames"], 2]
    assert (folder / told["captions"]).read_text().startswith("WEBVTT")


def test_progress_is_told_from_none_to_all(folder: Path) -> None:
    told = json.loads((folder / "told.json").read_text())
    for shares in (told["heard"], told["written"]):
        assert shares == sorted(shares)
        assert 0 < shares[0] <= shares[-1] == 1.0


def test_faults_and_problems_are_values(folder: Path) -> None:
    told = json.loads((folder / "told.json").read_text())
    assert told["faults"] == [[2, 1], [4, 22]]
    assert [3, "dose", "warning"] in told["problems"]
    assert "no voice “parrot”" in told["sentence"]


def test_the_page_and_the_sheet_are_texts(folder: Path) -> None:
    told = json.loads((folder / "told.json").read_text())
    assert told["page"].lower() == "<!doctype html>"
    assert "Hands up, chin down." in told["sheet"]


@pytest.mark.parametrize("name", interface.__all__)
def test_everything_of_the_interface_says_what_it_is(name: str) -> None:
    value = getattr(interface, name)
    if inspect.isclass(value) or inspect.isfunction(value):
        assert value.__module__.startswith("cornercue.")
        told = inspect.getdoc(value)
        assert told
        assert not told.startswith(f"{name}(")  # which is what a dataclass says where nobody said anything
