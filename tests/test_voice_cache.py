"""Clips on disk: whole or not there, never believed when damaged, and never in the way."""

from __future__ import annotations

import logging
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from cornercue.voice.cache import Cache, digest_of

CLIP = np.array([1, -2, 32767, -32768], np.int16)
KEY = digest_of("voice 1", "jab", "1.000", 1)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    folder = tmp_path / "clips"
    Cache(folder).store(KEY, CLIP)
    return folder


def entry(folder: Path) -> Path:
    (only,) = folder.iterdir()
    return only


def test_what_was_stored_is_loaded(folder: Path) -> None:
    loaded = Cache(folder).load(KEY)
    assert loaded is not None
    assert loaded.dtype == np.int16
    assert loaded.tolist() == CLIP.tolist()
    assert entry(folder).read_bytes()[32:] == bytes.fromhex("0100feffff7f0080")  # little-endian on any machine


def test_an_unknown_key_is_missing_without_a_word(folder: Path, caplog: pytest.LogCaptureFixture) -> None:
    assert Cache(folder).load(digest_of("other")) is None
    assert Cache(folder / "nowhere").load(KEY) is None
    assert not caplog.records


def test_every_fact_counts_in_the_key() -> None:
    facts = ("voice 1", "jab", "1.000", 1)
    others = [("voice 2", *facts[1:]), ("voice 1", "jab ", *facts[2:]), (*facts[:2], "1.100", 1), (*facts[:3], 2)]
    assert len({digest_of(*each) for each in [facts, *others, ("voice", "1jab", "1.000", 1)]}) == 6


def flip_a_bit(whole: bytes) -> bytes:
    return whole[:-1] + bytes([whole[-1] ^ 1])


@pytest.mark.parametrize(
    "damage",
    [flip_a_bit, lambda whole: whole[:-2], lambda whole: whole[:32], lambda whole: b"", lambda whole: b"\0" * 99],
    ids=["a bit", "cut short", "no sound", "empty", "zeros"],
)
def test_a_damaged_entry_is_missing_with_a_warning(
    folder: Path, damage: Callable[[bytes], bytes], caplog: pytest.LogCaptureFixture
) -> None:
    entry(folder).write_bytes(damage(entry(folder).read_bytes()))
    cache = Cache(folder)
    assert cache.load(KEY) is None
    assert [record.name for record in caplog.records] == ["cornercue.voice"]
    assert "damaged" in caplog.text
    cache.store(KEY, CLIP)
    assert cache.load(KEY) is not None


def test_an_entry_under_another_name_is_not_believed(folder: Path, caplog: pytest.LogCaptureFixture) -> None:
    other = digest_of("another phrase")
    entry(folder).rename(folder / f"{other}.clip")
    assert Cache(folder).load(other) is None
    assert "damaged" in caplog.text


def test_a_folder_that_cannot_be_used_is_warned_of_once(tmp_path: Path, caplog: pytest.LogCaptureFixture) -> None:
    (tmp_path / "file").write_text("not a folder")
    cache = Cache(tmp_path / "file" / "clips")
    for number in range(3):
        cache.store(digest_of(number), CLIP)
        assert cache.load(digest_of(number)) is None
    assert [record.levelno for record in caplog.records] == [logging.WARNING]
    assert "cannot be kept" in caplog.text


def test_a_write_that_fails_leaves_nothing_behind(
    folder: Path, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.replace", full)
    Cache(folder).store(digest_of("new"), CLIP)
    assert [path.stem for path in folder.iterdir()] == [KEY]
    assert "No space left" in caplog.text
