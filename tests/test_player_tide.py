"""The tide on a terminal: what a person reads, how high the water stands, and that no text can break it."""

from __future__ import annotations

import io
import re
import unicodedata
from dataclasses import replace
from importlib.resources import files

import pyte
import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from rich.console import Console
from wcwidth import wcwidth

from cornercue.player.terminal import inks_for
from cornercue.player.tide import DARK, DARK_256, KEYS, LIGHT, LIGHT_256, OWN, SURFACE, Inks, tide
from cornercue.player.view import View
from test_player_letters import HOSTILE, texts

WORK = View(
    at=65.0, title="Rear hand first", part=2, parts=5, told="Push-ups", call="Jab, cross",
    hands="left · right", following="lead body hook", kind="work", left=41.2, level=0.6,
)  # fmt: skip
REST = replace(WORK, kind="rest", call="Rest, thirty seconds", hands="", left=12.0, level=0.25)
SPARE = 7
"""Columns and rows of the test's terminal beyond the picture: nothing may appear there."""


def drawn(view: View, columns: int, rows: int, inks: Inks = DARK, **options: object) -> pyte.Screen:
    """The picture as a terminal shows it that has room to spare."""
    out = io.StringIO()
    options = {"color_system": "truecolor"} | options
    console = Console(file=out, force_terminal=True, width=columns, height=rows, _environ={}, **options)  # type: ignore[arg-type]
    console.print(tide(view, columns, rows, inks), end="", crop=False)
    return seen(out.getvalue().replace("\n", "\r\n"), columns + SPARE, rows + SPARE)


def seen(sent: str, columns: int, rows: int) -> pyte.Screen:
    """What a terminal shows. Pyte 0.8.2 drops all after a mark of no width and class 0: not sent to it."""
    screen = pyte.Screen(columns, rows)
    pyte.Stream(screen).feed("".join(sign for sign in sent if wcwidth(sign) or unicodedata.combining(sign)))
    return screen


def read(view: View, columns: int, rows: int) -> list[str]:
    return [line.rstrip() for line in drawn(view, columns, rows).display[:rows]]


def height(view: View, columns: int, rows: int) -> float:
    """How high the water stands, in rows, by its pattern and its surface."""
    lines = read(replace(view, message=""), columns, rows)
    sign = {"work": "~", "rest": "·"}[view.kind]
    full = sum(bool(re.fullmatch(rf"[{sign} ]*{sign}[{sign} ]*", line)) for line in lines)
    edges = [line[0] for line in lines if line and set(line) <= set(SURFACE) and len(line) == columns]
    assert len(edges) <= 1
    return full + sum((SURFACE.index(edge) + 1) / 8 for edge in edges)


# ---- what is read


def test_everything_is_where_a_person_looks_for_it() -> None:
    lines = read(replace(WORK, state="paused", volume=7, message="Paused. Space goes on."), 80, 24)
    assert re.fullmatch("  Rear hand first {30,}part 2 of 5 · Push-ups", lines[0])
    hands, following = lines.index(next(x for x in lines if "left · right" in x)), 14
    assert "█" in "".join(lines[1:hands])
    assert lines[following - 1].strip() == "next: lead body hook"
    assert re.fullmatch("  Work 0:42 {40,}Paused · volume 7 of 10", lines[following + 1])
    assert "Paused. Space goes on." in lines[21]
    assert lines[23].strip() == "space pause · ← back · → on · r again · ↑↓ louder, softer · q quit"


@pytest.mark.parametrize(
    ("state", "word"),
    [
        ("playing", ""),
        ("paused", "Paused"),
        ("counting in", "Counting in"),
        ("waiting", "Waiting"),
        ("ended", "The end"),
    ],
)
def test_the_state_is_a_word(state: str, word: str) -> None:
    line = next(line for line in read(replace(WORK, state=state), 80, 24) if "Work" in line)  # type: ignore[arg-type]
    assert line.partition("0:42")[2].strip() == word


