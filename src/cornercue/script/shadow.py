"""Shadow boxing: combinations drawn at random."""

from __future__ import annotations

from typing import final

from pydantic import Field

from cornercue.durations import lasting
from cornercue.script.between import BetweenWords
from cornercue.script.doses import Seconds
from cornercue.script.fields import Duration, Gap, Pace
from cornercue.script.in_words import named
from cornercue.script.random_calls import Combinations, calls_on_average
from cornercue.script.step import Inner, Practice, Said, StepNode
from cornercue.technique.move import Move
from cornercue.technique.sides import Stance


@final
class Shadow(StepNode):
    """Combinations drawn at random for a time, with room to do them and to move."""

    shadow: Combinations
    for_: Seconds = Field(alias="for")
    gap: Gap | None = None
    pace: Pace | None = None
    between: BetweenWords | None = None
    then: Duration | None = None

    @property
    def boxing(self) -> bool:
        """Whether it is done with the hands alone, and the feet that carry them."""
        kinds = {move.technique.kind for moves in self.shadow for move in moves}
        with_legs = any(move.technique.with_the_leg for moves in self.shadow for move in moves)
        return kinds <= {"strike", "defence", "footwork"} and not with_legs

    def in_words(self, level: int) -> str:
        what = "Shadow boxing" if self.boxing else "Shadow work"
        return f"{what}, {lasting(self.for_.at(level))}: {'; '.join(named(moves) for moves in self.shadow)}."

    def said(self) -> tuple[Said, ...]:
        return (Said("text of `between`", self.between.text),) if self.between else ()

    def practice(self, level: int, stance: Stance, written: Stance) -> tuple[Practice, ...]:
        times = calls_on_average(self.for_.at(level), self.gap) / len(self.shadow)
        return tuple(Practice(moves, times) for moves in self.shadow)

    def drawn(self) -> tuple[tuple[Move, ...], ...]:
        return self.shadow

    def non_stop(self, level: int) -> float:
        return self.for_.at(level)

    def inner(self) -> Inner | None:
        return None
