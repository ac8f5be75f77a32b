"""The steps of a drill, one after the other: its own, or all that is done in it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from cornercue.script.model import Drill, Include
from cornercue.script.step import Practice, ScriptNode, StepNode
from cornercue.technique.move import Move
from cornercue.technique.sides import Stance
from cornercue.technique.table import PaceName
from cornercue.timing.pace import usual_pace
from cornercue.timing.timeline import Part, Timeline


@dataclass(frozen=True, slots=True)
class Occurrence:
    """A step as it is met on the way through a drill.

    `drill` is the script that it is written in, `place` the step of the reviewed script in whose place it
    is told: itself, or the include that brings it. It is done `times` times in a row.
    """

    step: StepNode
    drill: Drill
    place: ScriptNode
    times: int = 1

    def place_of(self, move: Move) -> tuple[int, int]:
        """Where a move of it is told: at its own word, or at the include that brings it."""
        return (move.at if self.place is self.step else None) or self.place.at

    @property
    def pace(self) -> PaceName | float:
        """The pace in force for it: its own, of whatever kind it is, or its script's, or that of the script's level."""
        return getattr(self.step, "pace", None) or self.drill.pace or usual_pace(self.drill)

    @property
    def rep_pace(self) -> PaceName | float:
        """The pace of counted exercises: the script's, whatever the level."""
        return self.drill.pace or "steady"

    def practice(self, level: int, stance: Stance | None = None) -> tuple[Practice, ...]:
        """What a student of this level does with techniques, in the script's own stance or another one."""
        written = written_stance(self.drill)
        return self.step.practice(level, stance or written, written)


def own(drill: Drill) -> Iterator[StepNode]:
    """The steps written in this file, those of repeats too. Included files have a review of their own."""
    return _own(drill.steps)


def _own(steps: Iterable[StepNode]) -> Iterator[StepNode]:
    for step in steps:
        yield step
        yield from _own(own_inner(step))


def own_inner(step: StepNode) -> tuple[StepNode, ...]:
    """The steps that a step holds in its own file."""
    inner = step.inner()
    return inner.steps if inner and not isinstance(step, Include) else ()


def done(drill: Drill) -> Iterator[Occurrence]:
    """Everything that is done, in order, included files too; repeats and includes give way to what they hold."""
    return _done(drill.steps, drill, None, 1)


def _done(steps: Iterable[StepNode], drill: Drill, place: ScriptNode | None, times: int) -> Iterator[Occurrence]:
    for step in steps:
        if isinstance(step, Include):
            yield from _done(step.include.drill.steps, step.include.drill, place or step, times)
        elif inner := step.inner():
            yield from _done(inner.steps, drill, place, times * inner.times)
        else:
            yield Occurrence(step, drill, place or step, times)


def includes(drill: Drill) -> Iterator[tuple[Include, Include]]:
    """Every include that is met, those of included files too, and the reviewed script's own one in whose place it is.

    What stands in a `repeat`, whichever file that is in, is left out.
    """
    return _includes(drill, None)


def _includes(drill: Drill, place: Include | None) -> Iterator[tuple[Include, Include]]:
    for step in drill.steps:
        if isinstance(step, Include):
            yield step, place or step
            yield from _includes(step.include.drill, place or step)


def place_of(drill: Drill, line: int) -> tuple[int, int]:
    """The place of the step that starts in this line; that of the script itself where none does."""
    return next((step.at for step in own(drill) if step.line == line), drill.at)


def part_of(line: int, timeline: Timeline) -> Part | None:
    """The first part that a step which starts in this line makes of a session; None where it makes none."""
    return next((part for part in _parts(timeline.parts) if part.line == line and part.kind not in _HOLDERS), None)


def _parts(parts: Iterable[Part]) -> Iterator[Part]:
    for part in parts:
        yield part
        yield from _parts(part.parts)


_HOLDERS = ("repeat", "round", "include")
"""The parts that hold those of other steps."""


def written_stance(drill: Drill) -> Stance:
    """The stance that the script's left and right are meant for."""
    return "southpaw" if drill.stance == "southpaw" else "orthodox"
