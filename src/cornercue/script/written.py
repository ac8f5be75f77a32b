"""Text of a script that knows where it stands, so that what is found in a word can be told at the word."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Self

Position = tuple[int, int]
"""A line and a column, from 1."""


class Written(str):
    """A text as any other, with the place of its first letter; `in_one_line` where the script has it so."""

    at: Position
    in_one_line: bool

    def __new__(cls, text: str, at: Position, in_one_line: bool = True) -> Self:
        new = super().__new__(cls, text)
        new.at, new.in_one_line = at, in_one_line
        return new

    def parts(self, separator: str) -> Iterator[Written]:
        """What stands between the separators, without the blanks around it, each at its own place."""
        start = 0
        for part in self.split(separator):
            column = start + len(part) - len(part.lstrip())
            line, first = self.at
            yield Written(part.strip(), (line, first + column) if self.in_one_line else self.at, self.in_one_line)
            start += len(part) + len(separator)


def parted(text: str, separator: str) -> list[str]:
    """A text split, without the blanks around its parts; those of a script keep their places."""
    if isinstance(text, Written):
        return list(text.parts(separator))
    return [part.strip() for part in text.split(separator)]


def place_of(value: object) -> Position | None:
    """Where a value of a script stands, if it is text; of a mapping, where its first key does."""
    if isinstance(value, dict):
        return place_of(next(iter(value), None))
    return value.at if isinstance(value, Written) else None
