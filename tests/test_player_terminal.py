"""The screen while a drill plays: drawn when something changes, whatever the terminal does, and gone afterwards."""

from __future__ import annotations

import fcntl
import io
import os
import pty
import select
import struct
import subprocess
import sys
import termios
import time
from collections.abc import Iterator
from dataclasses import replace

import pyte
import pytest
from rich.console import Console

from cornercue.player.terminal import REDRAW, TideScreen
from cornercue.player.tide import OWN
from cornercue.player.view import View
from test_player_tide import WORK, read, seen

SHOWS = 50
"""Views a second, as `player/feed.py` looks at the device."""


class Stage:
    """A TideScreen on a fake terminal and clock, whose writes are counted."""

    def __init__(self) -> None:
        self.now = 100.0
        self.out = io.StringIO()
        self.console = Console(
            file=self.out, force_terminal=True, color_system="truecolor", width=80, height=24, legacy_windows=False
        )
        self.screen = TideScreen(self.console, lambda: self.now)

    def show(self, view: View, after: float = 1 / SHOWS) -> str:
        """What is sent for a view."""
        self.now += after
        before = len(self.out.getvalue())
        self.screen.show(view)
        return self.out.getvalue()[before:]

    def lines(self) -> list[str]:
        return [line.rstrip() for line in seen(self.out.getvalue(), *self.console.size).display]


@pytest.fixture
def stage() -> Iterator[Stage]:
    stage = Stage()
    with stage.screen:
        yield stage


def test_time_and_water_are_drawn_at_most_five_times_a_second(stage: Stage) -> None:
    seconds = 10
    views = [replace(WORK, left=20 - n / SHOWS, level=1 - n / SHOWS / 20) for n in range(seconds * SHOWS)]
    sent = [stage.show(view) for view in views]
    assert seconds <= sum(map(bool, sent)) <= seconds / REDRAW + 1
    stage.show(views[-1], after=REDRAW)
    assert stage.lines() == read(views[-1], 80, 24)


def test_a_view_that_changes_nothing_sends_nothing(stage: Stage) -> None:
    assert stage.show(WORK)
    assert not any(stage.show(replace(WORK, at=65 + n / 1000)) for n in range(5 * SHOWS))


@pytest.mark.parametrize(
    "change",
    [
        {"call": "Slip left"}, {"state": "paused"}, {"message": "Last part."}, {"part": 3}, {"volume": 9},
        {"following": "jab"}, {"kind": "rest"}, {"hands": "right"}, {"told": "Skipping"},
    ],
)  # fmt: skip
def test_a_change_of_words_is_drawn_at_once(stage: Stage, change: dict[str, object]) -> None:
    stage.show(WORK)
    view = replace(WORK, **change)  # type: ignore[arg-type]
    assert stage.show(view, after=0.001)
    assert stage.lines() == read(view, 80, 24)


def test_only_the_rows_that_change_are_sent(stage: Stage) -> None:
    whole = stage.show(WORK)
    part = stage.show(replace(WORK, left=40.0), after=REDRAW)
    assert "0:40" in part
    assert len(part) < len(whole) / 10


def test_another_size_is_drawn_anew_at_once(stage: Stage) -> None:
    stage.show(WORK)
    for size in ((120, 40), (40, 12), (1, 1), (80, 24)):
        stage.console.size = size
        assert stage.show(WORK).startswith("\x1b[2J")
        assert stage.lines() == read(WORK, *size)


def test_after_being_held_everything_is_drawn_again_over_what_others_wrote(stage: Stage) -> None:
    stage.show(WORK)
    stage.out.write("\x1b[H[1]+  Stopped\r\n$ fg\r\n")
    stage.show(WORK, after=5.0)
    assert stage.lines() == read(WORK, 80, 24)


def test_the_terminal_is_given_back_whatever_happens_and_the_last_words_stay() -> None:
    stage = Stage()
    view = replace(WORK, message="Paused. [bold]Space[/bold] goes on.", call="Jab :boom: [red]cross")

    def interrupted() -> None:
        with stage.screen:
            stage.show(view)
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        interrupted()
    after = stage.out.getvalue().rpartition("\x1b[?1049l")[2]
    assert after.replace("\x1b[?25h", "").splitlines() == [
        "1:05  Jab :boom: [red]cross (left · right)",
        "Paused. [bold]Space[/bold] goes on.",
    ]


class Gone(io.StringIO):
    """A terminal whose window was closed."""

    gone = False

    def write(self, text: str) -> int:
        if self.gone:
            raise OSError(5, "Input/output error")
        return super().write(text)


def test_a_window_that_was_closed_is_no_error() -> None:
    out = Gone()
    with TideScreen(Console(file=out, force_terminal=True, width=80, height=24)) as screen:
        screen.show(WORK)
        out.gone = True
        screen.show(replace(WORK, call="Slip left"))


def test_without_colours_none_are_sent(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    out = io.StringIO()
    console = Console(file=out, force_terminal=True, color_system="truecolor", width=80, height=24)
    with TideScreen(console) as screen:
        screen.show(WORK)
        assert not [code for code in ("[38", "[48", ";38", ";48") if f"\x1b{code}" in out.getvalue()]
        assert [line.rstrip() for line in seen(out.getvalue(), 80, 24).display] == read(WORK, 80, 24)
    assert screen._inks is OWN


PROGRAM = """
import os, sys, time
sys.path.insert(0, "tests")
from test_player_tide import WORK
from cornercue.player.terminal import TideScreen
with TideScreen() as screen:
    until = time.monotonic() + 20
    while os.get_terminal_size() != (60, 20) and time.monotonic() < until:
        screen.show(WORK)
        time.sleep(0.02)
    screen.show(WORK)
    sys.stdin.readline()
"""


def test_a_real_terminal_is_followed_as_it_is_resized_and_left_as_it_was() -> None:
    ours, theirs = pty.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
    env = {name: value for name, value in os.environ.items() if name not in ("COLUMNS", "LINES", "NO_COLOR")}
    program = subprocess.Popen(
        [sys.executable, "-c", PROGRAM],
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
        env=env | {"TERM": "xterm-256color"},
    )
    screen = pyte.Screen(80, 24)
    stream = pyte.ByteStream(screen)

    def wait_for(lines: list[str]) -> None:
        until = time.monotonic() + 20
        while [line.rstrip() for line in screen.display] != lines:
            assert time.monotonic() < until, screen.display
            if select.select([ours], [], [], 0.1)[0]:
                stream.feed(os.read(ours, 65536))

    try:
        wait_for(read(WORK, 80, 24))
        assert screen.cursor.hidden
        assert pyte.modes.DECAWM not in screen.mode
        screen.resize(20, 60)
        fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 20, 60, 0, 0))
        wait_for(read(WORK, 60, 20))
        os.write(ours, b"\n")
        assert program.wait(20) == 0
        rest = os.read(ours, 65536)
        stream.feed(rest)
        assert b"\x1b[?1049l" in rest
        assert not screen.cursor.hidden
        assert pyte.modes.DECAWM in screen.mode
        assert rest.decode().rstrip().endswith("1:05  Jab, cross (left · right)")
    finally:
        program.kill()
        program.wait()
        os.close(ours)
        os.close(theirs)
