"""The drill script as values: the kinds of step, and the drill that holds them.

The reader and `cornercue schema` are both made from these models, so they cannot drift apart.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import reduce
from operator import or_
from typing import TYPE_CHECKING, Annotated, Any, Literal, Self, final, get_args

from pydantic import Discriminator, Field, PlainValidator, Tag, ValidationInfo, model_validator

from cornercue.ages import USUAL, Ages
from cornercue.languages import Aloud
from cornercue.script.amount import MAX_LEVEL
from cornercue.script.combination import Combination
from cornercue.script.described import described
from cornercue.script.doses import RestBetween
from cornercue.script.exercise import Exercise
from cornercue.script.fields import (
    AgeBand,
    Pace,
    Short,
    Text,
    YesNo,
    as_list,
    choice,
    whole,
    wrong,
)
from cornercue.script.hold import Hold
from cornercue.script.in_words import rest_between
from cornercue.script.pads import Pads
from cornercue.script.partner import Partner
from cornercue.script.photo import Photo
from cornercue.script.react import React
from cornercue.script.rest import Rest
from cornercue.script.say import Say
from cornercue.script.shadow import Shadow
from cornercue.script.step import Inner, Practice, Said, ScriptNode, StepNode, opener_of
from cornercue.script.words import Words
from cornercue.technique.move import Move
from cornercue.technique.sides import Stance

Counting = Literal["english", "korean", "japanese"]
"""The language in which repetitions are counted aloud."""


@final
class Repeat(StepNode):
    """Steps done again and again, with a rest between."""

    repeat: Annotated[int, whole(1, 100, "repeats go")]
    rest: RestBetween | None = None
    steps: Steps

    def in_words(self, level: int) -> str:
        return f"{self.repeat} rounds{rest_between(self.rest, level)}:"

    def said(self) -> tuple[Said, ...]:
        return ()

    def practice(self, level: int, stance: Stance, written: Stance) -> tuple[Practice, ...]:
        return ()

    def drawn(self) -> tuple[tuple[Move, ...], ...]:
        return ()

    def non_stop(self, level: int) -> float:
        return 0.0

    def inner(self) -> Inner | None:
        return Inner(self.steps, times=self.repeat)


@final
class Include(StepNode):
    """Another drill of the same folder, done in full at this place."""

    include: Annotated[
        IncludedDrill, PlainValidator(lambda value, info: _opened(value, info), json_schema_input_type=str)
    ]

    def in_words(self, level: int) -> str:
        return f"{self.include.drill.drill}:"

    def said(self) -> tuple[Said, ...]:
        return ()

    def practice(self, level: int, stance: Stance, written: Stance) -> tuple[Practice, ...]:
        return ()

    def drawn(self) -> tuple[tuple[Move, ...], ...]:
        return ()

    def non_stop(self, level: int) -> float:
        return 0.0

    def inner(self) -> Inner | None:
        return Inner(self.include.drill.steps)


@dataclass(frozen=True)
class IncludedDrill:
    """The drill that an `include` names, with the file it came from."""

    file: str
    drill: Drill


def _opened(value: Any, info: ValidationInfo) -> IncludedDrill:
    opener: Callable[[Any], IncludedDrill] | None = (info.context or {}).get("open")
    if opener is None:
        raise wrong("`include` works only in a script that is a file")
    return opener(value)


AnyStep = Say | Combination | Exercise | Hold | Shadow | React | Partner | Pads | Rest | Repeat | Include
"""The table of step kinds, in the order in which they are told: a new kind is a model and an entry here."""

STEP_KINDS: dict[str, type[StepNode]] = {opener_of(model): model for model in get_args(AnyStep)}
"""The step kinds by the key that opens them."""


def kind_of(value: Any) -> str | None:
    """The kind of a written step: the first of its keys that opens a step."""
    if isinstance(value, dict):
        return next((key for key in value if key in STEP_KINDS), None)
    return next((kind for kind, model in STEP_KINDS.items() if isinstance(value, model)), None)


if TYPE_CHECKING:
    Step = AnyStep
else:
    # The same union for pydantic, with the key that tells which of the models a step is.
    _tagged = reduce(or_, (Annotated[model, Tag(kind)] for kind, model in STEP_KINDS.items()))
    Step = Annotated[_tagged, Discriminator(kind_of)]
Steps = Annotated[tuple[Step, ...], Field(min_length=1, max_length=500)]


def _levels_read(value: Any, info: ValidationInfo) -> dict[int, str]:
    """The names of levels, as the reader has read them, with those of the club."""
    levels: dict[int, str] = (info.context or {}).get("levels", {})
    return levels


def _words_read(value: Any, info: ValidationInfo) -> Words:
    """The words as the reader has read them, before anything else, since every step may name them."""
    words: Words = (info.context or {}).get("words", Words())
    return words


_STANCES = "`orthodox` has the left foot in front, `southpaw` the right one, and `both` does everything in each"


class Drill(ScriptNode):
    """One drill script. Without a word to the contrary: orthodox, called by name, for juniors of 10 to 12."""

    drill: Short
    about: Text | None = None
    level: Annotated[int, whole(1, MAX_LEVEL, "levels go")] = 1
    stance: Annotated[Literal["orthodox", "southpaw", "both"], choice("orthodox", "southpaw", "both", why=_STANCES)] = (
        "orthodox"
    )
    pace: Pace | None = None
    calls: Annotated[Literal["names", "numbers"], choice("names", "numbers")] = "names"
    counting: Annotated[Counting, choice(*get_args(Counting))] = "english"
    junior: YesNo = True
    ages: AgeBand | None = None
    safety: Annotated[Literal["full", "short"], choice("full", "short")] = "full"
    brief: YesNo = False
    gear: Annotated[tuple[Short, ...], as_list("Gear", 12)] = ()
    seed: Annotated[int, whole(0, 999_999_999, "seeds go")] | None = None
    voice: Short | None = None
    levels: Annotated[dict[int, str], PlainValidator(_levels_read, json_schema_input_type=described("Levels"))] = Field(
        default_factory=dict
    )
    words: Annotated[Words, PlainValidator(_words_read, json_schema_input_type=described("Words"))] = Field(
        default_factory=Words
    )
    steps: Steps

    @model_validator(mode="after")
    def _ages_of_juniors(self) -> Self:
        if self.ages and not self.junior:
            raise wrong("`ages` is for juniors; leave it out where `junior: no` says that only adults train")
        return self

    def level_words(self, level: int) -> str:
        """A level as it is spoken of: by its name, if the club has one."""
        return self.levels.get(level, f"level {level}")

    @property
    def said_aloud(self) -> Mapping[str, Aloud]:
        """How words are said where that is not as they are written, in all that is done: the drill's own come first."""
        return dict(pair for drill in (*_included(self.steps), self) for pair in drill.words.said.items())

    @property
    def photos(self) -> Mapping[str, Photo]:
        """The pictures of words in all that is done: the drill's own come first."""
        return dict(pair for drill in (*_included(self.steps), self) for pair in drill.words.photos.items())

    @property
    def whom(self) -> Ages | None:
        """The ages of the juniors that it is for; None for adults."""
        return (self.ages or USUAL) if self.junior else None


def _included(steps: tuple[StepNode, ...]) -> Iterator[Drill]:
    """The drills that steps include, and those that these include, the innermost first."""
    for step in steps:
        inner = step.inner()
        yield from _included(inner.steps if inner else ())
        if isinstance(step, Include):
            yield step.include.drill


for _model in (Repeat, Include, Drill):
    _model.model_rebuild()
