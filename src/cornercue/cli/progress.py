"""A progress bar on standard error: seen by a person, silent in a pipe."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import click


@contextmanager
def bar(label: str) -> Iterator[Callable[[float], None]]:
    """Yields a function that takes the fraction done, 0 to 1. The bar appears with its first call."""
    steps = 1000
    with click.progressbar(length=steps, label=label, file=sys.stderr, hidden=not sys.stderr.isatty()) as shown:
        yield lambda fraction: shown.update(round(fraction * steps) - shown.pos)
