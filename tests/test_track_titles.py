"""Titles in sound files: somebody else's readers find them whole, whatever they are, and the sound stays as it was."""

from __future__ import annotations

import json
import shutil
import subprocess
import tempfile
from dataclasses import replace
from pathlib import Path
from typing import Any

import mutagen
import mutagen.id3 as library
import numpy as np
import pytest
import soundfile
from hypothesis import given, settings
from hypothesis import strategies as st
from mutagen.ogg import OggPage

from cornercue.errors import InputFault
from cornercue.sound import SAMPLE_RATE
from cornercue.timing.timeline import Part, Timeline
from cornercue.track import id3
from cornercue.track.mix import blocks
from cornercue.track.ogg import SERIAL, checksum, fix_serial
from cornercue.track.sound_files import LONGEST_TITLE, write
from test_track_sound_files import drill, ogg_checksum, spoken

TITLED = [".flac", ".ogg", ".mp3"]
TITLES = ["Two <hands> & a 🥊", "‏כפיפות בטן", "正拳突き", "ÿþ and \ufeff", "a = b", " led by a space", "x" * 60_000]
"""Among them signs of which one byte is all ones, as in the sync of an MP3 frame."""

TEXT = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=300)
SOME = TEXT.filter(bool)


def written(folder: Path, suffix: str, title: str) -> Path:
    line = replace(drill(3.0), drill=title, parts=(Part(title, "say", 1, 0.0, 2.0), Part("End", "say", 2, 2.0, 3.0)))
    target = folder / f"drill{suffix}"
    write(target, line, spoken)
    return target


def read_back(path: Path) -> str:
    """The title as mutagen reads it."""
    file: Any = mutagen.File(path)
    tags = file.tags or {}
    return str(tags["TIT2"]) if path.suffix == ".mp3" else "".join(tags.get("title", []))


@settings(max_examples=30, deadline=None)
@given(TEXT)
@pytest.mark.parametrize("suffix", TITLED)
def test_mutagen_reads_any_title_back(suffix: str, title: str) -> None:
    with tempfile.TemporaryDirectory() as folder:
        assert read_back(written(Path(folder), suffix, title)) == title


@pytest.mark.skipif(not shutil.which("ffprobe"), reason="needs ffprobe, of ffmpeg")
@pytest.mark.parametrize("title", TITLES, ids=range(len(TITLES)))
@pytest.mark.parametrize("suffix", TITLED)
def test_ffprobe_reads_the_title_and_finds_no_fault(tmp_path: Path, suffix: str, title: str) -> None:
    command = ["ffprobe", "-v", "warning", "-show_format", "-show_streams", "-of", "json"]
    command.append(str(written(tmp_path, suffix, title)))
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    assert done.stderr == ""
    found = json.loads(done.stdout)
    tags = {**found["format"].get("tags", {}), **found["streams"][0].get("tags", {})}
    assert {name.lower(): text for name, text in tags.items()}["title"] == title


@pytest.mark.parametrize("suffix", TITLED)
def test_a_title_changes_no_sample(tmp_path: Path, suffix: str) -> None:
    plain = tmp_path / f"plain{suffix}"
    kind = {".flac": "PCM_16", ".ogg": "VORBIS", ".mp3": "MPEG_LAYER_III"}[suffix]
    with soundfile.SoundFile(plain, "w", SAMPLE_RATE, 1, kind) as file:
        for block in blocks(drill(3.0), spoken):
            file.write(block)
    for title in ("", "Two hands", "x" * 60_000):
        sound, _ = soundfile.read(written(tmp_path, suffix, title), dtype="int16")
        assert np.array_equal(sound, soundfile.read(plain, dtype="int16")[0])
    if suffix == ".mp3":
        assert written(tmp_path, suffix, "Two hands").read_bytes().endswith(plain.read_bytes())


@pytest.mark.parametrize("suffix", TITLED)
def test_signs_that_a_tag_cannot_hold_are_replaced(tmp_path: Path, suffix: str) -> None:
    assert read_back(written(tmp_path, suffix, "one\0two\ud800three")) == "one two?three"


@pytest.mark.parametrize("suffix", [".wav", *TITLED])
def test_a_title_beyond_all_measure_is_refused_with_a_sentence(tmp_path: Path, suffix: str) -> None:
    with pytest.raises(InputFault, match=r"the title has 65,537 letters; no more than 65,536 fit\."):
        written(tmp_path, suffix, "x" * (LONGEST_TITLE + 1))
    assert [*tmp_path.iterdir()] == []


# ---- The bytes of an ID3 tag ----


