"""Large type in a terminal: as large as it fits, readable as the word it is, and never outside its room."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from PIL import Image, ImageChops, ImageDraw, ImageFont
from wcwidth import wcwidth

from cornercue.player.letters import QUARTERS, cells, large, shortened, wrapped
from cornercue.printable import printable

CALLS = ["jab", "cross", "hook", "uppercut", "slip left", "slip right", "parry", "cover", "weave", "seven", "four"]

HOSTILE = [
    "\x1b[2J\x1b]0;owned\x07jab",
    "\x9b31mjab\x85cross",
    "שלום عليكم \u202ecross\u202c \u2067jab\u2069",
    "👩‍👩‍👧‍👦 🥊🏽 ☠️ 🇰🇷 1️⃣",
    "앞차기 돌려차기 正拳突き ﾌｯｸ",
    "Z̷̢̛a̵l̶g̴o̵ ำ 각",
    "jab " * 75,
    "x" * 300,
    "突" * 300,
    "\ud800\udfff\ufdd0\U0010ffff\x00",
    "\u2028two\u2029lines\r\nmore\x0b\x0c",
]

texts = st.one_of(st.sampled_from(HOSTILE), st.sampled_from(CALLS), st.text(max_size=300))


def wide(text: str) -> int:
    """Cells by wcwidth, which takes them from Unicode's East Asian Width table (UAX #11)."""
    return sum(wcwidth(sign) for sign in text)


@pytest.mark.parametrize("bits", range(1, 15))
def test_each_quarter_block_is_the_one_that_unicode_names_so(bits: int) -> None:
    """Names of the Block Elements, Unicode 3.2 and later, as Python's own table has them."""
    halves = {3: "UPPER HALF BLOCK", 12: "LOWER HALF BLOCK", 5: "LEFT HALF BLOCK", 10: "RIGHT HALF BLOCK"}
    corners = ["UPPER LEFT", "UPPER RIGHT", "LOWER LEFT", "LOWER RIGHT"]
    named = " AND ".join(corner for bit, corner in enumerate(corners) if bits >> bit & 1)
    assert unicodedata.name(QUARTERS[bits]) == halves.get(bits, f"QUADRANT {named}")


@given(text=texts, columns=st.integers(0, 300), rows=st.integers(0, 60))
@example(text="突", columns=1, rows=1)
def test_large_words_fill_whole_rows_and_no_more_than_their_room(text: str, columns: int, rows: int) -> None:
    drawn = large(text, columns, rows)
    assert len(drawn) <= rows
    assert all(wide(line) == columns for line in drawn)
    assert bool(drawn) == bool(printable(text) and columns and rows)


@given(text=texts)
def test_nothing_is_left_that_a_terminal_might_obey(text: str) -> None:
    clean = printable(text)
    assert not [sign for sign in clean if unicodedata.category(sign)[0] == "C"]
    assert "\n" not in clean
    assert cells(clean) == wide(clean)
    assert all(wcwidth(sign) >= 0 for sign in clean)


@given(text=texts, columns=st.integers(1, 120), rows=st.integers(1, 20))
def test_wrapped_words_stay_inside_and_an_end_that_is_missing_is_told(text: str, columns: int, rows: int) -> None:
    clean = printable(text)
    lines = wrapped(clean, columns, rows)
    assert len(lines) <= rows
    assert all(wide(line) <= columns for line in lines)
    told = "".join(lines).replace(" ", "") == clean.replace(" ", "")
    assert told or any("…" in line for line in lines)
    assert wide(shortened(clean, columns)) <= columns


def ink(drawn: tuple[str, ...]) -> Image.Image:
    """The drawing as black and white, in quarters of twice their width high, cut to where there is ink."""
    image = Image.new("L", (2 * len(drawn[0]), 2 * len(drawn)))
    for y, line in enumerate(drawn):
        for x, sign in enumerate(line):
            for bit in range(4):
                if QUARTERS.index(sign) >> bit & 1:
                    image.putpixel((2 * x + bit % 2, 2 * y + bit // 2), 255)
    image = image.resize((image.width, 2 * image.height), Image.Resampling.NEAREST)
    return image.crop(image.getbbox())


def alike(one: Image.Image, other: Image.Image) -> float:
    """The share of ink that both have, of the ink that either has."""
    union, common = ImageChops.lighter(one, other), ImageChops.darker(one, other)
    return common.histogram()[255] / union.histogram()[255]


def printed(word: str, size: tuple[int, int]) -> Image.Image:
    """The word as Pillow prints it on one line, large, then scaled."""
    font = ImageFont.load_default(200)
    left, top, right, bottom = (round(edge) for edge in font.getbbox(word))
    image = Image.new("L", (right - left, bottom - top))
    ImageDraw.Draw(image).text((-left, -top), word, 255, font)
    return image.crop(image.getbbox()).resize(size).point(lambda shade: 255 * (shade > 127))


@pytest.mark.parametrize(("columns", "rows"), [(76, 10), (116, 16), (156, 20)])
@pytest.mark.parametrize("word", CALLS)
def test_each_call_looks_more_like_itself_than_like_any_other(word: str, columns: int, rows: int) -> None:
    drawing = ink(large(word, columns, rows))
    likeness = {other: alike(drawing, printed(other, drawing.size)) for other in CALLS}
    assert max(likeness, key=lambda other: likeness[other]) == word, likeness


@pytest.mark.parametrize("letter", "ceos03689")
@pytest.mark.parametrize("rows", range(7, 40, 3))
def test_round_letters_have_no_bumps_so_an_s_is_no_dollar(letter: str, rows: int) -> None:
    """Letters overshoot their lines by a percent or two, as type designers have it; in cells that must not show."""
    drawing = ink(large(letter, 200, rows))
    shown = [sum(drawing.getpixel((x, y)) == 255 for x in range(drawing.width)) for y in range(0, drawing.height, 2)]
    assert 3 * shown[0] > shown[1]
    assert 3 * shown[-1] > shown[-2]


@pytest.mark.parametrize("word", ["four", "jab"])
def test_more_room_makes_larger_type_until_it_fills_the_width(word: str) -> None:
    heights = [ink(large(word, columns, 40)).height for columns in range(20, 200, 20)]
    assert heights == sorted(heights)
    assert heights[-1] > 4 * heights[0]
    assert ink(large(word, 150, 60)).width > 2 * 150 * 0.9


def test_many_words_or_letters_that_the_font_lacks_come_as_plain_text() -> None:
    assert large("앞차기", 20, 8) == ("       앞차기       ",)
    lines = large("Stand with your feet apart, knees soft as on deck, " * 6, 40, 6)
    assert lines[0].strip() == "Stand with your feet apart, knees soft"
    assert lines[-1].rstrip().endswith("…")
    assert len(lines) == 6
