"""Partner work: defences that a partner feeds, called to the one or to the other."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated, Any, Literal, Self, final

from pydantic import BeforeValidator, ConfigDict, Field, PlainValidator, ValidationInfo, model_validator
from pydantic.config import JsonDict

from cornercue.durations import lasting
from cornercue.errors import InputFault
from cornercue.feed.table import FED, LEFT_OUT
from cornercue.script.answers import Answers, WrittenAnswers
from cornercue.script.between import BetweenWords
from cornercue.script.described import one_length
from cornercue.script.doses import Reps, Seconds
from cornercue.script.fields import Duration, Gap, Pace, YesNo, as_list, choice, wrong
from cornercue.script.moves import for_juniors, vocabulary
from cornercue.script.random_calls import calls_on_average, weighed, weight_of
from cornercue.script.step import Inner, Practice, Said, StepNode
from cornercue.script.written import place_of
from cornercue.spelling import listed, offer
from cornercue.technique.lookup import UnknownTechnique, resolve
from cornercue.technique.move import Move
from cornercue.technique.sides import SIDES, Limb, Stance, limb_of, other_side
from cornercue.technique.table import Technique
from cornercue.technique.vocabulary import USUAL, Vocabulary

DEFENCES = FED
"""What a partner step may name: every defence with a row in the table of feeds."""


@dataclass(frozen=True, slots=True)
class WeightedDefence:
    """A defence, as the script calls it, how often it comes against the others, and the place where it stands."""

    technique: Technique
    name: str
    weight: float = 1.0
    at: tuple[int, int] | None = field(default=None, compare=False, repr=False)

    def move(self, limb: Limb | None = None) -> Move:
        """The defence done to a side."""
        if self.name == self.technique.name:
            return Move(self.technique, limb, at=self.at)
        return Move(self.technique, limb, f"{self.name} left" if limb else self.name, self.at)


def weighted_of(value: Any, info: ValidationInfo) -> WeightedDefence:
    """`parry`, or a name with its weight."""
    name, weight = value if isinstance(value, tuple) else (value, "1")
    defence = defence_of(name, vocabulary(info))
    if defence.technique.name in LEFT_OUT and for_juniors(info):
        raise wrong(left_out(defence.technique.name))
    return WeightedDefence(defence.technique, defence.name, weight_of(name, weight), place_of(name))


def left_out(name: str) -> str:
    """Why juniors are not fed this defence, and what to write instead."""
    return (
        f"`{name}` is not fed to children and teenagers: {LEFT_OUT[name]}; "
        "practise it alone, or write `junior: no` where only adults train"
    )


def not_described(name: str) -> str:
    """Why nobody is fed this defence."""
    return f"`{name}` cannot be fed: no feed is described for it"


def defence_of(name: Any, known: Vocabulary = USUAL) -> Move:
    """The defence named, without a side."""
    text = str(name).strip()
    try:
        move = resolve(text, known=known)
    except UnknownTechnique:
        raise wrong(f"`{text}` is not a defence; {offer(text, DEFENCES)}") from None
    except InputFault as fault:
        raise wrong(str(fault)) from None
    if move.technique.name not in FED:
        if move.technique.kind == "defence":
            raise wrong(f"{not_described(text)}; a partner feeds {listed(DEFENCES)}; practise the others alone")
        raise wrong(f"`{text}` is not a defence; one of {listed(DEFENCES)}")
    if move.limb:
        raise wrong(f"`{text}` names a side; write `{move.technique.name}`, and `sides: left` or `sides: right`")
    return move


_EVEN_ON_BOTH_SIDES: JsonDict = {
    "if": {"required": ["order", "sides"], "properties": {"order": {"const": "even"}}},
    "then": {"properties": {"sides": {"const": "both"}}},
}


@final
class Partner(StepNode):
    """Defences called for a partner to feed, or feeds prompted for a student to read."""

    model_config = ConfigDict(json_schema_extra=one_length(_EVEN_ON_BOTH_SIDES))

    partner: Annotated[
        tuple[Annotated[WeightedDefence, PlainValidator(weighted_of)], ...],
        as_list("Defences", 10),
        BeforeValidator(weighed),
    ]
    for_: Seconds | None = Field(None, alias="for")
    reps: Reps | None = None
    sides: Annotated[Literal["left", "right", "both"], choice("left", "right", "both")] = "both"
    order: Annotated[Literal["alternate", "even", "random"], choice("alternate", "even", "random")] = "random"
    listener: Annotated[Literal["student", "feeder"], choice("student", "feeder")] = "student"
    teach: YesNo = False
    pace: Pace | None = None
    gap: Gap | None = None
    answers: WrittenAnswers = Answers()
    between: BetweenWords | None = None
    then: Duration | None = None

    @model_validator(mode="after")
    def _one_length_each_defence_once_and_weights_that_count(self) -> Self:
        if (self.for_ is None) == (self.reps is None):
            raise wrong("partner work needs either `for: 90 s` or `reps: 20`, the number of calls, and not both")
        names = [weighted.technique.name for weighted in self.partner]
        called = {name for weighted in self.partner for name in (weighted.name, weighted.technique.name)}
        for name in self.answers.defences():
            if name not in called:
                raise wrong(f"`{name}` has answers and is not fed in this step; {offer(name, tuple(called))}")
        for name in names:
            if names.count(name) > 1:
                raise wrong(f"`{name}` stands there twice; give it a weight instead: `{{{name}: 2}}`")
        if self.order != "random" and len({weighted.weight for weighted in self.partner}) > 1:
            raise wrong(
                f"`order: {self.order}` calls each defence in turn; leave out the weights or write `order: random`"
            )
        if self.order == "even" and self.sides != "both":
            raise wrong(
                f"`order: even` brings left and right out even; leave out `sides: {self.sides}` "
                "or write `order: alternate`"
            )
        return self

    def in_words(self, level: int) -> str:
        dose = lasting(self.for_.at(level)) if self.for_ else f"{self.reps.at(level) if self.reps else 0} calls"
        answers = f", answered with {self.answers.in_words()}" if self.answers else ""
        return f"Partner: {', '.join(one.name for one in self.partner)}, {dose}{answers}."

    def said(self) -> tuple[Said, ...]:
        return (Said("text of `between`", self.between.text),) if self.between else ()

    def practice(self, level: int, stance: Stance, written: Stance) -> tuple[Practice, ...]:
        """Each defence on each of its sides, with each answer to it."""
        calls = self.reps.at(level) if self.reps else calls_on_average(self.non_stop(level), self.gap)
        share = calls / sum(weighted.weight for weighted in self.partner)
        sides = SIDES if self.sides == "both" else (self.sides,) if stance == written else (other_side(self.sides),)
        return tuple(
            Practice((move, *answer), share * weighted.weight / len(sides) / len(answers))
            for weighted in self.partner
            for side in sides
            for move in [weighted.move(limb_of(side, stance) if weighted.technique.sided else None)]
            for answers in [self.answers.to(move, weighted.name, stance)]
            for answer in answers
        )

    def drawn(self) -> tuple[tuple[Move, ...], ...]:
        return tuple(self.answers.combinations())

    def non_stop(self, level: int) -> float:
        return self.for_.at(level) if self.for_ else 0.0

    def inner(self) -> Inner | None:
        return None
