"""Cautions before work that can hurt: said and printed first, to be shortened but never left out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from cornercue.feed.table import Audience
from cornercue.script.hold import Hold
from cornercue.script.model import Drill, Include
from cornercue.script.pads import Pads
from cornercue.script.partner import Partner
from cornercue.script.step import StepNode
from cornercue.timing.phrasebook import Phrasebook


def partner_drills(drill: Drill) -> Iterator[Drill]:
    """The drills that ask for a feeder, in repeats and included drills too; each file is looked into once."""
    return (inner for inner, step in _all_steps(drill, drill.steps, set()) if isinstance(step, Partner))


def pads_in(drill: Drill) -> Iterator[tuple[Drill, Pads]]:
    """The steps at pads or a shield, each with the drill that it stands in."""
    return ((inner, step) for inner, step in _all_steps(drill, drill.steps, set()) if isinstance(step, Pads))


def _all_steps(drill: Drill, steps: Iterable[StepNode], seen: set[int]) -> Iterator[tuple[Drill, StepNode]]:
    """Every step with the drill that it stands in."""
    for step in steps:
        yield drill, step
        if isinstance(step, Include):
            included = step.include.drill
            if id(included) not in seen:
                seen.add(id(included))
                yield from _all_steps(included, included.steps, seen)
        elif inner := step.inner():
            yield from _all_steps(drill, inner.steps, seen)


def cautions(drill: Drill, book: Phrasebook) -> tuple[str, ...]:
    """The sentences that are said first: before partner work, pads, held kicks and work at a bag; else none.

    Those of partner work are for juniors where any of the drills that ask for a feeder is for juniors.
    """
    return tuple(dict.fromkeys(_of_length(drill, book, drill.safety)))


def written_cautions(drill: Drill, book: Phrasebook) -> tuple[str, ...]:
    """The same for the page, the sheet and the terminal, where there is room for all of it."""
    return tuple(dict.fromkeys(_of_length(drill, book, "written")))


def _of_length(drill: Drill, book: Phrasebook, length: str) -> Iterator[str]:
    if next(partner_drills(drill), None) is not None:
        yield from book.safety[audience(drill)][length]
    if next(pads_in(drill), None) is not None:
        yield from book.safety["pads"][length]
    steps = list(_all_steps(drill, drill.steps, set()))
    if any(isinstance(step, Hold) and any(move.technique.kind == "kick" for move in step.hold) for _, step in steps):
        yield book.safety["hold"]
    if any("bag" in " ".join(inner.gear).lower().split() for inner, _ in steps):
        yield book.safety["bag"]


def audience(drill: Drill) -> Audience:
    """For whom the partner work is: juniors, where the drill or any drill in it that asks for a feeder is for them."""
    return "junior" if drill.junior or any(one.junior for one in partner_drills(drill)) else "adult"
