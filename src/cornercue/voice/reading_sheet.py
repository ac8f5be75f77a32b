"""The reading sheet: the phrases that an instructor records, as numbered lines, and back again."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType

from cornercue.errors import InputFault
from cornercue.voice.words import plain

MOST_LINES = 2000
"""Phrases of the longest sheet; the whole library of drills needs about 500."""

LARGEST = 1_000_000
"""Bytes of the largest sheet that is read."""

HOW = """\
# Reading sheet
#
# Find a quiet room with soft furniture. Lay the phone at arm's length and leave it there.
# Start the recorder and read the lines in order, as you would call them in the hall; not the numbers, and
# not the lines that begin with #. What stands in [ ] is only how the line is said.
# Shut your mouth for about a second after every line.
# A slip? Wait a second and say the whole line again: the last one counts.
# Save the recording as WAV, FLAC, Ogg or MP3.
"""

_LINE = re.compile(r"(\d{1,5})[.)]\s+(.*?\S)\s*(?:\[(.*)\]\s*)?")
"""Number, phrase and, in brackets, which no plain phrase has, how it is said."""


@dataclass(frozen=True, slots=True)
class SheetLine:
    """One phrase of a sheet; `number` is the one printed before it. `said` is how it is said, if not as written."""

    number: int
    text: str
    said: str | None = None

    @property
    def aloud(self) -> str:
        """What another voice is given to say the same."""
        return self.said or self.text


def spoken_key(text: str) -> str:
    """The bare words: phrases that differ only in capitals and signs are read aloud, and kept, once."""
    return " ".join(re.findall(r"[^\W_]+(?:['’][^\W_]+)*", plain(text).casefold()))


def each_once(texts: Iterable[str]) -> list[str]:
    """The phrases in order, without those that would be read aloud alike."""
    first: dict[str, str] = {}
    for text in texts:
        first.setdefault(spoken_key(text), text)
    return list(first.values())


def sheet_of(groups: Iterable[tuple[str, Iterable[str]]], said: Mapping[str, str] = MappingProxyType({})) -> str:
    """The sheet's text; a group is a heading and its phrases. No phrase comes twice.

    `said` has the phrases that are not said as they are written.
    """
    lines, seen = [HOW.rstrip()], set[str]()
    number = 0
    for heading, texts in groups:
        fresh = [text for text in each_once(texts) if spoken_key(text) not in seen]
        seen |= {spoken_key(text) for text in fresh}
        if fresh:
            lines.append(f"\n# {heading}\n")
        for text in fresh:
            number += 1
            lines.append(f"{number}. {plain(text)}{f' [{plain(said[text])}]' if text in said else ''}")
    return "\n".join(lines) + "\n"


def sheet_lines(text: str) -> tuple[SheetLine, ...]:
    """The phrases of a sheet. Raises InputFault at the first line that is none."""
    lines = tuple(_lines(text))
    if not lines:
        raise InputFault("The sheet has no phrases: its lines look like `1. jab`. `cornercue voice sheet` writes one.")
    return lines


def _lines(text: str) -> Iterator[SheetLine]:
    before, seen = 0, dict[str, int]()
    for at, written in enumerate(text.splitlines(), 1):
        if not written.strip() or written.lstrip().startswith("#"):
            continue
        found = _LINE.fullmatch(written.strip())
        if not found:
            raise InputFault(f"Line {at} of the sheet is no phrase: “{written.strip()[:60]}”; write it as `1. jab`.")
        line = SheetLine(int(found[1]), plain(found[2]), plain(found[3]) if (found[3] or "").strip() else None)
        if line.number <= before:
            raise InputFault(f"Line {at} of the sheet has the number {line.number} after {before}: numbers must rise.")
        twin = seen.setdefault(spoken_key(line.text), line.number)
        if twin != line.number:
            raise InputFault(f"“{line.text}” stands in the sheet twice, as {twin} and {line.number}: delete one.")
        if len(seen) > MOST_LINES:
            raise InputFault(f"The sheet has more than {MOST_LINES} phrases: record it in parts.")
        before = line.number
        yield line


def read_sheet(path: Path) -> tuple[SheetLine, ...]:
    """The phrases of a sheet's file. Raises InputFault."""
    try:
        with path.open("rb") as file:
            content = file.read(LARGEST + 1)
    except OSError as fault:
        raise InputFault(f"{path}: the sheet cannot be read ({fault.strerror}).") from None
    if len(content) > LARGEST:
        raise InputFault(f"{path} is too large for a reading sheet.")
    try:
        return sheet_lines(content.decode("utf-8-sig"))
    except UnicodeDecodeError:
        raise InputFault(f"{path} is not text: give the sheet that `cornercue voice sheet` wrote.") from None
    except InputFault as fault:
        raise InputFault(f"{path}: {fault}") from None
