"""What everything that a script writes as a mapping has: its place, what it silences, and no keys that nobody knows."""

from __future__ import annotations

from typing import Final

from pydantic import BaseModel, ConfigDict, Field
from pydantic.json_schema import SkipJsonSchema

from cornercue.script.silence import Silences

AT: Final = "(at)"
"""The key under which the reader hands a step its place; no script can write it and mean it."""


class ScriptNode(BaseModel):
    """A step or the script itself; `at` is its line and column, `silence` names rules that do not apply to it."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    at: SkipJsonSchema[tuple[int, int]] = Field((1, 1), alias="(at)")
    silence: Silences | None = None

    @property
    def line(self) -> int:
        return self.at[0]


class StepNode(ScriptNode):
    """A step."""


def keys_of(model: type[ScriptNode]) -> tuple[str, ...]:
    """The keys that a script may write, its own before the one that every step may have."""
    names = [field.alias or name for name, field in model.model_fields.items() if name not in ScriptNode.model_fields]
    return (*names, "silence")
