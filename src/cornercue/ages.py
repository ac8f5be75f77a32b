"""The ages of the juniors whom a drill is for, as a script writes them."""

from __future__ import annotations

import re
from dataclasses import dataclass

YOUNGEST, OLDEST = 4, 17
"""Years. Who is older is an adult here; the published tables that the engine goes by begin with four."""


@dataclass(frozen=True, slots=True)
class Ages:
    """An age band in years, both ends included. What is timed or limited goes by the youngest in it."""

    youngest: int
    oldest: int

    def __str__(self) -> str:
        return str(self.youngest) if self.youngest == self.oldest else f"{self.youngest}-{self.oldest}"


USUAL = Ages(10, 12)
"""Juniors of whom a script says no more."""


def ages_in(text: str) -> Ages | None:
    """`7-9`, `7 to 9` or `9`; None for anything else, and for what is no age of a junior."""
    found = re.fullmatch(r"\s*(\d{1,2})(?:\s*(?:-|–|to)\s*(\d{1,2}))?\s*", text)
    if not found:
        return None
    youngest, oldest = int(found[1]), int(found[2] or found[1])
    return Ages(youngest, oldest) if YOUNGEST <= youngest <= oldest <= OLDEST else None
