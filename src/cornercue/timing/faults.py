"""Faults of a script that only show when it is laid out in time."""

from __future__ import annotations

from cornercue.errors import InputFault


class TimingFault(InputFault):
    """`line` is the step at fault; the text says what is wrong and what would do."""

    def __init__(self, line: int, text: str) -> None:
        self.line = line
        super().__init__(text)


class TooLong(TimingFault):
    """A drill that would go on for more than six hours."""

    def __init__(self, line: int) -> None:
        super().__init__(line, "here the drill passes six hours; ask for fewer repetitions or shorter rounds")
