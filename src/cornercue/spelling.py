"""The nearest known word, offered wherever a word is not known."""

from __future__ import annotations

import difflib
from collections.abc import Sequence


def nearest(word: str, known: Sequence[str]) -> str | None:
    """The known word that looks most like `word`, if one is close enough to offer."""
    found = difflib.get_close_matches(word.lower(), known, n=1, cutoff=0.6)
    return found[0] if found else None


def offer(word: str, known: Sequence[str], otherwise: str = "") -> str:
    """ "did you mean `parry`?" where a known word is near; else `otherwise`, or all of them: "one of `a`, `b`"."""
    if close := nearest(word, known):
        return f"did you mean `{close}`?"
    return otherwise or f"one of {listed(known)}"


def listed(words: Sequence[str]) -> str:
    """Words as code, with commas."""
    return ", ".join(f"`{word}`" for word in words)
