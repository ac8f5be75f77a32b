"""A rest between two steps."""

from __future__ import annotations

from typing import final

from cornercue.durations import lasting
from cornercue.script.doses import RestBetween
from cornercue.script.step import Inner, Practice, Said, StepNode
from cornercue.technique.move import Move
from cornercue.technique.sides import Stance


@final
class Rest(StepNode):
    """A rest; its last seconds count the student in again."""

    rest: RestBetween

    def in_words(self, level: int) -> str:
        return f"Rest {lasting(self.rest.at(level))}."

    def said(self) -> tuple[Said, ...]:
        return ()

    def practice(self, level: int, stance: Stance, written: Stance) -> tuple[Practice, ...]:
        return ()

    def drawn(self) -> tuple[tuple[Move, ...], ...]:
        return ()

    def non_stop(self, level: int) -> None:
        return None

    def inner(self) -> Inner | None:
        return None
