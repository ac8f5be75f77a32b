"""How long work tells how far it is."""

from __future__ import annotations

from collections.abc import Callable

Progress = Callable[[float], None]
"""Hears the share that is done of the work in hand, 0 to 1; a smaller share than before is of work that follows it."""


def unheard(share: float) -> None:
    """For whoever does not want to hear it."""
