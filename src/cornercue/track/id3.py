"""The bytes of an ID3v2.3 tag: a title and chapters, and the tag put before the sound of an MP3 file.

ID3v2.3.0 (M. Nilsson, 1999), sections 3 and 4.2.1; the chapters are of the ID3v2 Chapter Frame Addendum 1.0
(C. Newell, 2005). Version 2.3 is the one that older players know as well. Unsynchronisation is left out, as the
standard allows: whoever reads the tag's size skips the tag whole.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from cornercue.errors import InputFault

MOST_BYTES = (1 << 28) - 1
"""A tag's size has four bytes of seven bits each."""

MOST_CHILDREN = 255
"""Chapters of a table of contents: its count is one byte."""

IGNORED = b"\xff" * 8
"""Byte offsets of a chapter's start and end that tell the reader to go by the time."""

UTF_16, LITTLE_ENDIAN, END = b"\x01", b"\xff\xfe", b"\0\0"
"""Version 2.3 knows no UTF-8. The text's end may be marked, and some readers need the mark."""

TOP_LEVEL, ORDERED = 2, 1

MOVED = 1 << 20
"""Bytes of a file that are moved at a time."""


def title(text: str) -> bytes:
    """The frame of a title, of the file or of a chapter; what would end a text, or is no sign, is replaced."""
    words = text.replace("\0", " ").encode("utf-16-le", "replace")
    return _frame(b"TIT2", UTF_16 + LITTLE_ENDIAN + words + END)


def contents(names: Sequence[str]) -> bytes:
    """The frame of the one table of contents: the names of the chapters in order, `MOST_CHILDREN` at most."""
    listed = b"".join(_name(name) for name in names)
    return _frame(b"CTOC", _name("toc") + bytes([TOP_LEVEL | ORDERED, len(names)]) + listed)


def chapter(name: str, start: int, end: int, text: str) -> bytes:
    """The frame of a chapter with its title, from and to these milliseconds."""
    return _frame(b"CHAP", _name(name) + start.to_bytes(4) + end.to_bytes(4) + IGNORED + title(text))


def tag(frames: Sequence[bytes]) -> bytes:
    """The whole tag. Raises InputFault for one that is larger than tags can be."""
    size = sum(map(len, frames))
    if size > MOST_BYTES:
        raise InputFault(f"The titles come to {size / 1e6:.0f} MB, more than an MP3 file can hold; shorten them.")
    sevens = bytes(size >> shift & 0x7F for shift in (21, 14, 7, 0))
    return b"".join([b"ID3\x03\x00\x00", sevens, *frames])


def put_before(path: Path, head: bytes) -> None:
    """The bytes before what the file holds, which is moved on from its end, a part at a time. Raises OSError."""
    with path.open("r+b") as file:
        size = file.seek(0, 2)
        for start in reversed(range(0, size, MOVED)):
            file.seek(start)
            part = file.read(MOVED)
            file.seek(start + len(head))
            file.write(part)
        file.seek(0)
        file.write(head)


def _frame(kind: bytes, body: bytes) -> bytes:
    """A frame without flags; its size, unlike the tag's, is a plain number."""
    return kind + len(body).to_bytes(4) + b"\0\0" + body


def _name(text: str) -> bytes:
    """How one frame calls another; nobody is shown it."""
    return text.encode("ascii") + b"\0"
