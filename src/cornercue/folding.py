"""Many lines of one kind told as a few, and a long one cut to what is read: what a person can take in."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator

from cornercue.printable import in_one_line

MOST_OF_A_KIND = 20
"""Lines of one kind that are told; of the others their number is."""

LONGEST = 240
"""Characters of a line: three lines of 80 columns."""

LEAST = 160
"""Characters that a sentence has, however long the name of its file is."""

_QUOTED = re.compile(r"`[^`]*`|“[^”]*”|«[^»]*»")
_LONG_QUOTE = 40


def line_at(place: str, text: str) -> str:
    """The line that tells of something at `file:line:column`, in no more than three lines of a terminal."""
    where = in_one_line(place)
    return f"{where}: {_shortened(in_one_line(text), max(LEAST, LONGEST - len(where) - 2))}"


def folded(lines: Iterable[tuple[str, str]]) -> Iterator[str]:
    """Places and texts as lines. Of more than twenty of a kind, the first twenty and at the next place the rest."""
    told = list(lines)
    kinds = [_kind(text) for _, text in told]
    number, seen = Counter(kinds), Counter[str]()
    for (place, text), kind in zip(told, kinds, strict=True):
        seen[kind] += 1
        if seen[kind] <= MOST_OF_A_KIND:
            yield line_at(place, text)
        elif seen[kind] == MOST_OF_A_KIND + 1:
            yield line_at(place, f"... and {number[kind] - MOST_OF_A_KIND:,} more like this")


def _kind(text: str) -> str:
    """What texts have in common that say the same of different words: all up to the remedy, but for quotes, figures."""
    return re.sub(r"\d+(?:\.\d+)?", "0", _QUOTED.sub("…", text)).partition(";")[0]


def _shortened(text: str, most: int) -> str:
    """Long quotes are cut first, the longest as much as it needs; then, where that is not enough, the end."""
    for quote in sorted(_QUOTED.findall(text), key=len, reverse=True):
        over = len(text) - most
        if over <= 0 or len(quote) <= _LONG_QUOTE:
            break
        kept = max(_LONG_QUOTE, len(quote) - over) - 2
        text = text.replace(quote, f"{quote[:kept]}…{quote[-1]}", 1)
    return text if len(text) <= most else f"{text[: most - 1]}…"
