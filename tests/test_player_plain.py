"""A drill line by line: what a pipe, a log or a screen reader gets."""

from __future__ import annotations

import errno
import io
import subprocess
import sys
from dataclasses import replace

import pytest
from hypothesis import given

from cornercue.player.plain import NOBODY_READS, PlainScreen
from cornercue.player.view import View
from test_player_letters import texts

FIRST = View(
    at=0.0, title="Rear hand first", part=1, parts=2, told="Jab, cross", call="Rear hand first", hands="",
    following="Jab, cross", kind="talk", left=None, level=0.0, begun=0.0,
)  # fmt: skip
JAB = replace(
    FIRST, at=5.0, begun=5.0, call="Jab, cross", hands="left · right", following="circle left", kind="work", left=30.0
)
MOVE = replace(JAB, at=9.0, begun=9.0, call="circle left", hands="", following="Jab, cross")
PUSH_UPS = replace(FIRST, at=65.5, begun=65.5, part=2, told="Push-ups", call="Push-ups, five", following="one")


class Flushed(io.StringIO):
    """Keeps what had come through by the last flush."""

    through = ""

    def flush(self) -> None:
        self.through = self.getvalue()


def told(*views: View) -> list[str]:
    stream = Flushed()
    with PlainScreen(stream) as screen:
        for view in views:
            screen.show(view)
        assert stream.through == stream.getvalue()
    return stream.getvalue().splitlines()


def test_each_cue_is_a_line_as_it_becomes_current_and_each_part_too() -> None:
    moments = [replace(JAB, at=5.0 + tenth / 10, left=30.0 - tenth / 10, level=1 - tenth / 300) for tenth in range(30)]
    assert told(FIRST, *moments, MOVE, replace(JAB, at=13.0, begun=13.0), PUSH_UPS) == [
        "Part 1 of 2 · Jab, cross",
        "0:00  Rear hand first",
        "0:05  Jab, cross (left · right)",
        "0:09  circle left",
        "0:13  Jab, cross (left · right)",
        "Part 2 of 2 · Push-ups",
        "1:05  Push-ups, five",
    ]


def test_the_same_call_three_times_is_three_lines_and_learning_what_follows_is_none() -> None:
    alike = [replace(JAB, at=at, begun=at, following=JAB.call) for at in (5.0, 10.0, 15.0)]
    assert told(*alike)[1:] == [
        "0:05  Jab, cross (left · right)",
        "0:10  Jab, cross (left · right)",
        "0:15  Jab, cross (left · right)",
    ]
    assert len(told(replace(JAB, following=""), replace(JAB, at=5.1))) == 2


def test_before_the_first_cue_only_the_part_is_told() -> None:
    assert told(replace(FIRST, begun=None)) == ["Part 1 of 2 · Jab, cross"]


def test_pauses_and_notices_are_told_once() -> None:
    paused = replace(JAB, state="paused", message="Paused. Space goes on.")
    counted = [
        replace(JAB, state="counting in", call=word, begun=float(at), hands="")
        for at, word in enumerate(("three", "two", "one"))
    ]
    last = replace(JAB, message="This is the last part.")
    lines = told(
        JAB,
        paused,
        paused,
        *counted,
        JAB,
        last,
        last,
        JAB,
        replace(MOVE, state="waiting"),
        replace(MOVE, state="ended"),
    )
    assert lines[2:] == [
        "Paused. Space goes on.",
        "0:05  three",
        "Goes on.",
        "0:05  two",
        "0:05  one",
        "0:05  Jab, cross (left · right)",
        "This is the last part.",
        "0:09  circle left",
        "Waiting.",
        "The end.",
    ]


@given(text=texts)
def test_no_text_makes_more_lines_or_commands_a_terminal(text: str) -> None:
    lines = told(replace(FIRST, told=text, call=text, hands=text, message=text))
    assert len(lines) <= 3
    assert all(line == "" or line.isprintable() or "\u3000" in line or "\xa0" in line for line in lines)


def test_a_terminal_without_the_signs_gets_question_marks_instead_of_an_error() -> None:
    stream = io.TextIOWrapper(io.BytesIO(), encoding="ascii")
    PlainScreen(stream).show(replace(JAB, told="앞차기"))
    stream.seek(0)
    assert stream.read().splitlines() == ["Part 1 of 2 ? ???", "0:05  Jab, cross (left ? right)"]


PROGRAM = """
import sys, time
from dataclasses import replace
sys.path.insert(0, "tests")
from test_player_plain import JAB
from cornercue.player.plain import PlainScreen
with PlainScreen() as screen:
    screen.show(JAB)
    sys.stdin.readline()
    for at in range(1000):
        screen.show(replace(JAB, call=str(at), begun=at))
"""


def test_where_nobody_reads_any_more_it_ends_quietly() -> None:
    program = subprocess.Popen(
        [sys.executable, "-c", PROGRAM],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    assert program.stdin
    assert program.stdout
    assert program.stdout.readline() == "Part 1 of 2 · Jab, cross\n"
    program.stdout.close()
    program.stdin.write("\n")
    program.stdin.close()
    assert program.stderr
    assert program.stderr.read() == ""
    program.stderr.close()
    assert program.wait() == NOBODY_READS


class Full(io.StringIO):
    """A file on a disk without room."""

    def flush(self) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")


def test_a_full_disk_is_still_an_error() -> None:
    with pytest.raises(OSError, match="space"):
        PlainScreen(Full()).show(JAB)
