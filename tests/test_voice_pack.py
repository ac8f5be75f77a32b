"""A recorded pack: it speaks with its own clips, joins parts, and trusts nothing that it reads."""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import soundfile

from cornercue.errors import InputFault
from cornercue.languages import Aloud
from cornercue.sound import SAMPLE_RATE
from cornercue.voice.clip import Clip
from cornercue.voice.pack import INDEX, JOIN, LARGEST_CLIP, VERSION, Pack, write_pack
from cornercue.voice.recorded_speech import RecordedSpeech
from cornercue.voice.speech import Speech
from cornercue.voice.voices import open_voice


def hum(text: str, seconds: float = 0.3) -> Clip:
    """A clip whose sound depends on its text."""
    at = np.arange(round(seconds * SAMPLE_RATE))
    return Clip(text, (8000 * np.sin(at * (0.05 + len(text) / 100))).astype(np.int16))


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    path = tmp_path / "pack"
    write_pack(path, [(hum(text), ()) for text in ("jab", "cross", "rear uppercut", "Well done.")])
    return path


def nobody() -> Speech:
    raise AssertionError("the fallback was asked")


def test_a_phrase_is_the_recorded_one_to_the_sample_whatever_its_capitals_and_rate(folder: Path) -> None:
    speech = RecordedSpeech(folder, nobody)
    for text, rate in (("jab", 1.0), ("Jab.", 1.2), ("WELL DONE", 1.0)):
        assert speech.clip(text, rate).samples.tolist() == hum("jab" if "ab" in text else "Well done.").samples.tolist()
    assert speech.seconds("jab", 1.2) == pytest.approx(0.3, abs=1e-3)
    assert speech.beat("jab", 1.2) == hum("jab").beat


def test_a_call_that_was_not_recorded_whole_is_joined_at_its_commas(folder: Path) -> None:
    joined = RecordedSpeech(folder, nobody).clip("rear uppercut, jab, cross").samples
    gap = round(JOIN * SAMPLE_RATE)
    one = len(hum("jab").samples)
    assert len(joined) == 3 * one + 2 * gap
    assert not joined[one : one + gap].any()
    assert joined[-one:].tolist() == hum("cross").samples.tolist()


def test_what_the_pack_lacks_is_said_by_the_fallback_and_only_that_is_made(folder: Path, tmp_path: Path) -> None:
    asked: list[Any] = []

    class Other(Speech):
        name = "another"
        identity = "another 1"

        def clip(self, text: str, rate: float = 1.0) -> Clip:
            return hum(text + " by another", 0.5)

        def beat(self, text: str, rate: float = 1.0) -> float:
            return 0.1

        def warm(self, phrases: Any, progress: Any = None) -> None:
            asked.extend(phrases)

        def close(self) -> None:
            asked.append("closed")

    with RecordedSpeech(folder, Other) as speech:
        speech.warm([("jab", 1.0), ("jab, cross", 1.1), ("jab, lead hook", 1.0)])
        assert speech.clip("jab, lead hook").seconds == pytest.approx(0.5, abs=1e-3)
    assert asked == [("jab, lead hook", 1.0), "closed"]


def test_a_folder_is_a_voice(folder: Path, tmp_path: Path) -> None:
    with open_voice(str(folder), tmp_path) as speech:
        assert speech.name == str(folder)
        assert speech.clip("jab").samples.tolist() == hum("jab").samples.tolist()
        assert speech.clip("step back").seconds > 0.2
        assert speech.identity.startswith("pack ")
    with pytest.raises(InputFault, match="is not a pack"):
        open_voice(str(tmp_path))


def test_a_recorded_voice_says_its_words_as_recorded_and_the_other_one_as_they_are_said(
    folder: Path, tmp_path: Path
) -> None:
    with open_voice(str(folder), tmp_path, dict.fromkeys(("jab", "step back"), Aloud("thunderbolt"))) as speech:
        assert speech.clip("jab").samples.tolist() == hum("jab").samples.tolist()
        assert speech.clip("step back").samples.tolist() == speech.clip("thunderbolt").samples.tolist()


def test_adding_keeps_what_was_there_and_a_new_take_wins(folder: Path) -> None:
    new = [(hum("jab", 0.7), ()), (hum("lead hook"), ("clipped",))]
    write_pack(folder, new, Pack(folder))
    pack = Pack(folder)
    assert {entry.text for entry in pack.entries.values()} == {
        "jab",
        "cross",
        "rear uppercut",
        "Well done.",
        "lead hook",
    }
    assert pack.entries["lead hook"].flaws == ("clipped",)
    kept, taken = pack.samples("cross"), pack.samples("jab")
    assert kept is not None
    assert taken is not None
    assert kept.tolist() == hum("cross").samples.tolist()
    assert len(taken) == round(0.7 * SAMPLE_RATE)
    assert [path.name for path in folder.parent.iterdir()] == ["pack"]


def test_a_pack_that_cannot_be_finished_leaves_the_old_one_and_nothing_else(folder: Path) -> None:
    def broken() -> Any:
        yield hum("jab", 0.9), ()
        raise KeyboardInterrupt

    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    with pytest.raises(KeyboardInterrupt):
        write_pack(folder, broken())
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == before
    assert [path.name for path in folder.parent.iterdir()] == ["pack"]


