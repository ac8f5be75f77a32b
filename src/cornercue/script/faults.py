"""What is wrong with a script, as values: file, line, column and a sentence."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from cornercue.errors import InputFault
from cornercue.folding import folded, line_at


@dataclass(frozen=True, slots=True, order=True)
class Fault:
    """One fault; lines and columns count from 1. The text says what is wrong and what would be right."""

    file: str
    line: int
    column: int
    text: str

    def __str__(self) -> str:
        return line_at(self.place, self.text)

    @property
    def place(self) -> str:
        """Where it is: "a.yaml:3:14"."""
        return f"{self.file}:{self.line}:{self.column}"


def told(faults: Iterable[Fault]) -> Iterator[str]:
    """Faults as lines; many of one kind as a few."""
    return folded((fault.place, fault.text) for fault in faults)


class ScriptFaults(InputFault):
    """Everything that is wrong with one script, in the order of its lines."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        self.faults = tuple(sorted(set(faults)))
        super().__init__("\n".join(told(self.faults)))


class ClubFaults(ScriptFaults):
    """Everything that is wrong with a club's file: no script of its library is read until it is mended."""
