"""Pads: combinations that are struck at what a helper holds, called to the one or shown by the other."""

from __future__ import annotations

from typing import Annotated, Literal, Self, final

from pydantic import ConfigDict, Field, ValidationInfo, model_validator

from cornercue.durations import lasting
from cornercue.feed.table import Audience
from cornercue.pads.table import ADULTS_ONLY, Thing, held_for, not_held
from cornercue.script.between import BetweenWords
from cornercue.script.described import one_length
from cornercue.script.doses import Reps, Seconds
from cornercue.script.fields import Duration, Gap, Pace, YesNo, choice, wrong
from cornercue.script.in_words import named
from cornercue.script.moves import for_juniors
from cornercue.script.random_calls import Combinations, calls_on_average
from cornercue.script.step import Inner, Practice, Said, StepNode
from cornercue.technique.move import Move
from cornercue.technique.sides import Stance


def why_not(moves: tuple[Move, ...], whom: Audience) -> str | None:
    """The first technique of a combination that nobody holds for, as a sentence; None where all can be held."""
    for move in moves:
        if reason := not_held(move.technique, whom):
            name = move.written or move.technique.name
            if move.technique.base in ADULTS_ONLY:
                return (
                    f"`{name}` is not held for children and teenagers: {reason}; leave it out, or write "
                    "`junior: no` where only adults train"
                )
            return f"nobody holds pads for `{name}`: {reason}; leave it out, or practise it without pads"
    if not any(held_for(move.technique) for move in moves):
        return f"nothing is struck in `{named(moves)}`; pads need a strike or a kick"
    return None


@final
class Pads(StepNode):
    """Combinations struck at pads or a shield that a helper holds."""

    model_config = ConfigDict(json_schema_extra=one_length())

    pads: Combinations
    for_: Seconds | None = Field(None, alias="for")
    reps: Reps | None = None
    order: Annotated[Literal["alternate", "random"], choice("alternate", "random")] = "random"
    listener: Annotated[Literal["student", "holder"], choice("student", "holder")] = "student"
    teach: YesNo = False
    gap: Gap | None = None
    pace: Pace | None = None
    between: BetweenWords | None = None
    then: Duration | None = None

    @model_validator(mode="after")
    def _one_length_and_one_thing_that_can_be_held(self, info: ValidationInfo) -> Self:
        if (self.for_ is None) == (self.reps is None):
            raise wrong("pads need either `for: 1 min` or `reps: 20`, the number of calls, and not both")
        for moves in self.pads:
            if told := why_not(moves, "junior" if for_juniors(info) else "adult"):
                raise wrong(told)
        things = {held.thing: move for moves in self.pads for move in moves if (held := held_for(move.technique))}
        if len(things) > 1:
            raise wrong(
                f"`{things['pads'].name}` is struck at pads and `{things['shield'].name}` at a kick shield, and nobody "
                "holds both; make two steps of it"
            )
        for moves in self.pads:
            if self.pads.count(moves) > 1:
                raise wrong(f"`{named(moves)}` stands there twice; once is enough")
        if self.listener == "holder":
            self._told_apart()
        return self

    def _told_apart(self) -> None:
        """Raises where a student who hears nothing sees the same for two combinations."""
        seen: dict[tuple[object, ...], tuple[Move, ...]] = {}
        for moves in self.pads:
            shown = tuple((held, move.limb) for move in moves if (held := held_for(move.technique)))
            if shown in seen:
                raise wrong(
                    f"`{named(seen[shown])}` and `{named(moves)}` are held for alike, and the student hears nothing; "
                    "leave one out, or write `listener: student`"
                )
            seen[shown] = moves

    @property
    def thing(self) -> Thing:
        """What is held: the same for all of it."""
        return next(held.thing for moves in self.pads for move in moves if (held := held_for(move.technique)))

    def in_words(self, level: int) -> str:
        dose = lasting(self.for_.at(level)) if self.for_ else f"{self.reps.at(level) if self.reps else 0} calls"
        what = "Pads" if self.thing == "pads" else "Kick shield"
        return f"{what}: {'; '.join(named(moves) for moves in self.pads)}, {dose}."

    def said(self) -> tuple[Said, ...]:
        return (Said("text of `between`", self.between.text),) if self.between else ()

    def practice(self, level: int, stance: Stance, written: Stance) -> tuple[Practice, ...]:
        calls = self.reps.at(level) if self.reps else calls_on_average(self.non_stop(level), self.gap)
        return tuple(Practice(moves, calls / len(self.pads)) for moves in self.pads)

    def drawn(self) -> tuple[tuple[Move, ...], ...]:
        return self.pads if self.order == "random" else ()

    def non_stop(self, level: int) -> float:
        return self.for_.at(level) if self.for_ else 0.0

    def inner(self) -> Inner | None:
        return None