@pytest.mark.parametrize(("left", "shown"), [(0.0, "0:00"), (0.2, "0:01"), (59.1, "1:00"), (600.0, "10:00")])
def test_time_left_counts_down_to_nought_and_not_past_it(left: float, shown: str) -> None:
    assert f"Work {shown}" in "\n".join(read(replace(WORK, left=left), 80, 24))


def test_talk_between_has_no_time_and_no_water() -> None:
    lines = read(replace(WORK, kind="talk", left=None, level=0.0), 80, 24)
    assert not re.search(r"\d:\d\d|Work|Rest|~", "\n".join(lines))
    assert lines[16:23] == [""] * 7


@pytest.mark.parametrize(("columns", "rows"), [(40, 12), (20, 5)])
def test_a_small_terminal_keeps_the_call_its_hands_the_time_and_the_way_out(columns: int, rows: int) -> None:
    text = "\n".join(read(replace(WORK, level=1.0), columns, rows))
    for words in ("Jab, cross", "left · right", "Work 0:42", "q quit", "~"):
        assert words in text


def test_the_smallest_terminal_of_all_still_shows_the_call() -> None:
    assert read(WORK, 12, 1) == [" Jab, cross"]
    assert read(replace(WORK, message="No sound"), 12, 2)[1] == "No sound"


def test_a_long_message_is_read_to_its_end_even_where_it_is_narrow() -> None:
    lost = "No sound device. Plug it in again, or another one: the drill goes on by itself."
    lines = read(replace(WORK, state="waiting", message=lost), 40, 12)
    assert lost in re.sub(rf"[\s~{SURFACE}]+", " ", " ".join(lines))


def test_the_keys_are_told_as_fully_as_there_is_room() -> None:
    told = [read(WORK, columns, 24)[-1].strip() for columns in range(1, 90)]
    assert list(dict.fromkeys(told)) == ["", *reversed(KEYS)]


# ---- water


@given(
    level=st.floats(0, 1),
    kind=st.sampled_from(["work", "rest"]),
    columns=st.integers(20, 100),
    rows=st.integers(12, 50),
)
def test_the_water_stands_as_high_as_the_level_says(level: float, kind: str, columns: int, rows: int) -> None:
    view = replace(WORK, kind=kind, level=level)  # type: ignore[arg-type]
    depth = height(replace(view, level=1.0), columns, rows)
    assert depth >= rows // 4
    assert abs(height(view, columns, rows) - level * depth) <= 1 / 16 + 1e-9


def test_work_and_rest_differ_without_colour_in_word_and_pattern() -> None:
    work, rest = ("\n".join(read(view, 80, 24)) for view in (WORK, REST))
    assert ("Work" in work, "Rest" in work, "~" in work) == (True, False, True)
    assert ("Work" in rest, "Rest" in rest, "~" in rest) == (False, True, False)
    assert re.search(r"(· ){30}", rest)
    assert not re.search(r"(· ){3}", work)


# ---- any size, any text


@given(texts=st.tuples(*[texts] * 6), columns=st.integers(1, 300), rows=st.integers(1, 80), level=st.floats(-1, 2))
@example(texts=tuple(HOSTILE[:6]), columns=1, rows=1, level=0.5)
@example(texts=tuple(HOSTILE[:1] * 6), columns=1, rows=10, level=0.0)
@example(texts=tuple(HOSTILE[:6]), columns=80, rows=24, level=0.5)
@example(texts=tuple(HOSTILE[5:]), columns=20, rows=5, level=0.1)
def test_no_text_breaks_the_picture_at_any_size(texts: tuple[str, ...], columns: int, rows: int, level: float) -> None:
    title, told, call, hands, following, message = texts
    view = replace(WORK, title=title, told=told, call=call, hands=hands, level=level)
    screen = drawn(replace(view, following=following, message=message), columns, rows)
    grounds = {color.lstrip("#") for color in (DARK.ground, DARK.water)}
    for y in range(rows + SPARE):
        for x in range(columns + SPARE):
            cell = screen.buffer[y][x]
            inside = x < columns and y < rows
            assert (cell.bg in grounds) == inside, (x, y, cell)
            assert inside or cell.data == " "


