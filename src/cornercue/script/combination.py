"""Techniques called together. What holds where a script leaves it out is common practice, no source."""

from __future__ import annotations

from typing import Annotated, Self, final

from pydantic import BeforeValidator, ConfigDict, PlainValidator, model_validator

from cornercue.script.amount import always
from cornercue.script.between import BetweenWords
from cornercue.script.described import no_sets_beside
from cornercue.script.doses import Every, RepsOfSets, RestBetween, Sets, one_number_of_sets, set_by_set
from cornercue.script.fields import Angle, Duration, Pace, as_list, whole
from cornercue.script.in_words import listed_sets, named, rest_between
from cornercue.script.moves import TaughtMove, split_numbers, taught_of
from cornercue.script.step import Inner, Practice, Said, StepNode
from cornercue.technique.move import Move
from cornercue.technique.sides import Stance


@final
class Combination(StepNode):
    """Techniques called together, repetition by repetition."""

    model_config = ConfigDict(json_schema_extra=no_sets_beside("reps"))

    combination: Annotated[
        tuple[Annotated[TaughtMove, PlainValidator(taught_of)], ...],
        as_list("Techniques", 16),
        BeforeValidator(split_numbers),
    ]
    teach: Annotated[int, whole(0, 20, "slow repetitions go")] = 0
    reps: RepsOfSets = always((6,))
    sets: Sets = always(1)
    rest: RestBetween | None = None
    angles: Annotated[tuple[Angle, ...], as_list("Angles", 12)] = (0,)
    every: Every | None = None
    between: BetweenWords | None = None
    then: Duration | None = None
    pace: Pace | None = None

    @model_validator(mode="after")
    def _sets_once(self) -> Self:
        one_number_of_sets("reps", self.reps, "sets" in self.model_fields_set)
        return self

    @property
    def moves(self) -> tuple[Move, ...]:
        return tuple(taught.move for taught in self.combination)

    def reps_at(self, level: int) -> tuple[int, ...]:
        """The repetitions of each set, at each angle."""
        return set_by_set(self.reps.at(level), self.sets.at(level))

    def in_words(self, level: int) -> str:
        slowly = f"{self.teach} times slowly, then " if self.teach else ""
        turned = f", at each of {len(self.angles)} angles" if len(self.angles) > 1 else ""
        reps = self.reps_at(level)
        rest = rest_between(self.rest, level, len(reps))
        return f"{named(self.moves)}: {slowly}{listed_sets(reps)} times{turned}{rest}."

    def said(self) -> tuple[Said, ...]:
        cues = (Said("coaching cue", one.cue, of=one.move.name) for one in self.combination if one.cue)
        return (*cues, *([Said("text of `between`", self.between.text)] if self.between else ()))

    def practice(self, level: int, stance: Stance, written: Stance) -> tuple[Practice, ...]:
        return (Practice(self.moves, self.teach + sum(self.reps_at(level)) * len(self.angles)),)

    def drawn(self) -> tuple[tuple[Move, ...], ...]:
        return ()

    def non_stop(self, level: int) -> float:
        return 0.0

    def inner(self) -> Inner | None:
        return None
