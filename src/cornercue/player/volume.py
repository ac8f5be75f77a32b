"""How loud the student wants it: ten steps down from the track as it was made."""

from __future__ import annotations

import numpy as np

from cornercue.sound import Samples

LOUDEST, STEP = 10, 3.0
"""The number of steps, and decibels from one to the next."""


def turned(volume: int, by: int) -> int:
    """The step that is `by` louder, as far as there is one."""
    return min(max(volume + by, 1), LOUDEST)


def scaled(block: Samples, volume: int) -> Samples:
    """Int16 samples at a step from 1 to 10. The loudest leaves them as they are."""
    if volume == LOUDEST:
        return block
    softer: Samples = np.round(block * 10 ** ((volume - LOUDEST) * STEP / 20)).astype(np.int16)
    return softer