@given(text=texts)
def test_nothing_but_colour_is_sent_beside_the_words(text: str) -> None:
    out = io.StringIO()
    view = replace(WORK, title=text, told=text, call=text, hands=text, following=text, message=text)
    Console(file=out, force_terminal=True, color_system="truecolor", width=80, height=24).print(tide(view, 80, 24))
    rest = re.sub(r"\x1b\[[0-9;]*m", "", out.getvalue())
    assert not re.search(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u200b-\u200f\u2028-\u202e\u2066-\u2069]", rest)


# ---- colours


def contrast(one: str, other: str) -> float:
    """WCAG 2.1, "contrast ratio" and "relative luminance" (with its errata's 0.04045), of colours as six digits."""

    def luminance(color: str) -> float:
        parts = [int(color[at : at + 2], 16) / 255 for at in (0, 2, 4)]
        linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    dark, light = sorted([luminance(one), luminance(other)])
    return (light + 0.05) / (dark + 0.05)


def test_the_formula_gives_the_published_extremes() -> None:
    """21:1 is black on white; #767676 is the lightest grey that reaches 4.5:1 on white (WebAIM)."""
    assert contrast("000000", "ffffff") == pytest.approx(21)
    assert contrast("777777", "ffffff") < 4.5 <= contrast("767676", "ffffff")


@pytest.mark.parametrize(
    ("inks", "system"), [(LIGHT, "truecolor"), (DARK, "truecolor"), (LIGHT_256, "256"), (DARK_256, "256")]
)
@pytest.mark.parametrize("rows", [12, 24, 45])
def test_every_sign_reaches_level_aa(inks: Inks, rows: int, system: str) -> None:
    """WCAG 2.1, 1.4.3: 4.5:1 for text of any size. The water's edge is no sign; what it tells, signs tell too."""
    for level in (0.0, 0.3, 0.55, 1.0):
        view = replace(REST, hands="left", level=level, volume=3, message="The drill goes on. " * 5)
        screen = drawn(view, 80, rows, inks, color_system=system)
        cells = [screen.buffer[y][x] for y in range(rows) for x in range(80)]
        pairs = {(cell.fg, cell.bg) for cell in cells if cell.data.strip() and cell.data not in SURFACE}
        assert len(pairs) >= (4 if level > 0.5 else 3)
        assert min(contrast(*pair) for pair in pairs) >= 4.5


def test_the_colours_are_those_of_the_page() -> None:
    css = (files("cornercue.page") / "page.css").read_text(encoding="utf-8")
    found = re.findall(r"--ground: (\S+); --water: (\S+); --ink: (\S+); --soft: (\S+); --accent: (\S+);", css)
    assert [Inks(*colours) for colours in found] == [LIGHT, DARK]


@pytest.mark.parametrize(
    ("environ", "system", "inks"),
    [
        ({}, "truecolor", DARK), ({"COLORFGBG": "15;0"}, "256", DARK_256), ({"COLORFGBG": "0;15"}, "256", LIGHT_256),
        ({"COLORFGBG": "0;default;7"}, "truecolor", LIGHT), ({"NO_COLOR": "1", "COLORFGBG": "0;15"}, "truecolor", OWN),
        ({}, "standard", OWN), ({}, None, OWN),
    ],
)  # fmt: skip
def test_the_colours_suit_the_terminal(environ: dict[str, str], system: str | None, inks: Inks) -> None:
    console = Console(file=io.StringIO(), force_terminal=True, color_system=system, _environ=environ)  # type: ignore[arg-type]
    assert inks_for(console, environ) is inks


@pytest.mark.parametrize("paint", [OWN, DARK])
def test_no_color_leaves_the_terminal_its_own_colours_and_loses_no_word(paint: Inks) -> None:
    """As no-color.org has it: no colour is added; bold stays."""
    screen = drawn(REST, 80, 24, paint, no_color=True)
    assert {(screen.buffer[y][x].fg, screen.buffer[y][x].bg) for y in range(24) for x in range(80)} == {
        ("default",) * 2
    }
    assert [line.rstrip() for line in screen.display[:24]] == read(REST, 80, 24)
