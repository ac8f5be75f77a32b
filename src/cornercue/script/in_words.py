"""What the lines on paper have in common: combinations, sets and rests in words."""

from __future__ import annotations

from collections.abc import Iterable

from cornercue.durations import lasting
from cornercue.technique.move import Move


def named(moves: Iterable[Move]) -> str:
    """A combination in words: as written, else by lead and rear."""
    return ", ".join(move.name for move in moves)


def sets_before(sets: int) -> str:
    """How often, before what is done: "3 × "; nothing for one set."""
    return f"{sets} × " if sets > 1 else ""


def rest_between(rest: float | None, sets: int = 1) -> str:
    """The rest, after what is done: ", rest 30 s between"; of several sets there is always one."""
    if rest:
        return f", rest {lasting(rest)} between"
    return ", a rest between" if sets > 1 else ""
