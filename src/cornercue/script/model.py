"""The drill script as values: steps, and the drill that holds them.

The reader and `cornercue schema` are both made from these models, so they cannot drift apart.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Any, Literal

from pydantic import Discriminator, Field, PlainValidator, Tag, ValidationInfo

from cornercue.script.fields import MAX_LEVEL, Pace, RestTime, Short, Text, YesNo, as_list, choice, whole, wrong
from cornercue.script.random_calls import Partner, Shadow
from cornercue.script.solo import Combination, Exercise, Hold, Rest, Say
from cornercue.script.step import ScriptNode, StepNode

Counting = Literal["english", "korean", "japanese"]
"""The language in which repetitions are counted aloud."""


class Repeat(StepNode):
    """Steps done again and again, with a rest between."""

    repeat: Annotated[int, whole(1, 100, "repeats go")]
    rest: RestTime | None = None
    steps: Steps


class Include(StepNode):
    """Another drill of the same folder, done in full at this place."""

    include: Annotated[
        IncludedDrill, PlainValidator(lambda value, info: _opened(value, info), json_schema_input_type=str)
    ]


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


STEP_KINDS: dict[str, type[StepNode]] = {
    "say": Say,
    "combination": Combination,
    "exercise": Exercise,
    "hold": Hold,
    "shadow": Shadow,
    "partner": Partner,
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
    | Annotated[Shadow, Tag("shadow")]
    | Annotated[Partner, Tag("partner")]
    | Annotated[Rest, Tag("rest")]
    | Annotated[Repeat, Tag("repeat")]
    | Annotated[Include, Tag("include")],
    Discriminator(kind_of),
]
Steps = Annotated[tuple[Step, ...], Field(min_length=1, max_length=500)]


class Drill(ScriptNode):
    """One drill script. Without a word to the contrary: orthodox, steady, called by name, for juniors."""

    drill: Short
    about: Text | None = None
    level: Annotated[int, whole(1, MAX_LEVEL, "levels go")] = 1
    stance: Annotated[Literal["orthodox", "southpaw", "both"], choice("orthodox", "southpaw", "both")] = "orthodox"
    pace: Pace | None = None
    calls: Annotated[Literal["names", "numbers"], choice("names", "numbers")] = "names"
    counting: Annotated[Counting, choice("english", "korean", "japanese")] = "english"
    junior: YesNo = True
    safety: Annotated[Literal["full", "short"], choice("full", "short")] = "full"
    brief: YesNo = False
    gear: Annotated[tuple[Short, ...], as_list(Short, 12)] = ()
    seed: Annotated[int, whole(0, 999_999_999, "seeds go")] | None = None
    voice: Short | None = None
    steps: Steps


for _model in (Repeat, Include, Drill):
    _model.model_rebuild()
