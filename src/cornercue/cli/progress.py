"""A progress bar on standard error: seen by a person, silent in a pipe."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from cornercue.session.progress import Progress

STEPS = 1000


@contextmanager
def bar(label: str) -> Iterator[Progress]:
    """Yields what hears the share done, 0 to 1. Where it falls back, other work has begun, and another bar."""
    hidden = not (sys.stderr and sys.stderr.isatty())
    with ExitStack() as stack:

        def another() -> Callable[[int], None]:
            shown = click.progressbar(length=STEPS, label=label, file=sys.stderr, hidden=hidden)
            return stack.enter_context(shown).update

        further, at = another(), 0

        def hear(share: float) -> None:
            nonlocal further, at
            if (now := round(share * STEPS)) < at:
                stack.pop_all().close()
                further, at = another(), 0
            further(now - at)
            at = now

        yield hear
