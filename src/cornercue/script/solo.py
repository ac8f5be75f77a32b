"""Steps that a student does alone: words, rests, combinations, exercises and holds.

What holds where a script leaves it out (six repetitions, one set, a hold of ten seconds) is common practice, no
source.
"""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import BeforeValidator, ConfigDict, Field, PlainValidator, model_validator
from pydantic.config import JsonDict

from cornercue.script.fields import (
    Amount,
    Angle,
    Duration,
    Pace,
    Reps,
    RestTime,
    Short,
    Text,
    as_list,
    choice,
    whole,
    wrong,
)
from cornercue.script.moves import TaughtMove, WrittenMove, WrittenPosition, position_of, split_numbers, taught_of
from cornercue.script.step import StepNode
from cornercue.technique.move import Move


def _asked_by(key: str, *without: str) -> JsonDict:
    """A JSON Schema of steps that have the one key and none of the others."""
    return {"required": [key], "properties": dict.fromkeys(without, False)}


class Say(StepNode):
    """Words to say."""

    say: Text


class Rest(StepNode):
    """A rest; its last seconds count the student in again."""

    rest: RestTime


class Combination(StepNode):
    """Techniques called together, repetition by repetition."""

    combination: Annotated[
        tuple[Annotated[TaughtMove, PlainValidator(taught_of, json_schema_input_type=WrittenMove)], ...],
        as_list(WrittenMove, 16),
        BeforeValidator(split_numbers),
    ]
    teach: Annotated[int, whole(0, 20, "slow repetitions go")] = 0
    reps: Reps = Amount(6)
    angles: Annotated[tuple[Angle, ...], as_list(Angle, 12)] = (0,)
    every: Duration | None = None
    between: Short | None = None
    pace: Pace | None = None

    @property
    def moves(self) -> tuple[Move, ...]:
        return tuple(taught.move for taught in self.combination)


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


class Hold(StepNode):
    """A technique held still, on one side or on both."""

    hold: Annotated[tuple[Move, ...], PlainValidator(position_of, json_schema_input_type=WrittenPosition)]
    for_: Duration = Field(10.0, alias="for")
    sides: Annotated[Literal["left", "right", "both"] | None, choice("left", "right", "both")] = None
    sets: Annotated[int, whole(1, 20, "sets go")] = 1
    rest: RestTime | None = None
    check: Annotated[tuple[Text, ...], as_list(Text, 10)] = ()

    @model_validator(mode="after")
    def _one_choice_of_side(self) -> Self:
        if self.sides and len(self.hold) == 1:
            raise wrong("there is only one side to hold here; leave out `sides`, or the word lead, rear, left or right")
        return self
