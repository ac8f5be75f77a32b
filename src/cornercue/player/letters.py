"""Words as large type in a terminal, drawn with quarter blocks; plain text where type would be too small to read."""

from __future__ import annotations

import re
from functools import lru_cache
from math import sqrt
from typing import TYPE_CHECKING

from cornercue.printable import printable

if TYPE_CHECKING:
    from PIL.ImageFont import FreeTypeFont, ImageFont

    Font = FreeTypeFont | ImageFont

QUARTERS = " ▘▝▀▖▌▞▛▗▚▐▜▄▙▟█"
"""By which quarters of a cell are ink: 1 upper left, 2 upper right, 4 lower left, 8 lower right."""

SMALLEST = 16
"""The smallest type that is drawn, in quarters across an em. Looked at: below it, "e" and "a" fill up."""

PITCH = 0.96
"""From one line to the next, in em."""

INK = 88
"""The shade, of 255, above which a quarter is ink."""

_MEASURED = 64
"""The size at which letters are measured; they are drawn at any."""

_ALIKE = str.maketrans({"–": "-", "—": "-", "−": "-", "×": "x", "‘": "'"})


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
    """How much is added to the right of each stroke, so that it reads from across the room.

    Nothing is added above or below: there the gaps, as under the dot of an "i", are a quarter or two.
    """
    return size // 28


def _step(sign: str, size: int) -> int:
    """Whole quarters from one letter to the next, so that a letter looks the same wherever it stands."""
    return round((_advance(sign) or 0) * size) + _bold(size)


def _wide(words: str, size: int) -> int:
    return sum(_step(sign, size) for sign in words)


def _type(text: str, columns: int, rows: int) -> tuple[str, ...]:
    """The words as large type; nothing if it were too small or the font lacks a letter."""
    if 4 * rows < SMALLEST or 2 * columns < SMALLEST or any(_advance(sign) is None for sign in set(text)):
        return ()
    words, room = text.split(" "), 2 * columns - 2
    wide = [sum(_advance(sign) or 0 for sign in word) for word in words]
    largest = min(6 * rows, int(room / max(*wide, 0.1)), _fitting(sum(wide) / room, 4 * rows))
    for size in range(largest, SMALLEST - 1, -1):
        lines = _even(words, size, room)
        if lines and len(lines) * size * PITCH <= 4 * rows + size and (drawn := _drawn(lines, size, columns, rows)):
            return drawn
    return ()


def _fitting(lines: float, room: int) -> int:
    """No type larger than this fits: at size s the words take at least `lines` x s lines of s x `PITCH`.

    The last line may stand out by s, for what `_drawn` finds empty above and below.
    """
    return int((1 + sqrt(1 + 4 * PITCH * lines * room)) / (2 * PITCH * lines)) if lines else 6 * room


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
    """The lines in quarter blocks; nothing if they need more rows.

    A quarter is twice as high as wide, so the letters are drawn at twice the height and then pressed together.
    """
    from PIL import Image, ImageChops, ImageDraw

    font, bold, pitch = _font(size), _bold(size), 2 * round(size * PITCH / 2)
    boxes = [font.getbbox(line, anchor="ls") for line in lines]
    above = 2 * -(int(min(box[1] + pitch * at for at, box in enumerate(boxes))) // 2)
    tall = -(-(above + max(pitch * at + int(box[3]) for at, box in enumerate(boxes))) // 4)
    if not 0 < tall <= rows:
        return ()
    image = Image.new("L", (2 * columns, 4 * tall))
    pen = ImageDraw.Draw(image)
    for index, line in enumerate(lines):
        x = (2 * columns - _wide(line, size)) // 2
        for sign in line:
            pen.text((x, above + index * pitch), sign, 255, font, anchor="ls")
            x += _step(sign, size)
    for _ in range(bold):
        image = ImageChops.lighter(image, ImageChops.offset(image, 1, 0))
    pressed = image.resize((2 * columns, 2 * tall), Image.Resampling.BOX)
    shades, wide = pressed.tobytes(), 2 * columns
    shown = ["".join(" #"[shade > INK] for shade in shades[at : at + wide]) for at in range(0, len(shades), wide)]
    return _quarters(_flattened(shown) if bold else shown)


def _flattened(rows: list[str]) -> list[str]:
    """Without the bumps of round letters: drawn a little beyond the lines, they look as high as the others.

    In quarters such a bit is a row of its own, much narrower than the next one: an "s" would read as a "$".
    """
    around = ["", *rows, ""]
    flat = []
    for above, row, below in zip(around, rows, around[2:], strict=False):
        for run in re.finditer("#+", row):
            if _bump(*run.span(), above, below):
                row = row[: run.start()] + " " * len(run[0]) + row[run.end() :]
        flat.append(row)
    return flat


def _bump(start: int, end: int, above: str, below: str) -> bool:
    """Whether ink from `start` to `end` only sticks out of a run of ink beside it, three times as long or more."""
    for free, other in ((above, below), (below, above)):
        if "#" not in free[max(start - 1, 0) : end + 1]:
            runs = (run.span() for run in re.finditer("#+", other))
            return any(left < start and end < right and 3 * (end - start) <= right - left for left, right in runs)
    return False


def _quarters(rows: list[str]) -> tuple[str, ...]:
    """Cells from rows of quarters, two by two a cell."""
    return tuple(
        "".join(
            QUARTERS[sum(1 << bit for bit, sign in enumerate(upper[at : at + 2] + lower[at : at + 2]) if sign == "#")]
            for at in range(0, len(upper), 2)
        )
        for upper, lower in zip(rows[::2], rows[1::2], strict=True)
    )
