"""What every step of a script has: its place in the file, and the refusal of keys that nobody knows."""

from __future__ import annotations

from typing import Final

from pydantic import BaseModel, ConfigDict, Field
from pydantic.json_schema import SkipJsonSchema

AT: Final = "(at)"
"""The key under which the reader hands a step its place; no script can write it and mean it."""


class Written(BaseModel):
    """Something that a script writes as a mapping."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class WrittenStep(Written):
    """A step; `at` is its line and column."""

    at: SkipJsonSchema[tuple[int, int]] = Field((1, 1), alias="(at)")

    @property
    def line(self) -> int:
        return self.at[0]
