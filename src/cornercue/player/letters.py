"""Words as large type in a terminal, drawn with quarter blocks; plain text where type would be too small to read."""

from __future__ import annotations

import unicodedata
from functools import lru_cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PIL.ImageFont import FreeTypeFont, ImageFont

    Font = FreeTypeFont | ImageFont

QUARTERS = " ▘▝▀▖▌▞▛▗▚▐▜▄▙▟█"
"""By which quarters of a cell are ink: 1 upper left, 2 upper right, 4 lower left, 8 lower right."""

SMALLEST = 16
"""The smallest type that is drawn, in quarters across an em. Looked at: below it, "e" and "a" fill up."""

PITCH = 0.96
"""From one line to the next, in em."""

_MEASURED = 64
"""The size at which letters are measured; they are drawn at any."""

_ALIKE = str.maketrans({"–": "-", "—": "-", "−": "-", "×": "x", "‘": "'"})
_UNSURE = frozenset("\ufe0e\ufe0f\U0001f3fb\U0001f3fc\U0001f3fd\U0001f3fe\U0001f3ff")
"""Signs that make the one before them wider on some terminals only: without them, all agree."""


def printable(text: str) -> str:
    """The text on one line, without anything that a terminal might obey or that has no certain width."""
    spaced = (" " if sign.isspace() else sign for sign in text)
    kept = (sign for sign in spaced if unicodedata.category(sign)[0] != "C" and sign not in _UNSURE)
    return unicodedata.normalize("NFC", " ".join("".join(kept).split()))


@lru_cache(maxsize=256)
def large(text: str, columns: int, rows: int) -> tuple[str, ...]:
    """The words as at most `rows` rows of exactly `columns` cells each, centred, as large as they fit.

    Plain wrapped text where that would be too small to read or where the font lacks a letter; what does not
    fit even so ends in "…". Nothing comes back for no words, or for no room.
    """
    words = printable(text)
    if not words or columns < 1 or rows < 1:
        return ()
    return _type(words.translate(_ALIKE), columns, rows) or tuple(
        centred(line, columns) for line in wrapped(words, columns, rows)
    )


def wrapped(text: str, columns: int, rows: int) -> list[str]:
    """Printable text in at most `rows` lines of at most `columns` cells; a word is broken only where it must be."""
    lines: list[str] = []
    for word in text.split(" "):
        if lines and cells(lines[-1]) + 1 + cells(word) <= columns:
            lines[-1] += f" {word}"
        else:
            lines += _pieces(word, columns)
        if len(lines) > rows:
            return [*lines[: rows - 1], _cut(lines[rows - 1], columns)]
    return lines


def shortened(text: str, columns: int) -> str:
    """Printable text in at most `columns` cells; "…" tells that the end is missing."""
    return text if cells(text) <= columns else _cut(text, columns)


