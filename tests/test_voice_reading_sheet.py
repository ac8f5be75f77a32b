"""The reading sheet: every phrase once, read aloud by a person and read back by the program."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornercue.errors import InputFault
from cornercue.voice.reading_sheet import LARGEST, SheetLine, each_once, read_sheet, sheet_lines, sheet_of, spoken_key

GROUPS = [("Counts", ["one", "two"]), ("Calls", ["jab", "jab, cross"]), ("Sentences", ["Jab, cross.", "Well done!"])]


def test_a_sheet_reads_back_as_its_phrases_in_order_each_once() -> None:
    lines = sheet_lines(sheet_of(GROUPS))
    assert [line.text for line in lines] == ["one", "two", "jab", "jab, cross", "Well done!"]
    assert [line.number for line in lines] == [1, 2, 3, 4, 5]


WORDS = st.text(st.sampled_from("abc XYZ,.'-é"), min_size=1, max_size=30).filter(
    lambda text: any(map(str.isalnum, text))
)


@given(st.lists(WORDS, min_size=1, max_size=20))
def test_whatever_a_drill_says_reads_back(texts: list[str]) -> None:
    lines = sheet_lines(sheet_of([("All", texts)]))
    assert [spoken_key(line.text) for line in lines] == list(dict.fromkeys(map(spoken_key, texts)))


def test_only_what_sounds_alike_is_read_once() -> None:
    assert each_once(["Rest.", "rest", "Twenty-one", "twenty one", "left", "left,"]) == ["Rest.", "Twenty-one", "left"]
    assert len(each_once(["parry left", "parry right", "1", "10"])) == 4


def test_notes_and_a_changed_layout_do_no_harm() -> None:
    text = "# mine\n\n  3) jab  \n12. rear hook\r\n# end"
    assert sheet_lines(text) == (SheetLine(3, "jab"), SheetLine(12, "rear hook"))


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "has no phrases"),
        ("# only notes\n", "has no phrases"),
        ("1. jab\ncross\n", "Line 2 of the sheet is no phrase: “cross”"),
        ("1. jab\n1. cross\n", "number 1 after 1"),
        ("1. jab\n2. Jab!\n", "stands in the sheet twice, as 1 and 2"),
        ("1. ...\n", "nothing to say"),
        ("\n".join(f"{n}. word {n}" for n in range(1, 2003)), "more than 2000"),
    ],
)
def test_what_is_no_sheet_is_told_at_its_line(text: str, sentence: str) -> None:
    with pytest.raises(InputFault, match=sentence):
        sheet_lines(text)


def test_files_that_are_no_sheet(tmp_path: Path) -> None:
    binary, huge = tmp_path / "a.txt", tmp_path / "b.txt"
    binary.write_bytes(b"\xff\xfe\x00RIFF")
    huge.write_bytes(b"#" * (LARGEST + 1))
    for path, sentence in ((binary, "is not text"), (huge, "too large"), (tmp_path, "cannot be read"),
                           (tmp_path / "none", "cannot be read")):  # fmt: skip
        with pytest.raises(InputFault, match=sentence):
            read_sheet(path)


def test_how_a_phrase_is_said_stands_beside_it_and_reads_back() -> None:
    said = {"lead tsuki": "lead つき", "yop chagi": "yop <chah> ghee"}
    text = sheet_of([("Calls", ["jab", "lead tsuki", "yop chagi"])], said)
    assert "2. lead tsuki [lead つき]\n" in text
    lines = sheet_lines(text)
    assert [line.text for line in lines] == ["jab", "lead tsuki", "yop chagi"]
    assert [line.said for line in lines] == [None, "lead つき", "yop chah ghee"]
    assert [line.aloud for line in lines] == ["jab", "lead つき", "yop chah ghee"]
    assert sheet_lines("1. jab []\n2. cross [ ]") == (SheetLine(1, "jab"), SheetLine(2, "cross"))
