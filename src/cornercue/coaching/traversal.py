"""The steps of a drill, one after the other: its own, or all that is done in it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from cornercue.script.model import Drill, Include, Repeat, Step
from cornercue.script.step import ScriptNode
from cornercue.technique.sides import Stance
from cornercue.technique.table import PaceName


@dataclass(frozen=True, slots=True)
class Occurrence:
    """A step as it is met on the way through a drill.

    `drill` is the script that it is written in, `place` the step of the reviewed script in whose place it
    is told: itself, or the include that brings it. It is done `times` times in a row.
    """

    step: Step
    drill: Drill
    place: ScriptNode
    times: int = 1

    @property
    def pace(self) -> PaceName | float:
        """The pace in force for it."""
        return getattr(self.step, "pace", None) or self.drill.pace or "steady"


def own(drill: Drill) -> Iterator[Step]:
    """The steps written in this file, those of repeats too. Included files have a review of their own."""
    return _own(drill.steps)


def _own(steps: Iterable[Step]) -> Iterator[Step]:
    for step in steps:
        yield step
        if isinstance(step, Repeat):
            yield from _own(step.steps)


def done(drill: Drill) -> Iterator[Occurrence]:
    """Everything that is done, in order, included files too; repeats and includes give way to what they hold."""
    return _done(drill.steps, drill, None, 1)


def _done(steps: Iterable[Step], drill: Drill, place: ScriptNode | None, times: int) -> Iterator[Occurrence]:
    for step in steps:
        at = place or step
        match step:
            case Repeat():
                yield from _done(step.steps, drill, place, times * step.repeat)
            case Include():
                inner = step.include.drill
                yield from _done(inner.steps, inner, at, times)
            case _:
                yield Occurrence(step, drill, at, times)


def place_of(drill: Drill, line: int) -> tuple[int, int]:
    """The place of the step that starts in this line; that of the script itself where none does."""
    return next((step.at for step in own(drill) if step.line == line), drill.at)


def written_stance(drill: Drill) -> Stance:
    """The stance that the script's left and right are meant for."""
    return "southpaw" if drill.stance == "southpaw" else "orthodox"
