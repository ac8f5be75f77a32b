"""What the review finds, as values: where, how grave, why, and what would help."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from cornercue.folding import folded, line_at

Severity = Literal["warning", "hint"]


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """One finding, `at` a line and column, from 1; `text` tells the reason and `remedy` what to write instead.

    A warning is for what a head coach would want changed, a hint for what is worth a second look.
    """

    at: tuple[int, int]
    rule: str
    severity: Severity
    text: str
    remedy: str

    @property
    def line(self) -> int:
        return self.at[0]

    @property
    def column(self) -> int:
        return self.at[1]

    def told(self, file: str) -> str:
        """The finding as one line, such as `file:3:3: warning: flow: the reason; the remedy`."""
        return line_at(*self._placed(file))

    def _placed(self, file: str) -> tuple[str, str]:
        end = f"; {self.remedy}" if self.remedy else ""
        return f"{file}:{self.line}:{self.column}", f"{self.severity}: {self.rule}: {self.text}{end}"


def told(problems: Iterable[tuple[str, Problem]]) -> Iterator[str]:
    """Problems of files as lines; many of one kind as a few."""
    return folded(problem._placed(file) for file, problem in problems)
