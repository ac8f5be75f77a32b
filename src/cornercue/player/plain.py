"""A drill line by line, for a pipe, a log or a screen reader: each cue's words as they become current."""

from __future__ import annotations

import sys
from types import MappingProxyType
from typing import TextIO

from cornercue.durations import clock
from cornercue.player.view import State, View
from cornercue.printable import printable
from cornercue.printing import put

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
    """Prints what changes, line by line, and raises what `put` raises."""

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
            put(self._stream, f"{line}\n")


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
