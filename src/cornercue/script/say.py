"""Words to say."""

from __future__ import annotations

from typing import final

from cornercue.durations import lasting
from cornercue.script.fields import Duration, Text
from cornercue.script.step import Inner, Practice, Said, StepNode
from cornercue.technique.move import Move
from cornercue.technique.sides import Stance


@final
class Say(StepNode):
    """Words to say, and time to do what they ask for."""

    say: Text
    then: Duration | None = None

    def in_words(self, level: int) -> str:
        return f"“{self.say}”{f', then {lasting(self.then)}' if self.then else ''}"

    def said(self) -> tuple[Said, ...]:
        return (Said("sentence", self.say),)

    def practice(self, level: int, stance: Stance, written: Stance) -> tuple[Practice, ...]:
        return ()

    def drawn(self) -> tuple[tuple[Move, ...], ...]:
        return ()

    def non_stop(self, level: int) -> None:
        return None

    def inner(self) -> Inner | None:
        return None
