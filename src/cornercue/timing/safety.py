"""Cautions before partner work: said and printed first, to be shortened but never left out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Literal

from cornercue.script.drawn import Partner
from cornercue.script.model import Drill, Include, Repeat, Step
from cornercue.timing.phrasebook import Phrasebook


def partner_drills(drill: Drill) -> Iterator[Drill]:
    """The drills that ask for a feeder, in repeats and included drills too; each file is looked into once."""
    yield from _asking(drill, drill.steps, set())


def _asking(drill: Drill, steps: Iterable[Step], seen: set[int]) -> Iterator[Drill]:
    for step in steps:
        match step:
            case Partner():
                yield drill
            case Repeat():
                yield from _asking(drill, step.steps, seen)
            case Include() if id(step.include.drill) not in seen:
                seen.add(id(step.include.drill))
                yield from _asking(step.include.drill, step.include.drill.steps, seen)


def cautions(drill: Drill, book: Phrasebook) -> tuple[str, ...]:
    """The sentences that come first in a drill with partner work; none in one without.

    They are those for juniors where any of the drills that ask for a feeder is for juniors.
    """
    if next(partner_drills(drill), None) is None:
        return ()
    return tuple(book.safety[audience(drill)][drill.safety])


def audience(drill: Drill) -> Literal["junior", "adult"]:
    """For whom the partner work is: juniors, where the drill or any drill in it that asks for a feeder is for them."""
    return "junior" if drill.junior or any(one.junior for one in partner_drills(drill)) else "adult"
