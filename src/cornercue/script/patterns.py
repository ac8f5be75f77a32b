"""Regular expressions for the JSON Schema, in what JavaScript and Python both understand."""

from __future__ import annotations

import re
from collections.abc import Iterable

GAP = r"[\s_-]"
"""What parts the words of a name: the lookup takes hyphens and underscores for spaces."""

END = r"(?:,(?!\s*$)|$)"
"""After an entry of a text with commas."""


def any_case(words: Iterable[str]) -> str:
    """Any of these words, in capitals or not; as short as their common beginnings make it."""
    tree: dict[str, object] = {}
    for word in words:
        here = tree
        for letter in word:
            inner = here.setdefault(letter, {})
            assert isinstance(inner, dict)
            here = inner
        here[""] = {}
    return _branches(tree)


def _branches(tree: dict[str, object]) -> str:
    ends = "" in tree
    parts = [f"{_letter(letter)}{_branches(inner)}" for letter, inner in sorted(tree.items())
             if letter and isinstance(inner, dict)]  # fmt: skip
    if not parts:
        return "" if ends else "(?!)"
    return f"(?:{'|'.join(parts)})?" if ends else parts[0] if len(parts) == 1 else f"(?:{'|'.join(parts)})"


def _letter(letter: str) -> str:
    """A letter in either case; a space as whatever may part two words."""
    if letter == " ":
        return f"{GAP}+"
    upper = letter.upper()
    return f"[{letter}{upper}]" if len(upper) == 1 and upper != letter else re.sub(r"[^\w'<>]", r"\\\g<0>", letter)


def up_to(most: int) -> str:
    """The whole numbers from 1 to `most`, without zeros before them."""
    figures = str(most)
    parts = [rf"[1-9]\d{{0,{len(figures) - 2}}}"] if len(figures) > 1 else []
    for at, figure in enumerate(figures):
        least = 0 if at else 1
        if int(figure) > least:
            parts.append(rf"{figures[:at]}[{least}-{int(figure) - 1}]" + r"\d" * (len(figures) - at - 1))
    return f"(?:{'|'.join([*parts, figures])})"


def whole_number(most: int) -> str:
    """A whole number from 1 to `most`, with zeros before it or not."""
    return rf"0*{up_to(most)}"


def entries(one: str, most: int) -> str:
    """A text with commas of at most so many entries, each of which fits."""
    return rf"^(?:{one}{END}){{1,{most}}}$"


def full(one: str) -> str:
    """The whole text, with space around it or not."""
    return rf"^\s*(?:{one})\s*$"
