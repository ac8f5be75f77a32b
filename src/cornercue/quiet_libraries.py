"""Keeps a sound library's own chatter off the screen."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def quiet_stderr() -> Iterator[None]:
    """Send file descriptor 2 nowhere: ALSA prints a page of its innards there before it says "no device", and
    libmpg123 what it thinks of an MP3.
    """
    if not sys.stderr:  # nothing reaches anybody, and its number may be that of a file by now
        yield
        return
    sys.stderr.flush()
    kept = os.dup(2)
    nowhere = os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nowhere, 2)
        yield
    finally:
        os.dup2(kept, 2)
        os.close(kept)
        os.close(nowhere)