def centred(text: str, columns: int) -> str:
    """Text of at most `columns` cells with spaces around it."""
    room = columns - cells(text)
    return " " * (room // 2) + text + " " * (room - room // 2)


def cells(text: str) -> int:
    """How many cells printable text takes: a Korean or Japanese sign takes two."""
    from rich.cells import cell_len

    return cell_len(text)


def _pieces(word: str, columns: int) -> list[str]:
    """A word in pieces of at most `columns` cells; a sign that is wider than that is told by "…"."""
    pieces, used = [""], 0
    for sign in word:
        wide = cells(sign)
        sign, wide = (sign, wide) if wide <= columns else ("…", 1)
        if used + wide > columns:
            pieces.append("")
            used = 0
        pieces[-1] += sign
        used += wide
    return pieces


def _cut(text: str, columns: int) -> str:
    return _pieces(text, columns - 1)[0].rstrip(" .,…") + "…" if columns > 1 else "…" * columns


# ---- type


@lru_cache(maxsize=64)
def _font(size: int) -> Font:
    from PIL import ImageFont

    return ImageFont.load_default(size)


@lru_cache(maxsize=1024)
def _advance(sign: str) -> float | None:
    """How far a letter takes the pen, in em. None if the font lacks it: it then draws what no code point has."""
    font = _font(_MEASURED)
    mask, lacking = font.getmask(sign), font.getmask("\U0010ffff")
    if mask.size == lacking.size and bytes(mask) == bytes(lacking):
        return None
    return font.getlength(sign) / _MEASURED


def _bold(size: int) -> int:
    """How much is added around each letter, so that it reads from across the room."""
    return round(size / 40)


def _step(sign: str, size: int) -> int:
    """Whole quarters from one letter to the next, so that a letter looks the same wherever it stands."""
    return round((_advance(sign) or 0) * size) + _bold(size)


def _wide(words: str, size: int) -> int:
    return sum(_step(sign, size) for sign in words)


def _type(text: str, columns: int, rows: int) -> tuple[str, ...]:
    """The words as large type; nothing if it were too small or the font lacks a letter."""
    if 4 * rows < SMALLEST or any(_advance(sign) is None for sign in set(text)):
        return ()
    words, room = text.split(" "), 2 * columns - 2
    widest = max(sum(_advance(sign) or 0 for sign in word) for word in words)
    for size in range(min(6 * rows, int(room / max(widest, 0.1))), SMALLEST - 1, -1):
        lines = _even(words, size, room)
        if len(lines) * size * PITCH <= 4 * rows + size and (drawn := _drawn(lines, size, columns, rows)):
            return drawn
    return ()


def _even(words: list[str], size: int, room: int) -> list[str]:
    """The words in the fewest lines that fit into `room` quarters, about equally long; nothing if one is too wide."""
    best: list[str] = []
    for limit in range(room, 0, -max(room // 12, 1)):
        lines = _filled(words, size, limit)
        if max(_wide(line, size) for line in lines) > limit or (best and len(lines) > len(best)):
            break
        best = lines
    return best


def _filled(words: list[str], size: int, limit: int) -> list[str]:
    lines = words[:1]
    for word in words[1:]:
        longer = f"{lines[-1]} {word}"
        if _wide(longer, size) <= limit:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def _drawn(lines: list[str], size: int, columns: int, rows: int) -> tuple[str, ...]:
    """The lines in quarter blocks; nothing if there are none or they need more rows.

    A quarter is twice as high as wide, so the letters are drawn at twice the height and then pressed together.
    """
    from PIL import Image, ImageDraw

    if not lines:
        return ()
    font, bold, pitch = _font(size), _bold(size), 2 * round(size * PITCH / 2)
    boxes = [font.getbbox(line, anchor="ls", stroke_width=bold) for line in lines]
    above = 2 * -(int(min(box[1] + pitch * at for at, box in enumerate(boxes))) // 2)
    tall = -(-(above + max(pitch * at + int(box[3]) for at, box in enumerate(boxes))) // 4)
    if not 0 < tall <= rows:
        return ()
    image = Image.new("L", (2 * columns, 4 * tall))
    pen = ImageDraw.Draw(image)
    for index, line in enumerate(lines):
        x = (2 * columns - _wide(line, size)) // 2
        for sign in line:
            pen.text((x, above + index * pitch), sign, 255, font, anchor="ls", stroke_width=bold)
            x += _step(sign, size)
    pressed = image.resize((2 * columns, 2 * tall), Image.Resampling.BOX)
    return _quarters(pressed.tobytes(), columns, tall, ink=112 if bold else 88)


def _quarters(grey: bytes, columns: int, tall: int, ink: int) -> tuple[str, ...]:
    """Cells from shades, two by two a cell; shades above `ink`, of 255, are ink."""
    on, wide = [shade > ink for shade in grey], 2 * columns
    return tuple(
        "".join(
            QUARTERS[on[at] + 2 * on[at + 1] + 4 * on[at + wide] + 8 * on[at + wide + 1]]
            for at in range(row, row + wide, 2)
        )
        for row in range(0, 2 * tall * wide, 2 * wide)
    )
