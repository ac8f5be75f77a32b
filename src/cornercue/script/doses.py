"""How much is asked for: repetitions, seconds, sets, rests and spacing, each as one value, set by set or by level."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Any, TypeVar

from pydantic import PlainValidator
from pydantic_core import PydanticCustomError

from cornercue.script.amount import MAX_LEVEL, ByLevel, always, evenly
from cornercue.script.described import described
from cornercue.script.fields import rest_of, seconds_of, wrong
from cornercue.script.slips import count_meant

MAX_REPS = 500
"""Repetitions in a set at any level."""

MAX_SETS = 20
"""Sets of one step."""

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Spacing:
    """Seconds from one repetition to the next: after the first one, and after the last; evenly between."""

    first: float
    last: float

    @property
    def least(self) -> float:
        """The shortest of them."""
        return min(self.first, self.last)

    def no_less_than(self, seconds: float) -> str:
        """As a script writes it, slower by as much as makes it at least so many seconds everywhere."""
        more = max(0.0, seconds - self.least)
        first, last = round(self.first + more, 1), round(self.last + more, 1)
        return f"{first:g} s" if first == last else f"{first:g} s {'down' if last < first else 'up'} to {last:g} s"

    def after_each(self, reps: int) -> tuple[float, ...]:
        """The seconds after each of so many repetitions."""
        step = (self.last - self.first) / max(1, reps - 1)
        return tuple(self.first + step * n for n in range(reps))


def set_by_set(values: tuple[T, ...], sets: int) -> tuple[T, ...]:
    """What each of the sets asks for: several values are as many sets; one holds for all."""
    return values if len(values) > 1 else values * sets


def one_number_of_sets(
    key: str, dose: ByLevel[tuple[int, ...]] | ByLevel[tuple[float, ...]] | None, with_sets: bool
) -> None:
    """Raises where a dose is told set by set, and the number of sets besides."""
    several = max((len(values) for _, values in dose.rows), default=1) if dose else 1
    if several > 1 and with_sets:
        raise wrong(f"the list under `{key}` tells {several} sets already; leave out `sets`")


def by_level(one: Callable[[object], T]) -> Callable[[object], ByLevel[T]]:
    """A reader of what `one` reads, or of a table by level: `{1: 6, 3: 10}` is 6 from level 1 on and 10 from 3 on."""

    def read(value: object) -> ByLevel[T]:
        if not isinstance(value, dict):
            return always(one(value))
        if not value:
            raise wrong("the table is empty; write for example `{1: 6, 3: 10}`")
        return ByLevel(tuple(sorted(_row(level, written, one) for level, written in value.items())))

    return read


def _row(written: object, value: object, one: Callable[[object], T]) -> tuple[int, T]:
    level = _level_of(written)
    try:
        return level, one(value)
    except PydanticCustomError as fault:
        raise wrong(f"at level {level}: {fault.message()}") from None


def _level_of(written: object) -> int:
    text = str(written).strip()
    if not re.fullmatch(r"\d{1,2}", text) or not 1 <= int(text) <= MAX_LEVEL:
        raise wrong(f"`{text}` is no level; a table has levels from 1 to {MAX_LEVEL}, such as `{{1: 6, 3: 10}}`")
    return int(text)


def several(one: Callable[[object], T], example: str) -> Callable[[object], tuple[T, ...]]:
    """A reader of one value for all sets, or of a list with one for each set."""

    def read(value: object) -> tuple[T, ...]:
        values = value.split(",") if isinstance(value, str) else value if isinstance(value, list) else [value]
        if not values:
            raise wrong(f"the list is empty; write for example `{example}`, a set each")
        if len(values) > MAX_SETS:
            raise wrong(f"these are {len(values)} sets; at most {MAX_SETS}")
        return tuple(map(one, values))

    return read


def count_of(value: object) -> int:
    """Repetitions of a set."""
    text = str(value).strip()
    if not re.fullmatch(r"\d{1,6}", text):
        usual = "write for example `6`, `1 per level`, `6 to 15`, or by level `{1: 6, 3: 10}`"
        raise wrong(f"`{text}` is not a number of repetitions; {count_meant(text) or usual}")
    if not 1 <= int(text) <= MAX_REPS:
        raise wrong(f"`{text}` is out of range; from 1 to {MAX_REPS} repetitions")
    return int(text)


def reps_of(value: object) -> ByLevel[int]:
    """`6`, `1 per level`, `6 to 15` (from the first level to the last) or a table by level; at most 500 anywhere."""
    grows = re.fullmatch(r"\s*(\d{1,6})(?:\s+(per\s+level)|\s+to\s+(\d{1,6}))\s*", str(value))
    if not grows:
        return by_level(count_of)(value)
    first = int(grows[1])
    last = first * MAX_LEVEL if grows[2] else int(grows[3])
    if not first >= 1 or last > MAX_REPS:
        most = f"{MAX_REPS // MAX_LEVEL} repetitions per level" if grows[2] else f"{MAX_REPS} repetitions"
        raise wrong(f"`{value}` is out of range; from 1 to {most}")
    if last < first:
        raise wrong(f"`{value}` gets less from level to level; write `{last} to {first}`, or one number")
    return evenly(first, last)


def reps_of_sets_of(value: object) -> ByLevel[tuple[int, ...]]:
    """As `reps_of`, or set by set: `[10, 8, 6]`."""
    if isinstance(value, str) and re.search(r"[a-z]", value):
        return ByLevel(tuple((level, (reps,)) for level, reps in reps_of(value).rows))
    return by_level(several(count_of, "[10, 8, 6]"))(value)


def sets_of(value: object) -> int:
    """A number of sets."""
    text = str(value).strip()
    if not re.fullmatch(r"-?\d{1,9}", text):
        raise wrong(f"`{text}` is not a whole number; {count_meant(text) or f'sets go from 1 to {MAX_SETS}'}")
    if not 1 <= int(text) <= MAX_SETS:
        raise wrong(f"`{text}` is out of range; sets go from 1 to {MAX_SETS}")
    return int(text)


def spacing_of(value: object) -> Spacing:
    """`3 s`, or a ladder: `3 s down to 1.5 s`, `1.5 s up to 3 s`."""
    ladder = re.fullmatch(r"(.+?)\s+(down|up)\s+to\s+(.+)", str(value).strip())
    if not ladder:
        seconds = seconds_of(value)
        return Spacing(seconds, seconds)
    first, last = seconds_of(ladder[1]), seconds_of(ladder[3])
    if (first > last) != (ladder[2] == "down") or first == last:
        other = "up" if ladder[2] == "down" else "down"
        raise wrong(f"`{value}` does not go {ladder[2]}; write `{ladder[1]} {other} to {ladder[3]}`")
    return Spacing(first, last)


def _field(read: Callable[[object], Any], name: str) -> PlainValidator:
    return PlainValidator(read, json_schema_input_type=described(name))


Reps = Annotated[ByLevel[int], _field(reps_of, "Reps")]
RepsOfSets = Annotated[ByLevel[tuple[int, ...]], _field(reps_of_sets_of, "RepsOfSets")]
Sets = Annotated[ByLevel[int], _field(by_level(sets_of), "Sets")]
Seconds = Annotated[ByLevel[float], _field(by_level(seconds_of), "Seconds")]
SecondsOfSets = Annotated[
    ByLevel[tuple[float, ...]], _field(by_level(several(seconds_of, "[30 s, 20 s]")), "SecondsOfSets")
]
RestBetween = Annotated[ByLevel[float], _field(by_level(rest_of), "RestTime")]
Every = Annotated[ByLevel[Spacing], _field(by_level(spacing_of), "Every")]
