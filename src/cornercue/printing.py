"""The one way to a terminal, a pipe or a log: every line that a command prints goes through here.

What cannot be printed ends the program with a sentence and an exit code, never with a traceback.
"""

from __future__ import annotations

import errno
import os
import sys
from contextlib import suppress
from typing import TextIO

from cornercue.errors import MachineLacks, PrintFault
from cornercue.printable import visible

NOBODY_READS = 141
"""The exit code where whoever read the lines went away: what a shell reports of a program that SIGPIPE ended."""

_CLOSED = (errno.EPIPE, errno.EINVAL)
"""What a closed pipe answers; Windows calls it an invalid one."""


def say(text: object = "", *, err: bool = False, end: str = "\n") -> None:
    """Prints to standard output, or with `err` to standard error; what a terminal might obey is made visible.

    Standard output that takes nothing raises `PrintFault`, and `SystemExit` where nobody reads it. Standard error
    that takes nothing is left alone: the exit code still tells.
    """
    if err:
        with suppress(PrintFault, SystemExit):
            put(sys.stderr, visible(str(text)) + end)
    else:
        put(sys.stdout, visible(str(text)) + end)


def say_exactly(text: str, otherwise: str) -> None:
    """Prints a text that will be read back. Where signs would be lost, a `PrintFault` says what to do `otherwise`."""
    if not _holds(text):
        raise PrintFault(f"Standard output takes {sys.stdout.encoding}, which lacks signs of this text: {otherwise}.")
    say(text, end="")


def say_data(data: object, indent: int = 1) -> None:
    """Prints plain values as JSON, which keeps its meaning in any encoding. Raises what `say` raises."""
    import json

    text = json.dumps(data, ensure_ascii=False, indent=indent)
    say(text if _holds(text) else json.dumps(data, indent=indent))


def _holds(text: str) -> bool:
    """Whether standard output's encoding has every sign that is printed of this text."""
    try:
        visible(text).encode((sys.stdout and sys.stdout.encoding) or "utf-8")
    except UnicodeEncodeError:
        return False
    return True


def put(stream: TextIO | None, text: str) -> None:
    """Writes to a stream at once. Signs that its encoding lacks become question marks.

    Raises `PrintFault` where it takes nothing and `SystemExit` where nobody reads it.
    """
    if stream is None:  # as Python has it where the program was started with a closed one
        raise PrintFault("Nothing can be printed: standard output is closed.")
    coding = stream.encoding or "utf-8"
    try:
        stream.write(text.encode(coding, "replace").decode(coding))
        stream.flush()
    except OSError as fault:
        _give_up(stream)
        if fault.errno in _CLOSED:
            raise SystemExit(NOBODY_READS) from None
        raise PrintFault(f"Nothing more can be printed: {_reason(fault)}.") from fault


def end_of(fault: OSError) -> int:
    """The exit code of a program that meets what nobody explained, which is told on standard error."""
    try:
        sys.stdout.flush()
    except OSError:
        _give_up(sys.stdout)
    if fault.errno == errno.EPIPE:
        return NOBODY_READS
    about = f"{fault.filename}: " if fault.filename else ""
    say(f"{about}{_reason(fault)}.", err=True)
    return MachineLacks.exit_code


def _reason(fault: OSError) -> str:
    if fault.errno in (errno.ENOSPC, errno.EDQUOT):
        return "there is no room left on the disk"
    return fault.strerror or str(fault)


def _give_up(stream: TextIO) -> None:
    """What Python still flushes at its end goes nowhere, without a word."""
    with suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
