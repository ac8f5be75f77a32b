"""Something held still: a technique, a stance, a chamber, a stretch.

What holds where a script leaves it out is common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated, Literal, Self, final

from pydantic import ConfigDict, Field, PlainValidator, model_validator

from cornercue.script.amount import always
from cornercue.script.described import needs, no_sets_beside
from cornercue.script.doses import RestBetween, SecondsOfSets, Sets, one_number_of_sets, set_by_set
from cornercue.script.fields import Text, as_list, choice, wrong
from cornercue.script.in_words import listed_times, rest_between
from cornercue.script.moves import WrittenPosition
from cornercue.script.position import position_of
from cornercue.script.step import Inner, Practice, Said, StepNode
from cornercue.technique.move import Move
from cornercue.technique.sides import LIMBS, Stance


@final
class Hold(StepNode):
    """A technique, a stance, a chamber or a position in free words, held still, on one side or on both."""

    model_config = ConfigDict(json_schema_extra={"allOf": [needs("points", "check"), no_sets_beside("for")]})

    hold: Annotated[tuple[Move, ...], PlainValidator(position_of, json_schema_input_type=WrittenPosition)]
    for_: SecondsOfSets = Field(always((10.0,)), alias="for")
    sides: Annotated[Literal["left", "right", "both"] | None, choice("left", "right", "both")] = None
    sets: Sets = always(1)
    rest: RestBetween | None = None
    check: Annotated[tuple[Text, ...], as_list("Points", 10)] = ()
    points: Annotated[Literal["once", "each set"], choice("once", "each set")] = "once"

    @model_validator(mode="after")
    def _one_choice_of_side(self) -> Self:
        if self.sides and len(self.positions) == 1:
            raise wrong("there is only one side to hold here; leave out `sides`, or the word lead, rear, left or right")
        if "points" in self.model_fields_set and not self.check:
            raise wrong("`points` says when the points of `check` are told; add `check`")
        one_number_of_sets("for", self.for_, "sets" in self.model_fields_set)
        return self

    @property
    def free(self) -> str:
        """The free words that it is called by; empty where it holds something of the vocabulary."""
        technique = self.hold[0].technique
        return technique.name if technique.kind == "position" else ""

    @property
    def positions(self) -> tuple[Move, ...]:
        """What is held: one move, or the lead and the rear one. Free words have sides where `sides` asks for them."""
        if self.free and self.sides:
            return tuple(replace(self.hold[0], limb=limb) for limb in LIMBS)
        return self.hold

    def seconds_at(self, level: int) -> tuple[float, ...]:
        """The seconds of each set, on each side."""
        return set_by_set(self.for_.at(level), self.sets.at(level))

    def in_words(self, level: int) -> str:
        first, *other = self.positions
        name = first.written or (first.technique.base if other else first.name)
        where = "" if not other else " on each side" if self.sides in (None, "both") else f" on the {self.sides}"
        seconds = self.seconds_at(level)
        rest = rest_between(self.rest, level, len(seconds))
        return f"Hold {name}: {listed_times(seconds)}{where}{rest}."

    def said(self) -> tuple[Said, ...]:
        name = (Said("name", self.free),) if self.free else ()
        return (*name, *(Said("check point", point) for point in self.check))

    def practice(self, level: int, stance: Stance, written: Stance) -> tuple[Practice, ...]:
        return () if self.free else (Practice(self.hold, len(self.seconds_at(level)), held=True),)

    def drawn(self) -> tuple[tuple[Move, ...], ...]:
        return ()

    def non_stop(self, level: int) -> float:
        return 0.0

    def inner(self) -> Inner | None:
        return None
