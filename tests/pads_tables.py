"""The rows of docs/pads.md, made from the table of pads and the engine's own words: `python tests/pads_tables.py`."""

from __future__ import annotations

from collections.abc import Iterator

from cornercue.pads.table import ADULTS_ONLY, HELD, LEFT_OUT
from cornercue.technique.lookup import resolve_base
from cornercue.timing.holding import to_holder, to_student
from cornercue.timing.phrasebook import phrasebook


def rows() -> Iterator[str]:
    """A row for each technique that is held for, with the lead and then the rear side."""
    book = phrasebook()
    for base in HELD:
        for move in resolve_base(base):
            cells = (move.technique.name, to_holder(book, move, "orthodox"), to_student(book, move, "orthodox"))
            yield f"| {' | '.join(cells)} |"


def left_out() -> Iterator[str]:
    """A row for each technique that is not held for, with the reason."""
    for reasons, who in ((ADULTS_ONLY, "children and teenagers"), (LEFT_OUT, "nobody")):
        for base, reason in reasons.items():
            whom = f"held for adults only, not for {who}" if reasons is ADULTS_ONLY else "held for nobody"
            yield f"| {base} | {whom} | {reason} |"


if __name__ == "__main__":
    print(*rows(), sep="\n")
    print()
    print(*left_out(), sep="\n")
