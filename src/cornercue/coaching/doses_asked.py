"""How much a drill asks for in one go: the sets of its exercises, its holds and its rounds."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from cornercue.coaching.exercises import is_gentle
from cornercue.coaching.traversal import own
from cornercue.durations import lasting
from cornercue.script.exercise import Exercise
from cornercue.script.hold import Hold
from cornercue.script.model import Drill
from cornercue.script.pads import Pads
from cornercue.script.partner import Partner
from cornercue.script.react import React
from cornercue.script.shadow import Shadow
from cornercue.script.step import StepNode


@dataclass(frozen=True, slots=True)
class Dose:
    """The longest set, hold or round of something in a step, in repetitions or in seconds."""

    of: str
    unit: Literal["repetitions", "seconds"]
    amount: float
    at: tuple[int, int]

    def told(self) -> str:
        return f"{self.amount:g} {self.of}" if self.unit == "repetitions" else f"{lasting(self.amount)} of {self.of}"


_ROUNDS: dict[type[StepNode], str] = {
    Shadow: "shadow boxing", React: "reactions", Partner: "partner work", Pads: "pads",
}  # fmt: skip


def doses_asked(drill: Drill) -> Iterator[Dose]:
    """Of every step of the file, at the script's own level; gentle exercises are no dose."""
    for step in own(drill):
        if isinstance(step, Exercise):
            name, reps, seconds = step.exercise.lower(), step.reps_at(drill.level), step.seconds_at(drill.level)
            if not is_gentle(name):
                yield from (Dose(name, "repetitions", max(reps), step.at),) if reps else ()
                yield from (Dose(name, "seconds", max(seconds), step.at),) if seconds else ()
        elif isinstance(step, Hold):
            name = f"the {step.positions[0].technique.base}"
            yield Dose(name, "seconds", max(step.seconds_at(drill.level)), step.at)
        elif type(step) in _ROUNDS and (lasts := step.non_stop(drill.level)):
            yield Dose(_ROUNDS[type(step)], "seconds", lasts, step.at)