def mutagens(title: str, chapters: list[tuple[int, int, str]]) -> bytes:
    """The tag as mutagen writes it, each frame by itself, for it sorts them by their size."""
    module: Any = library  # mutagen's types stop short of what its frames hold.

    def titled(text: str) -> Any:
        return module.TIT2(encoding=1, text=[text])

    names = [f"part{n}" for n, _ in enumerate(chapters, 1)]
    frames = [titled(title), module.CTOC(element_id="toc", flags=3, child_element_ids=names, sub_frames=[])]
    for name, (start, end, text) in zip(names, chapters, strict=True):
        offsets = {"start_offset": 0xFFFFFFFF, "end_offset": 0xFFFFFFFF}
        frames.append(
            module.CHAP(element_id=name, start_time=start, end_time=end, sub_frames=[titled(text)], **offsets)
        )
    found = b""
    for frame in frames:
        with tempfile.NamedTemporaryFile() as file:
            alone = module.ID3()
            alone.add(frame)
            alone.save(file.name, v1=0, v2_version=3, padding=lambda info: 0)
            found += Path(file.name).read_bytes()[10:]
    return found


@settings(max_examples=30, deadline=None)
@given(SOME, st.lists(st.tuples(st.integers(0, 2**32 - 2), st.integers(0, 2**32 - 2), SOME), max_size=5))
def test_every_frame_is_as_mutagen_writes_it(title: str, chapters: list[tuple[int, int, str]]) -> None:
    """But for empty titles, which mutagen leaves out."""
    names = [f"part{n}" for n, _ in enumerate(chapters, 1)]
    frames = [id3.title(title), id3.contents(names)]
    frames += [id3.chapter(name, *chapter) for name, chapter in zip(names, chapters, strict=True)]
    assert id3.tag(frames)[10:] == mutagens(title, chapters)


@pytest.mark.parametrize("size", [0, 1, 127, 128, 16_383, 16_384, 2_097_151, 2_097_152])
def test_a_tags_size_is_told_in_sevens(size: int, tmp_path: Path) -> None:
    """ID3v2.3.0, section 3.1: 257 bytes are $00 00 02 01."""
    assert id3.tag([bytes(257)])[6:10] == b"\0\0\2\1"
    head = id3.tag([bytes(size)])
    assert len(head) == size + 10
    assert all(byte < 128 for byte in head[6:10])
    (tmp_path / "a.mp3").write_bytes(head)
    reader: Any = library.ID3
    assert reader(tmp_path / "a.mp3").size == size + 10


def test_titles_larger_than_a_tag_are_refused_with_a_sentence(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    assert id3.MOST_BYTES == 0b1111111_1111111_1111111_1111111
    monkeypatch.setattr(id3, "MOST_BYTES", 1_000_000)
    parts = tuple(Part("x" * 60_000, "say", n, n / 10, (n + 1) / 10) for n in range(30))
    line: Timeline = replace(drill(3.0), parts=parts)
    with pytest.raises(InputFault, match=r"The titles come to 4 MB, more than an MP3 file can hold; shorten them\."):
        write(tmp_path / "drill.mp3", line, spoken)
    assert [*tmp_path.iterdir()] == []


@given(st.binary(max_size=60), st.binary(max_size=30), st.integers(1, 20))
def test_what_a_file_held_is_moved_on_whole(before: bytes, head: bytes, at_a_time: int) -> None:
    with tempfile.TemporaryDirectory() as folder, pytest.MonkeyPatch.context() as patch:
        patch.setattr(id3, "MOVED", at_a_time)
        file = Path(folder, "file")
        file.write_bytes(before)
        id3.put_before(file, head)
        assert file.read_bytes() == head + before


# ---- The pages of an Ogg file ----


@given(st.binary(min_size=27, max_size=200))
def test_the_checksum_is_that_of_the_standard_counted_bit_by_bit(page: bytes) -> None:
    blank = page[:22] + bytes(4) + page[26:]
    assert checksum(blank) == ogg_checksum(page)


def test_mutagen_finds_the_pages_sound_and_writes_them_the_same(tmp_path: Path) -> None:
    path = written(tmp_path, ".ogg", "x" * 60_000)  # a comment longer than one segment table
    page_at: Any = OggPage
    again, data = b"", path.read_bytes()
    with path.open("rb") as file:
        while file.tell() < len(data):
            page = page_at(file)
            assert page.serial == SERIAL
            again += page.write()
    assert again == data


def test_a_file_without_pages_is_told(tmp_path: Path) -> None:
    (tmp_path / "a.ogg").write_bytes(b"RIFF" + bytes(60))
    with pytest.raises(ValueError, match="no Ogg page at byte 0"):
        fix_serial(tmp_path / "a.ogg")