def change(folder: Path, **values: Any) -> None:
    """The index with the first phrase's values changed."""
    data = json.loads((folder / INDEX).read_text())
    data["phrases"][0].update(values)
    (folder / INDEX).write_text(json.dumps(data))


@pytest.mark.parametrize(
    "name", ["../jab.flac", "/etc/passwd", "a/b.flac", "..\\jab.flac", ".flac", "jab.exe", "x" * 99 + ".wav"]
)
def test_a_path_that_climbs_out_is_refused(folder: Path, name: str) -> None:
    change(folder, file=name)
    with pytest.raises(InputFault, match="not one of its own"):
        Pack(folder)


def test_a_link_that_leads_out_is_refused(folder: Path, tmp_path: Path) -> None:
    (tmp_path / "out.flac").write_bytes((folder / "0001.flac").read_bytes())
    (folder / "link.flac").symlink_to(tmp_path / "out.flac")
    change(folder, file="link.flac")
    with pytest.raises(InputFault, match="not one of its own"):
        Pack(folder)


def test_a_huge_file_a_text_a_cut_off_wav_and_a_missing_file_each_get_a_sentence(folder: Path) -> None:
    frames = len(hum("jab").samples)
    with (folder / "huge.flac").open("wb") as file:
        file.truncate(LARGEST_CLIP + 1)
    (folder / "text.flac").write_text("not sound at all")
    soundfile.write(folder / "cut.wav", hum("jab").samples, SAMPLE_RATE)
    whole = (folder / "cut.wav").read_bytes()
    (folder / "cut.wav").write_bytes(whole[: len(whole) // 2])
    soundfile.write(folder / "other.wav", hum("jab").samples, 48_000)
    for name, sentence in (
        ("huge.flac", "far too large"),
        ("text.flac", "not a sound file, or damaged"),
        ("cut.wav", "cut short"),
        ("gone.flac", "is missing from the pack"),
        ("other.wav", "not a clip of a pack"),
    ):
        change(folder, file=name, frames=frames)
        with pytest.raises(InputFault, match=sentence):
            Pack(folder).samples("jab")


@pytest.mark.parametrize(
    "index",
    [
        b"",
        b"\xff\xfe",
        b"[]",
        b"null",
        b'{"version": 1}',
        b'{"version": 1, "phrases": []}',
        b'{"version": 1, "phrases": ["jab"]}',
        b'{"version": 1, "phrases": [{"text": 1, "file": "a.flac", "frames": 3}]}',
        b'{"version": 1, "phrases": [{"text": "jab", "file": "a.flac", "frames": true}]}',
        b"[" * 100_000,
    ],
)
def test_a_damaged_index_is_told(folder: Path, index: bytes) -> None:
    (folder / INDEX).write_bytes(index)
    with pytest.raises(InputFault, match="damaged"):
        Pack(folder)


def reversioned(folder: Path, **version: Any) -> None:
    """The index saying this of its version, or nothing."""
    data = json.loads((folder / INDEX).read_text())
    assert data.pop("version") == VERSION
    (folder / INDEX).write_text(json.dumps(version | data))


def test_a_pack_that_says_no_version_is_read_as_the_first(folder: Path) -> None:
    reversioned(folder)
    assert set(Pack(folder).entries) == {"jab", "cross", "rear uppercut", "well done"}


def test_a_pack_of_a_newer_version_is_refused_with_what_to_do(folder: Path) -> None:
    reversioned(folder, version=VERSION + 1, shape="nobody knows")
    with pytest.raises(InputFault, match=rf"version {VERSION + 1}, .* up to version {VERSION}\. Bring Cornercue up"):
        Pack(folder)


@pytest.mark.parametrize("version", [0, -1, True, 1.0, "1", None, [1]])
def test_a_version_that_is_none_is_told_as_damage(folder: Path, version: object) -> None:
    reversioned(folder, version=version)
    with pytest.raises(InputFault, match="damaged"):
        Pack(folder)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_a_pipe_in_the_place_of_a_file_is_not_waited_for(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (folder / "0001.flac").unlink()
    os.mkfifo(folder / "0001.flac")
    with pytest.raises(InputFault, match="is missing from the pack"):
        Pack(folder).samples("jab")
    (folder / INDEX).unlink()
    os.mkfifo(folder / INDEX)
    monkeypatch.setattr(Path, "open", lambda *_: pytest.fail("it is waited for"))
    with pytest.raises(InputFault, match="is not a file"):
        Pack(folder)


def test_an_index_that_is_too_large_or_lists_too_much_is_refused(folder: Path) -> None:
    (folder / INDEX).write_bytes(b" " * 2_000_001)
    with pytest.raises(InputFault, match="too large"):
        Pack(folder)
    entry = {"text": "a", "file": "a.flac", "frames": 1}
    (folder / INDEX).write_text(json.dumps({"version": 1, "phrases": [entry] * 5001}))
    with pytest.raises(InputFault, match="damaged"):
        Pack(folder)
