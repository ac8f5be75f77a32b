"""Keeps the tide up to date on a terminal: draws what has changed, seldom enough to cost next to nothing."""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import replace
from types import TracebackType

from rich.console import Console
from rich.control import Control
from rich.segment import Segments

from cornercue.player.plain import cue_line
from cornercue.player.tide import DARK, DARK_256, LIGHT, LIGHT_256, OWN, Inks, TextRow, picture
from cornercue.player.view import View
from cornercue.printable import printable

REDRAW = 0.2
"""Seconds between two redraws for time and water alone."""

HELD = 1.0
"""Seconds without a view after which others may have written on the screen: the program was held, as by Ctrl-Z."""

WRAP = "\x1b[?7h"
NO_WRAP = "\x1b[?7l"
"""Whether what is too long for a row goes on in the next (DECAWM, private mode 7 of the VT100; from memory).
Terminals do not agree on the width of every sign; without it a row that came out too long hurts no other."""


class TideScreen:
    """The whole terminal, on its alternate screen, as a context manager. The last words stay readable after it.

    A terminal that is gone is no error here: whoever reads the keys learns of it.
    """

    def __init__(self, console: Console | None = None, clock: Callable[[], float] = time.monotonic) -> None:
        """`console` is standard output unless another is given."""
        self._console = console or Console()
        self._clock = clock
        self._inks = inks_for(self._console, os.environ)
        self._whole = self._console.screen(hide_cursor=True)
        self._rows: list[TextRow] = []
        self._size = (0, 0)
        self._urgent: View | None = None
        self._last: View | None = None
        self._drawn = self._asked = -HELD

    def __enter__(self) -> TideScreen:
        self._whole.__enter__()
        self._code(NO_WRAP)
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        with suppress(OSError):
            self._code(WRAP)
            self._whole.__exit__(kind, error, trace)
            if self._last:
                words = [cue_line(self._last), *filter(None, [printable(self._last.message)])]
                self._console.print("\n".join(words), markup=False, emoji=False, highlight=False, soft_wrap=True)

    def show(self, view: View) -> None:
        """Draw what this moment changes: words, state and loudness at once, time and water when they are due."""
        now, size = self._clock(), self._console.size
        asked, self._asked, self._last = self._asked, now, view
        held = now - asked >= HELD
        urgent = replace(view, at=0.0, left=None, level=0.0)
        if urgent == self._urgent and size == self._size and not held and now - self._drawn < REDRAW:
            return
        before = self._rows if size == self._size and not held else []
        rows = picture(view, *size, self._inks)
        self._drawn, self._urgent, self._size, self._rows = now, urgent, size, rows
        self._write(before, rows)

    def _write(self, before: list[TextRow], rows: list[TextRow]) -> None:
        """Write the rows that differ; all of them on a cleared screen where there were none before."""
        parts = [] if before else [Control.clear().segment]
        for y, row in enumerate(rows):
            if not before or row != before[y]:
                parts += [Control.move_to(0, y).segment, *row]
        with suppress(OSError):
            if parts:
                self._console.print(Segments(parts), end="", crop=False)

    def _code(self, code: str) -> None:
        if self._console.is_alt_screen:
            self._console.file.write(code)
            self._console.file.flush()


def inks_for(console: Console, environ: Mapping[str, str]) -> Inks:
    """The tide's own colours where the terminal shows them as they are meant, else the terminal's two.

    Which of them: COLORFGBG, "foreground;background" as several terminals set it, names a light ground by 7 or by
    9 to 15 of the sixteen colours (from memory). Dark where nothing is said.
    """
    if console.no_color or console.color_system not in ("256", "truecolor"):
        return OWN
    ground = environ.get("COLORFGBG", "").rpartition(";")[2]
    light, dark = (LIGHT, DARK) if console.color_system == "truecolor" else (LIGHT_256, DARK_256)
    return light if ground in {"7", *map(str, range(9, 16))} else dark
