"""A technique held still. What holds where a script leaves it out is common practice, no source."""

from __future__ import annotations

from typing import Annotated, Literal, Self, final

from pydantic import Field, PlainValidator, model_validator

from cornercue.script.amount import always
from cornercue.script.doses import RestBetween, SecondsOfSets, Sets, one_number_of_sets, set_by_set
from cornercue.script.fields import Text, as_list, choice, wrong
from cornercue.script.in_words import listed_times, rest_between
from cornercue.script.moves import WrittenPosition, position_of
from cornercue.script.step import Inner, Practice, Said, StepNode
from cornercue.technique.move import Move
from cornercue.technique.sides import Stance


@final
class Hold(StepNode):
    """A technique held still, on one side or on both."""

    hold: Annotated[tuple[Move, ...], PlainValidator(position_of, json_schema_input_type=WrittenPosition)]
    for_: SecondsOfSets = Field(always((10.0,)), alias="for")
    sides: Annotated[Literal["left", "right", "both"] | None, choice("left", "right", "both")] = None
    sets: Sets = always(1)
    rest: RestBetween | None = None
    check: Annotated[tuple[Text, ...], as_list(Text, 10)] = ()

    @model_validator(mode="after")
    def _one_choice_of_side(self) -> Self:
        if self.sides and len(self.hold) == 1:
            raise wrong("there is only one side to hold here; leave out `sides`, or the word lead, rear, left or right")
        one_number_of_sets("for", self.for_, "sets" in self.model_fields_set)
        return self

    def seconds_at(self, level: int) -> tuple[float, ...]:
        """The seconds of each set, on each side."""
        return set_by_set(self.for_.at(level), self.sets.at(level))

    def in_words(self, level: int) -> str:
        first = self.hold[0]
        name = first.written or (first.technique.base if len(self.hold) > 1 else first.technique.name)
        both = " on each side" if len(self.hold) > 1 and self.sides in (None, "both") else ""
        seconds = self.seconds_at(level)
        rest = rest_between(self.rest, level, len(seconds))
        return f"Hold {name}: {listed_times(seconds)}{both}{rest}."

    def said(self) -> tuple[Said, ...]:
        return tuple(Said("check point", point) for point in self.check)

    def practice(self, level: int, stance: Stance, written: Stance) -> tuple[Practice, ...]:
        return (Practice(self.hold, len(self.seconds_at(level)), held=True),)

    def drawn(self) -> tuple[tuple[Move, ...], ...]:
        return ()

    def non_stop(self, level: int) -> float:
        return 0.0

    def inner(self) -> Inner | None:
        return None
