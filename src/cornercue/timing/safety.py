"""Cautions before partner work: said and printed first, to be shortened but never left out."""

from __future__ import annotations

from collections.abc import Iterable

from cornercue.script.drawn import Partner
from cornercue.script.model import Drill, Include, Repeat, Step
from cornercue.timing.phrasebook import Phrasebook


def has_partner(steps: Iterable[Step]) -> bool:
    """Whether a feeder is asked for anywhere, in repeats and included drills too."""
    for step in steps:
        match step:
            case Partner():
                return True
            case Repeat() if has_partner(step.steps):
                return True
            case Include() if has_partner(step.include.drill.steps):
                return True
    return False


def cautions(drill: Drill, book: Phrasebook) -> tuple[str, ...]:
    """The sentences that come first in a drill with partner work; none in one without."""
    if not has_partner(drill.steps):
        return ()
    whom = "junior" if drill.junior else "adult"
    return tuple(book.safety[whom][drill.safety])
