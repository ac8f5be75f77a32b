"""What a script asks for at each of the levels."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Generic, TypeVar

MAX_LEVEL = 10
"""Ten levels: as many as there are grades below the first black belt in most schools that count them (common practice,
no source), so that what a script asks for can be looked through from its first level to the last."""

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class ByLevel(Generic[T]):
    """Values, each with the level from which it holds, the lowest first; the first one holds below its level too."""

    rows: tuple[tuple[int, T], ...]

    def at(self, level: int) -> T:
        """What is asked of a student of this level."""
        return [value for first, value in self.rows if first <= max(level, self.rows[0][0])][-1]


def always(value: T) -> ByLevel[T]:
    """The same at every level."""
    return ByLevel(((1, value),))


def evenly(first: int, last: int) -> ByLevel[int]:
    """So much at the first level and so much at the last; evenly more in between."""
    step = (last - first) / (MAX_LEVEL - 1)
    return ByLevel(tuple((level, first + round(step * (level - 1))) for level in range(1, MAX_LEVEL + 1)))
