"""A drill line by line, for a pipe, a log or a screen reader: each cue's words as they become current."""

from __future__ import annotations

import errno
import os
import sys
from types import MappingProxyType
from typing import TextIO

from cornercue.durations import clock
from cornercue.player.letters import printable
from cornercue.player.view import State, View

NOBODY_READS = 141
"""The exit code where whoever read the lines went away: what a shell reports of a program that SIGPIPE ended."""

STATES = MappingProxyType[State, str](
    {
        "playing": "Goes on.",
        "counting in": "Goes on.",
        "paused": "Paused.",
        "waiting": "Waiting.",
        "ended": "The end.",
    }
)
"""What is printed where a drill comes into a state, unless a message says it better."""

GOING = frozenset[State]({"playing", "counting in"})


class PlainScreen:
    """Prints what changes, and flushes after every line. Where nobody reads any more it raises `SystemExit`."""

    def __init__(self, stream: TextIO | None = None) -> None:
        """`stream` is standard output unless another is given."""
        self._stream = stream or sys.stdout
        self._last: View | None = None

    def __enter__(self) -> PlainScreen:
        return self

    def __exit__(self, *_: object) -> None:
        """Nothing to tidy up: every line is out already."""

    def show(self, view: View) -> None:
        """Print what this moment has that the last one had not."""
        last, self._last = self._last, view
        for line in changes(last, view):
            self._say(line)

    def _say(self, line: str) -> None:
        coding = self._stream.encoding or "utf-8"
        try:
            self._stream.write(line.encode(coding, "replace").decode(coding) + "\n")
            self._stream.flush()
        except OSError as fault:
            if fault.errno not in (errno.EPIPE, errno.EINVAL):  # Windows calls a closed pipe an invalid one.
                raise
            self._give_up()

    def _give_up(self) -> None:
        """End the program as a closed pipe ends others: quietly. What Python flushes at its end goes nowhere."""
        os.dup2(os.open(os.devnull, os.O_WRONLY), self._stream.fileno())
        raise SystemExit(NOBODY_READS)


def changes(last: View | None, view: View) -> list[str]:
    """The lines that tell what is new since the last view; all of it where there was none."""
    lines = []
    if last is None or view.part != last.part:
        lines.append(part_line(view))
    if _begun(last, view):
        lines.append(cue_line(view))
    if view.message and (last is None or view.message != last.message):
        lines.append(printable(view.message))
    elif _turned(last, view):
        lines.append(STATES[view.state])
    return lines


def part_line(view: View) -> str:
    """ "Part 2 of 5 · Set 1 of 3 · Push-ups"."""
    return " · ".join(filter(None, (f"Part {view.part} of {view.parts}", printable(view.told))))


def cue_line(view: View) -> str:
    """ "1:05  Jab, cross (left · right)"."""
    hands = printable(view.hands)
    return f"{clock(int(view.at))}  {printable(view.call)}" + (f" ({hands})" if hands else "")


def _begun(last: View | None, view: View) -> bool:
    """Whether another cue has become current; before the first there is none."""
    if view.begun is None:
        return False
    return last is None or (last.part, last.begun, last.call) != (view.part, view.begun, view.call)


def _turned(last: View | None, view: View) -> bool:
    """Whether there is a new state to tell of; playing is one only after a halt."""
    before: State = last.state if last else "playing"
    return view.state != before and not {before, view.state} <= GOING
