"""The nearest known word, offered wherever a word is not known."""

from __future__ import annotations

import difflib
from collections.abc import Sequence

LONGER, LONG = 5, 7
"""Letters of a written word from which a letter missing or too many, and a wrong one, are taken for a slip. Own choice,
after the words of a dictionary that it would take for slips."""


def nearest(word: str, known: Sequence[str]) -> str | None:
    """The known word that looks most like `word`, if one is close enough to offer."""
    found = difflib.get_close_matches(word.lower(), known, n=1, cutoff=0.6)
    return found[0] if found else None


def slip_of(word: str, known: Sequence[str]) -> str | None:
    """The known word that this one looks like a slip of the fingers for, if it does.

    Stricter than `nearest`, for places where any word may stand: "stop" is none for "step", nor "over" for "cover".
    """
    return next((one for one in known if abs(len(one) - len(word)) <= 1 and _one_slip(word, one)), None)


def _one_slip(word: str, known: str) -> bool:
    """Whether neighbours are swapped or a letter is doubled; in a longer word, whether one is missing or too many (but
    not at its end: "kneel", "steps"), or in a long one wrong. In short words these mostly make another real word."""
    start = _alike_at_start(word, known)
    end = _alike_at_start(word[start:][::-1], known[start:][::-1])
    here, there = word[start : len(word) - end], known[start : len(known) - end]
    if sorted(map(len, (here, there))) == [0, 1]:
        letter, longer = here or there, max(word, known, key=len)
        return longer[start - 1 : start] == letter or (len(word) >= LONGER and start < len(known))
    swapped = len(here) == 2 and here == there[::-1]
    return swapped or (len(here) == len(there) == 1 and len(word) >= LONG)


def _alike_at_start(one: str, other: str) -> int:
    """With how many letters alike the two begin."""
    return next((at for at, (a, b) in enumerate(zip(one, other, strict=False)) if a != b), min(len(one), len(other)))


def offer(word: str, known: Sequence[str], otherwise: str = "") -> str:
    """ "did you mean `parry`?" where a known word is near; else `otherwise`, or all of them: "one of `a`, `b`"."""
    if close := nearest(word, known):
        return f"did you mean `{close}`?"
    return otherwise or f"one of {listed(known)}"


def listed(words: Sequence[str]) -> str:
    """Words as code, with commas."""
    return ", ".join(f"`{word}`" for word in words)
