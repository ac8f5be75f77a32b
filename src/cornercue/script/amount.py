"""How many repetitions a script asks for at each of the levels."""

from __future__ import annotations

from dataclasses import dataclass

MAX_LEVEL = 10
"""Ten levels: as many as there are grades below the first black belt in most schools that count them (common practice,
no source), so that what a script asks for can be looked through from its first level to the last."""

MAX_REPS = 500
"""Repetitions in a set at any level."""


@dataclass(frozen=True, slots=True)
class Amount:
    """So many repetitions at the first level and so many at the last; evenly more in between."""

    first: int
    last: int

    def at(self, level: int) -> int:
        """The repetitions asked of a student of this level."""
        return self.first + round((self.last - self.first) * (level - 1) / (MAX_LEVEL - 1))
