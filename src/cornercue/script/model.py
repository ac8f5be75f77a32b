"""The drill script as values: one frozen model a step kind. What is written here is the script language.

The reader and `cornercue schema` are both made from these models, so they cannot drift apart.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Any, Final, Literal, Self

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Discriminator,
    Field,
    PlainValidator,
    Tag,
    ValidationInfo,
    model_validator,
)
from pydantic.json_schema import SkipJsonSchema

from cornercue.script.fields import (
    MAX_LEVEL,
    Amount,
    Angle,
    Duration,
    Pace,
    Reps,
    RestTime,
    Short,
    Text,
    YesNo,
    as_list,
    choice,
    whole,
    wrong,
)
from cornercue.script.moves import Taught, WrittenMove, WrittenPosition, position_of, split_numbers, taught_of
from cornercue.technique.move import Move

AT: Final = "(at)"
"""The key under which the reader hands a step its place; no script can write it and mean it."""


class _Written(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class _Step(_Written):
    at: SkipJsonSchema[tuple[int, int]] = Field((1, 1), alias="(at)")

    @property
    def line(self) -> int:
        return self.at[0]


class Say(_Step):
    """Words to say."""

    say: Text


class Rest(_Step):
    """A rest; its last seconds count the student in again."""

    rest: RestTime


class Combination(_Step):
    """Techniques called together, repetition by repetition."""

    combination: Annotated[
        tuple[Annotated[Taught, PlainValidator(taught_of, json_schema_input_type=WrittenMove)], ...],
        BeforeValidator(split_numbers),
        as_list(WrittenMove, 16),
    ]
    teach: Annotated[int, whole(0, 20, "slow repetitions go")] = 0
    reps: Reps = Amount(6)
    angles: Annotated[tuple[Angle, ...], as_list(Angle, 12)] = (0,)
    every: Duration | None = None
    between: Short | None = None
    pace: Pace | None = None

    @property
    def moves(self) -> tuple[Move, ...]:
        return tuple(taught.move for taught in self.combination)


class Exercise(_Step):
    """An exercise, counted (`reps`) or timed (`for`), in sets."""

    exercise: Short
    reps: Reps | None = None
    for_: Duration | None = Field(None, alias="for")
    sets: Annotated[int, whole(1, 20, "sets go")] = 1
    every: Duration | None = None
    rest: RestTime | None = None
    check: Annotated[tuple[Text, ...], as_list(Text, 10)] = ()

    @model_validator(mode="after")
    def _counted_or_timed(self) -> Self:
        if (self.reps is None) == (self.for_ is None):
            raise wrong("an exercise needs either `reps: 10` or `for: 1 min`, and not both")
        if self.every is not None and self.for_ is not None:
            raise wrong("`every` spaces counted repetitions; leave it out of a timed exercise")
        return self


class Hold(_Step):
    """A technique held still, on one side or on both."""

    hold: Annotated[tuple[Move, ...], PlainValidator(position_of, json_schema_input_type=WrittenPosition)]
    for_: Duration = Field(10.0, alias="for")
    sides: Annotated[Literal["left", "right", "both"] | None, choice("left", "right", "both")] = None
    sets: Annotated[int, whole(1, 20, "sets go")] = 1
    rest: RestTime | None = None
    check: Annotated[tuple[Text, ...], as_list(Text, 10)] = ()

    @model_validator(mode="after")
    def _one_choice_of_side(self) -> Self:
        if self.sides and len(self.hold) == 1:
            raise wrong("there is only one side to hold here; leave out `sides`, or the word lead, rear, left or right")
        return self


class Repeat(_Step):
    """Steps done again and again, with a rest between."""

    repeat: Annotated[int, whole(1, 100, "repeats go")]
    rest: RestTime | None = None
    steps: Steps


class Include(_Step):
    """Another drill of the same folder, done in full at this place."""

    include: Annotated[Included, PlainValidator(lambda value, info: _opened(value, info), json_schema_input_type=str)]


@dataclass(frozen=True)
class Included:
    """The drill that an `include` names, with the file it came from."""

    file: str
    drill: Drill


def _opened(value: Any, info: ValidationInfo) -> Included:
    opener: Callable[[Any], Included] | None = (info.context or {}).get("open")
    if opener is None:
        raise wrong("`include` works only in a script that is a file")
    return opener(value)


STEP_KINDS: dict[str, type[_Step]] = {
    "say": Say,
    "combination": Combination,
    "exercise": Exercise,
    "hold": Hold,
    "rest": Rest,
    "repeat": Repeat,
    "include": Include,
}
"""The step kinds by the key that opens them; a new kind is a model, a row here and an expander in `timing`."""


def kind_of(value: Any) -> str | None:
    """The kind of a written step: the first of its keys that opens a step."""
    if isinstance(value, dict):
        return next((key for key in value if key in STEP_KINDS), None)
    return next((kind for kind, model in STEP_KINDS.items() if isinstance(value, model)), None)


Step = Annotated[
    Annotated[Say, Tag("say")]
    | Annotated[Combination, Tag("combination")]
    | Annotated[Exercise, Tag("exercise")]
    | Annotated[Hold, Tag("hold")]
    | Annotated[Rest, Tag("rest")]
    | Annotated[Repeat, Tag("repeat")]
    | Annotated[Include, Tag("include")],
    Discriminator(kind_of),
]
Steps = Annotated[tuple[Step, ...], Field(min_length=1, max_length=500)]


class Drill(_Written):
    """One drill script. Without a word to the contrary: orthodox, steady, called by name, for juniors."""

    drill: Short
    about: Text | None = None
    level: Annotated[int, whole(1, MAX_LEVEL, "levels go")] = 1
    stance: Annotated[Literal["orthodox", "southpaw", "both"], choice("orthodox", "southpaw", "both")] = "orthodox"
    pace: Pace | None = None
    calls: Annotated[Literal["names", "numbers"], choice("names", "numbers")] = "names"
    junior: YesNo = True
    gear: Annotated[tuple[Short, ...], as_list(Short, 12)] = ()
    seed: Annotated[int, whole(0, 999_999_999, "seeds go")] | None = None
    voice: Short | None = None
    steps: Steps


for _model in (Repeat, Include, Drill):
    _model.model_rebuild()
