"""What everything that a script writes as a mapping has, and what every kind of step must answer about itself.

Rules, screens and sheets ask a step these questions instead of going by its kind. A kind that leaves one open is
refused by mypy (it is `final`, with an abstract method) and by Python as soon as a script has such a step.
"""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal

from pydantic import BaseModel, ConfigDict, Field
from pydantic.json_schema import SkipJsonSchema

from cornercue.script.silence import Silences
from cornercue.technique.move import Move
from cornercue.technique.sides import Stance

AT: Final = "(at)"
"""The key under which the reader hands a step its place; no script can write it and mean it."""

SaidAs = Literal["sentence", "name", "check point", "coaching cue", "text of `between`"]
"""What a text is that the voice says in a step: by it a rule knows how long it may be."""


@dataclass(frozen=True, slots=True)
class Said:
    """Words that a script has the voice say; `of` names the technique that a coaching cue is for."""

    what: SaidAs
    text: str
    of: str = ""


@dataclass(frozen=True, slots=True)
class Practice:
    """Moves that the student does in one go, so many times on average; `held`: positions, each held for a while."""

    moves: tuple[Move, ...]
    times: float
    held: bool = False


@dataclass(frozen=True, slots=True)
class Inner:
    """The steps that a step holds, all of them done so many times."""

    steps: tuple[StepNode, ...]
    times: int = 1


class ScriptNode(BaseModel):
    """A step or the script itself; `at` is its line and column, `silence` names rules that do not apply to it."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    at: SkipJsonSchema[tuple[int, int]] = Field((1, 1), alias="(at)")
    silence: Silences | None = None

    @property
    def line(self) -> int:
        return self.at[0]


class StepNode(ScriptNode):
    """A step. Its kind is the first key that its model writes, and answers these questions."""

    @abstractmethod
    def in_words(self, level: int) -> str:
        """The step in one line, as the sheet on paper has it: "Jab, cross: 6 times."."""

    @abstractmethod
    def said(self) -> tuple[Said, ...]:
        """The script's own words that the voice says in it; none of the steps that it holds."""

    @abstractmethod
    def practice(self, level: int, stance: Stance, written: Stance) -> tuple[Practice, ...]:
        """What a student of this level, standing in `stance`, does with techniques; `written` is the stance that the
        script's left and right are meant for."""

    @abstractmethod
    def drawn(self) -> tuple[tuple[Move, ...], ...]:
        """The combinations of which any may be called next; none where nothing is left to chance."""

    @abstractmethod
    def non_stop(self, level: int) -> float | None:
        """Seconds of work without a pause, in each stance; 0 where calls, sets or talk part it, None without work."""

    @abstractmethod
    def inner(self) -> Inner | None:
        """The steps that it holds, if it holds any."""


def points_of(step: StepNode) -> Iterator[str]:
    """The coaching points of a step, or of the steps in it, then each once."""
    if inner := step.inner():
        yield from dict.fromkeys(point for one in inner.steps for point in points_of(one))
    for said in step.said():
        if said.what in ("check point", "coaching cue"):
            yield f"{said.of}: {said.text}" if said.of else said.text


def opener_of(model: type[StepNode]) -> str:
    """The key that opens a step of this kind: the first of its own."""
    return keys_of(model)[0]


def keys_of(model: type[ScriptNode]) -> tuple[str, ...]:
    """The keys that a script may write, its own before the one that every step may have."""
    names = [field.alias or name for name, field in model.model_fields.items() if name not in ScriptNode.model_fields]
    return (*names, "silence")
