"""Levelling: calls in turn, announced as such, that bring both sides of every defence out even.

Draws that cannot be guessed leave sides a few calls apart (`draws.py`), and whatever evened them out at the end of a
random round would give its last calls away. So the session counts its calls, and a round with `order: even` makes up
for the difference where nobody is meant to guess.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import TypeVar

from cornercue.technique.sides import Side
from cornercue.timing.draws import Kind

T = TypeVar("T")

Ledger = Counter[tuple[str, Side | None]]
"""How often each defence was called on each side of the room so far in a drill, in rounds that call both sides: a
round of one side is the script's choice, and nothing makes up for it."""

LEVEL = 1
"""How many calls left and right of a defence may be apart when a session is level."""


def called(kinds: Sequence[Kind[T]], ledger: Ledger) -> list[int]:
    """How often each kind was called so far."""
    return [ledger[kind.defence, kind.side] for kind in kinds]


def owed(kinds: Sequence[Kind[T]], before: Sequence[int]) -> int:
    """How many calls it takes until every defence is level."""
    return sum(max(0, abs(lead) - LEVEL) for lead in _leads(kinds, before).values())


def evened(kinds: Sequence[Kind[T]], before: Sequence[int]) -> Iterator[T]:
    """Values without end, in turn: first of what is owed only, one call of each defence, around and around.

    Then every defence by pairs, the side that is behind first and left where neither is: from there on, wherever it
    is stopped, all stay level.
    """
    leads = _leads(kinds, before)
    while True:
        owing = [defence for defence in leads if abs(leads[defence]) > LEVEL]
        for defence in owing or leads:
            for kind in _pair(kinds, defence, leads)[: 1 if owing else 2]:
                leads[defence] += _STEP[kind.side]
                yield kind.value


_STEP: dict[Side | None, int] = {"left": 1, "right": -1, None: 0}


def _leads(kinds: Sequence[Kind[T]], before: Sequence[int]) -> dict[str, int]:
    """By how many calls the left of each defence is ahead."""
    leads = dict.fromkeys((kind.defence for kind in kinds), 0)
    for kind, times in zip(kinds, before, strict=True):
        leads[kind.defence] += _STEP[kind.side] * times
    return leads


def _pair(kinds: Sequence[Kind[T]], defence: str, leads: dict[str, int]) -> list[Kind[T]]:
    """The sides of a defence, the one that is behind first; a defence without sides is alone."""
    pair = [kind for kind in kinds if kind.defence == defence]
    return pair[::-1] if leads[defence] > 0 else pair
