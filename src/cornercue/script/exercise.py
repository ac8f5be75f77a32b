"""An exercise of any name. What holds where a script leaves it out is common practice, no source."""

from __future__ import annotations

from typing import Annotated, Self, final

from pydantic import ConfigDict, Field, model_validator

from cornercue.script.amount import always
from cornercue.script.described import asked_by, no_sets_beside
from cornercue.script.doses import Every, RepsOfSets, RestBetween, SecondsOfSets, Sets, one_number_of_sets, set_by_set
from cornercue.script.fields import Short, Text, as_list, wrong
from cornercue.script.in_words import listed_sets, listed_times, rest_between
from cornercue.script.step import Inner, Practice, Said, StepNode
from cornercue.technique.move import Move
from cornercue.technique.sides import Stance


@final
class Exercise(StepNode):
    """An exercise, counted (`reps`) or timed (`for`), in sets."""

    model_config = ConfigDict(
        json_schema_extra={
            "oneOf": [asked_by("reps", "for"), asked_by("for", "reps", "every")],
            "allOf": [no_sets_beside("reps"), no_sets_beside("for")],
        }
    )

    exercise: Short
    reps: RepsOfSets | None = None
    for_: SecondsOfSets | None = Field(None, alias="for")
    sets: Sets = always(1)
    every: Every | None = None
    rest: RestBetween | None = None
    check: Annotated[tuple[Text, ...], as_list("Points", 10)] = ()

    @model_validator(mode="after")
    def _counted_or_timed(self) -> Self:
        if self.reps is None and self.for_ is None:
            raise wrong("an exercise needs how much of it: `reps: 10`, or `for: 1 min`")
        if self.reps is not None and self.for_ is not None:
            raise wrong("an exercise has either `reps` or `for`; take one of them away")
        if self.every is not None and self.for_ is not None:
            raise wrong("`every` spaces counted repetitions; leave it out of a timed exercise")
        one_number_of_sets("reps" if self.reps else "for", self.reps or self.for_, "sets" in self.model_fields_set)
        return self

    def reps_at(self, level: int) -> tuple[int, ...]:
        """The repetitions of each set; none where it is timed."""
        return set_by_set(self.reps.at(level), self.sets.at(level)) if self.reps else ()

    def seconds_at(self, level: int) -> tuple[float, ...]:
        """The seconds of each set; none where it is counted."""
        return set_by_set(self.for_.at(level), self.sets.at(level)) if self.for_ else ()

    def in_words(self, level: int) -> str:
        reps, seconds = self.reps_at(level), self.seconds_at(level)
        dose = listed_times(seconds) if seconds else f"{listed_sets(reps)} times"
        rest = rest_between(self.rest, level, len(reps or seconds))
        return f"{self.exercise}: {dose}{rest}."

    def said(self) -> tuple[Said, ...]:
        return (Said("name", self.exercise), *(Said("check point", point) for point in self.check))

    def practice(self, level: int, stance: Stance, written: Stance) -> tuple[Practice, ...]:
        return ()

    def drawn(self) -> tuple[tuple[Move, ...], ...]:
        return ()

    def non_stop(self, level: int) -> float:
        return max(self.seconds_at(level), default=0.0)

    def inner(self) -> Inner | None:
        return None
