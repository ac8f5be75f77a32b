"""Techniques called together. What holds where a script leaves it out is common practice, no source."""

from __future__ import annotations

from typing import Annotated, final

from pydantic import BeforeValidator, PlainValidator

from cornercue.script.amount import Amount
from cornercue.script.fields import Angle, Duration, Pace, Reps, Short, as_list, whole
from cornercue.script.in_words import named
from cornercue.script.moves import TaughtMove, WrittenMove, split_numbers, taught_of
from cornercue.script.step import Inner, Practice, Said, StepNode
from cornercue.technique.move import Move
from cornercue.technique.sides import Stance


@final
class Combination(StepNode):
    """Techniques called together, repetition by repetition."""

    combination: Annotated[
        tuple[Annotated[TaughtMove, PlainValidator(taught_of, json_schema_input_type=WrittenMove)], ...],
        as_list(WrittenMove, 16),
        BeforeValidator(split_numbers),
    ]
    teach: Annotated[int, whole(0, 20, "slow repetitions go")] = 0
    reps: Reps = Amount(6, 6)
    angles: Annotated[tuple[Angle, ...], as_list(Angle, 12)] = (0,)
    every: Duration | None = None
    between: Short | None = None
    pace: Pace | None = None

    @property
    def moves(self) -> tuple[Move, ...]:
        return tuple(taught.move for taught in self.combination)

    def in_words(self, level: int) -> str:
        slowly = f"{self.teach} times slowly, then " if self.teach else ""
        turned = f", at each of {len(self.angles)} angles" if len(self.angles) > 1 else ""
        return f"{named(self.moves)}: {slowly}{self.reps.at(level)} times{turned}."

    def said(self) -> tuple[Said, ...]:
        cues = (Said("coaching cue", one.cue, of=one.move.name) for one in self.combination if one.cue)
        return (*cues, *([Said("text of `between`", self.between)] if self.between else ()))

    def practice(self, level: int, stance: Stance, written: Stance) -> tuple[Practice, ...]:
        return (Practice(self.moves, self.teach + self.reps.at(level) * len(self.angles)),)

    def drawn(self) -> tuple[tuple[Move, ...], ...]:
        return ()

    def non_stop(self) -> float:
        return 0.0

    def inner(self) -> Inner | None:
        return None
