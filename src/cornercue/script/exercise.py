"""An exercise of any name. What holds where a script leaves it out is common practice, no source."""

from __future__ import annotations

from typing import Annotated, Self, final

from pydantic import ConfigDict, Field, model_validator
from pydantic.config import JsonDict

from cornercue.durations import lasting
from cornercue.script.fields import Duration, Reps, RestTime, Short, Text, as_list, whole, wrong
from cornercue.script.in_words import rest_between, sets_before
from cornercue.script.step import Inner, Practice, Said, StepNode
from cornercue.technique.move import Move
from cornercue.technique.sides import Stance


def _asked_by(key: str, *without: str) -> JsonDict:
    """A JSON Schema of steps that have the one key and none of the others."""
    return {"required": [key], "properties": dict.fromkeys(without, False)}


@final
class Exercise(StepNode):
    """An exercise, counted (`reps`) or timed (`for`), in sets."""

    model_config = ConfigDict(
        json_schema_extra={"oneOf": [_asked_by("reps", "for"), _asked_by("for", "reps", "every")]}
    )

    exercise: Short
    reps: Reps | None = None
    for_: Duration | None = Field(None, alias="for")
    sets: Annotated[int, whole(1, 20, "sets go")] = 1
    every: Duration | None = None
    rest: RestTime | None = None
    check: Annotated[tuple[Text, ...], as_list(Text, 10)] = ()

    @model_validator(mode="after")
    def _counted_or_timed(self) -> Self:
        if (self.reps is None) == (self.for_ is None):
            raise wrong("an exercise needs either `reps: 10` or `for: 1 min`, and not both")
        if self.every is not None and self.for_ is not None:
            raise wrong("`every` spaces counted repetitions; leave it out of a timed exercise")
        return self

    def in_words(self, level: int) -> str:
        dose = lasting(self.for_) if self.for_ else f"{self.reps.at(level) if self.reps else 0} times"
        return f"{self.exercise}: {sets_before(self.sets)}{dose}{rest_between(self.rest, self.sets)}."

    def said(self) -> tuple[Said, ...]:
        return (Said("name", self.exercise), *(Said("check point", point) for point in self.check))

    def practice(self, level: int, stance: Stance, written: Stance) -> tuple[Practice, ...]:
        return ()

    def drawn(self) -> tuple[tuple[Move, ...], ...]:
        return ()

    def non_stop(self) -> float:
        return self.for_ or 0.0

    def inner(self) -> Inner | None:
        return None
