"""Reactions: calls of any kind drawn at random, techniques as well as free words such as "left" or "freeze"."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Annotated, Any, Self, final

from pydantic import BeforeValidator, ConfigDict, Field, PlainValidator, ValidationInfo, model_validator

from cornercue.durations import lasting
from cornercue.errors import InputFault
from cornercue.script.between import BetweenWords
from cornercue.script.described import described, one_length
from cornercue.script.doses import Reps, Seconds
from cornercue.script.fields import Duration, Gap, Pace, as_list, seconds_of, text_of, wrong
from cornercue.script.moves import looks_numbered, vocabulary, written_stance
from cornercue.script.random_calls import calls_on_average, weighed, weight_of
from cornercue.script.step import Inner, Practice, Said, StepNode
from cornercue.script.written import place_of
from cornercue.spelling import offer, slip_of
from cornercue.technique.lookup import UnknownTechnique, resolve
from cornercue.technique.move import Move
from cornercue.technique.sides import LIMBS, SIDES, Stance
from cornercue.technique.vocabulary import Vocabulary, normalise

MOST_CALLS = 16
"""Calls of one step."""

LONGEST_CALL = 40
"""Characters of a free word: a call is heard while moving. Own choice."""


@dataclass(frozen=True, slots=True)
class ReactCall:
    """What may be called, and how often it comes against the others: a technique, or where `move` is None free words.

    `slip` is the technique that a free word may be a misspelling of.
    """

    text: str
    move: Move | None = None
    weight: float = 1.0
    slip: str | None = None

    @property
    def name(self) -> str:
        """What it is called on paper."""
        return self.move.name if self.move else self.text

    def words(self, stance: Stance, numbers: bool = False) -> str:
        """How it is called: a technique for this stance, a free word as it is written."""
        return self.move.words(stance, numbers) if self.move else self.text


def call_of(value: Any, info: ValidationInfo) -> ReactCall:
    """`sprawl`, or a call with its weight."""
    written, weight = value if isinstance(value, tuple) else (value, "1")
    if isinstance(written, list) or (isinstance(written, str) and ("," in written or looks_numbered(written))):
        raise wrong("one call belongs here; combinations drawn at random are `shadow: [[jab, cross], [lead hook]]`")
    text = text_of(written)
    if len(text) > LONGEST_CALL:
        raise wrong(f"a call of {len(text)} characters is too long to react to; at most {LONGEST_CALL} fit here")
    known = vocabulary(info)
    try:
        move = resolve(text, written_stance(info), known)
    except UnknownTechnique:
        return ReactCall(text, weight=weight_of(text, weight), slip=_slip(text, known))
    except InputFault as fault:
        raise wrong(str(fault)) from None
    return ReactCall(text, replace(move, at=place_of(written)), weight_of(text, weight))


def _slip(text: str, known: Vocabulary) -> str | None:
    """The technique that these words look like a misspelling of, with or without the side that they name."""
    words = normalise(text)
    bare = " ".join(word for word in words.split() if word not in {*SIDES, *LIMBS})
    return slip_of(words, known.known) or slip_of(bare, known.known)


def _times_of(value: Any) -> dict[str, float] | float:
    """`2 s` for all free words, or a table of calls with the time that each takes."""
    if not isinstance(value, dict):
        return seconds_of(value)
    if not value:
        raise wrong("a call and its time belong here, such as `{freeze: 3 s}`")
    return {normalise(str(name)): seconds_of(time) for name, time in value.items()}


_Times = Annotated[
    dict[str, float] | float,
    PlainValidator(_times_of, json_schema_input_type=described("CallTimes")),
]


@final
class React(StepNode):
    """Calls of any kind, drawn at random, each with the time to do it."""

    model_config = ConfigDict(json_schema_extra=one_length())

    react: Annotated[
        tuple[Annotated[ReactCall, PlainValidator(call_of)], ...],
        as_list("Calls", MOST_CALLS),
        BeforeValidator(weighed),
    ]
    for_: Seconds | None = Field(None, alias="for")
    reps: Reps | None = None
    seconds: _Times | None = None
    gap: Gap | None = None
    pace: Pace | None = None
    between: BetweenWords | None = None
    then: Duration | None = None

    @model_validator(mode="after")
    def _one_length_each_call_once_and_times_for_calls(self) -> Self:
        if (self.for_ is None) == (self.reps is None):
            raise wrong("reactions need either `for: 1 min` or `reps: 20`, the number of calls, and not both")
        names = [normalise(call.text) for call in self.react]
        for name in names:
            if names.count(name) > 1:
                raise wrong(f"`{name}` stands there twice; give it a weight instead: `{{{name}: 2}}`")
        for name in self._own_times():
            if name not in names:
                raise wrong(f"`seconds` has a time for `{name}`, which is not called; {offer(name, names)}")
        for call in self.react:
            if call.slip and normalise(call.text) not in self._own_times():
                raise wrong(
                    f"`{call.text}` is not a technique; did you mean `{call.slip}`? "
                    f"If it is a word of its own, give it its time: `seconds: {{{call.text}: 2 s}}`"
                )
        return self

    def _own_times(self) -> dict[str, float]:
        return self.seconds if isinstance(self.seconds, dict) else {}

    def seconds_for(self, call: ReactCall) -> float | None:
        """Seconds that a call takes, where the script says: by its own time, or that of all free words."""
        shared = self.seconds if isinstance(self.seconds, float) and call.move is None else None
        return self._own_times().get(normalise(call.text), shared)

    def in_words(self, level: int) -> str:
        dose = lasting(self.for_.at(level)) if self.for_ else f"{self.reps.at(level) if self.reps else 0} calls"
        return f"Reactions: {', '.join(call.name for call in self.react)}, {dose}."

    def said(self) -> tuple[Said, ...]:
        free = (Said("name", call.text) for call in self.react if call.move is None)
        return (*free, *([Said("text of `between`", self.between.text)] if self.between else ()))

    def practice(self, level: int, stance: Stance, written: Stance) -> tuple[Practice, ...]:
        """Each technique by its weight; free words are none."""
        calls = self.reps.at(level) if self.reps else calls_on_average(self.non_stop(level), self.gap)
        share = calls / sum(call.weight for call in self.react)
        return tuple(Practice((call.move,), share * call.weight) for call in self.react if call.move)

    def drawn(self) -> tuple[tuple[Move, ...], ...]:
        return tuple((call.move,) for call in self.react if call.move)

    def non_stop(self, level: int) -> float:
        return self.for_.at(level) if self.for_ else 0.0

    def inner(self) -> Inner | None:
        return None
