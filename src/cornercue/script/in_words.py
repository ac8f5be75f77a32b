"""What the lines on paper have in common: combinations, sets and rests in words."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from cornercue.durations import lasting
from cornercue.script.amount import ByLevel
from cornercue.technique.move import Move


def named(moves: Iterable[Move]) -> str:
    """A combination in words: as written, else by lead and rear."""
    return ", ".join(move.name for move in moves)


def listed_sets(reps: Sequence[int]) -> str:
    """The repetitions of each set: "8", "3 × 8" or "10, 8, 6"."""
    return _of_sets([str(one) for one in reps])


def listed_times(seconds: Sequence[float]) -> str:
    """The seconds of each set: "30 s", "3 × 30 s" or "40 s, 30 s, 20 s"."""
    return _of_sets([lasting(one) for one in seconds])


def _of_sets(sets: list[str]) -> str:
    if len(set(sets)) > 1:
        return ", ".join(sets)
    return f"{len(sets)} × {sets[0]}" if len(sets) > 1 else sets[0]


def rest_between(rest: ByLevel[float] | None, level: int, sets: int = 1) -> str:
    """The rest, after what is done: ", rest 30 s between"; of several sets there is always one."""
    if rest:
        return f", rest {lasting(rest.at(level))} between"
    return ", a rest between" if sets > 1 else ""
