"""The sets of an exercise or a hold: each is a part of its own where there are several."""

from __future__ import annotations

from collections.abc import Iterator

from cornercue.timing.segments import Pause, Segment, Talk
from cornercue.timing.setting import Details, Setting


def in_sets(setting: Setting, sets: int, rest: float) -> Iterator[tuple[int, Setting, list[Segment]]]:
    """For each set: its number, the setting of its part, and what comes before it: the rest, which set it is.

    `setting` is that of the part which the whole step makes.
    """
    if sets == 1:
        yield 1, setting, []
        return
    book = setting.book
    for n in range(1, sets + 1):
        here = setting.divided("set", n, sets)
        before: list[Segment] = [Pause(setting, rest)] if n > 1 else []
        words = book.say("set", n=book.number(n), sets=book.number(sets))
        yield n, here, [*before, Talk(here, words, details=Details(set=n))]
