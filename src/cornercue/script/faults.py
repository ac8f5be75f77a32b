"""What is wrong with a script, as values: file, line, column and a sentence."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from cornercue.errors import InputFault
from cornercue.printable import in_one_line


@dataclass(frozen=True, slots=True, order=True)
class Fault:
    """One fault; lines and columns count from 1. The text says what is wrong and what would be right."""

    file: str
    line: int
    column: int
    text: str

    def __str__(self) -> str:
        return in_one_line(f"{self.file}:{self.line}:{self.column}: {self.text}")


class ScriptFaults(InputFault):
    """Everything that is wrong with one script, in the order of its lines."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        self.faults = tuple(sorted(set(faults)))
        super().__init__("\n".join(map(str, self.faults)))


class ClubFaults(ScriptFaults):
    """Everything that is wrong with a club's file: no script of its library is read until it is mended."""
