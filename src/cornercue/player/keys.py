"""Single keys from the terminal, without Enter, as what they mean."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from types import MappingProxyType
from typing import Literal, Protocol

Command = Literal["pause", "back", "on", "again", "louder", "softer", "quit"]

MEANING = MappingProxyType[str, Command](
    {
        " ": "pause",
        "r": "again",
        "q": "quit",
        "\x1b[D": "back",
        "\x1b[C": "on",
        "\x1b[A": "louder",
        "\x1b[B": "softer",
    }
)
"""What the keys mean: the page's own, with the arrows as a terminal sends them (ECMA-48, CUB, CUF, CUU and CUD)."""

HUNG_UP = "q"
"""What a terminal that is gone stands for: nobody can press a key any more."""


class Keys(Protocol):
    """Where commands come from."""

    def read(self, wait: float) -> Command | None:
        """The next command; None where none comes within `wait` seconds."""


class NoKeys:
    """Without a terminal there are none."""

    def read(self, wait: float) -> Command | None:
        time.sleep(wait)
        return None


def meaning(typed: str) -> tuple[Command | None, str]:
    """What the first key of `typed` means (None: nothing), and what was typed after it.

    Terminals in "application mode" send `ESC O` for `ESC [`.
    """
    plain = typed.replace("\x1bO", "\x1b[", 1) if typed.startswith("\x1bO") else typed
    if plain.startswith("\x1b["):
        end = next((at for at, sign in enumerate(plain[2:], 3) if "@" <= sign <= "~"), len(plain))
        return MEANING.get(plain[:end]), plain[end:]
    return MEANING.get(plain[:1].lower()), plain[1:]


@contextmanager
def keys() -> Iterator[Keys]:
    """The keys of standard input where it is a terminal, which is left as it was found."""
    if not sys.stdin or not sys.stdin.isatty():
        yield NoKeys()
    elif sys.platform == "win32":
        yield _Console()
    else:
        import termios
        import tty

        fd = sys.stdin.fileno()
        found = termios.tcgetattr(fd)
        try:
            tty.setcbreak(fd)
            yield _Terminal(fd)
        finally:
            termios.tcsetattr(fd, termios.TCSAFLUSH, found)


class _Terminal:
    """A terminal of POSIX, in cbreak mode: keys come at once, Ctrl-C is a signal as ever."""

    def __init__(self, fd: int) -> None:
        self._fd = fd
        self._typed = ""

    def read(self, wait: float) -> Command | None:
        import select

        if not self._typed and select.select([self._fd], [], [], wait)[0]:
            try:
                self._typed = os.read(self._fd, 64).decode("utf-8", "replace") or HUNG_UP
            except OSError:
                self._typed = HUNG_UP
        command, self._typed = meaning(self._typed)
        return command


class _Console:
    """The console of Windows, which sends an arrow as two signs."""

    ARROWS = MappingProxyType({"K": "\x1b[D", "M": "\x1b[C", "H": "\x1b[A", "P": "\x1b[B"})

    def read(self, wait: float) -> Command | None:
        import msvcrt

        console = msvcrt.__dict__
        until = time.monotonic() + wait
        while not console["kbhit"]():
            if time.monotonic() >= until:
                return None
            time.sleep(0.01)
        sign = console["getwch"]()
        typed = self.ARROWS.get(console["getwch"](), "") if sign in "\x00\xe0" else sign
        return meaning(typed)[0] if typed else None
