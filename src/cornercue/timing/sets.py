"""The sets of a step: each is a part of its own where there are several."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import TypeVar

from cornercue.script.amount import ByLevel
from cornercue.timing.pace import rest_for
from cornercue.timing.segments import Pause, Segment, Talk
from cornercue.timing.setting import Details, Setting

T = TypeVar("T")


def in_sets(
    setting: Setting, doses: Sequence[str], rest: Sequence[float]
) -> Iterator[tuple[int, Setting, list[Segment]]]:
    """For each set: its number, the setting of its part, and what comes before it: the rest, which set it is.

    `setting` is that of the part which the whole step makes. `doses` has a text a set, told where it is not empty;
    `rest` the seconds after each set.
    """
    sets = len(doses)
    if sets == 1:
        yield 1, setting, []
        return
    book = setting.book
    for n, dose in enumerate(doses, start=1):
        here = setting.divided("set", n, sets)
        before: list[Segment] = [Pause(setting, rest[n - 2])] if n > 1 else []
        words = {"n": book.number(n), "sets": book.number(sets)}
        text = book.say("set_of", dose=dose, **words) if dose else book.say("set", **words)
        yield n, here, [*before, Talk(here, text, details=Details(set=n))]


def doses(values: Sequence[T], in_words: Callable[[T], str]) -> tuple[str, ...]:
    """What each set asks for, in words; empty texts where all ask for the same."""
    return tuple(map(in_words, values)) if len(set(values)) > 1 else ("",) * len(values)


def rest_between(asked: ByLevel[float] | None, level: int, seconds: Sequence[float]) -> tuple[float, ...]:
    """The rest after each set, in seconds: as asked, else by how long the sets last."""
    return tuple(asked.at(level) if asked else rest_for(level, one) for one in seconds)
