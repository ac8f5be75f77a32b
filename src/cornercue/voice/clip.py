"""A clip: the sound of one phrase, trimmed and levelled."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from cornercue.voice.beat import beat_of

SAMPLE_RATE = 22_050
"""Frames a second of every clip and track (Hz)."""

Samples = npt.NDArray[np.int16]


@dataclass(frozen=True, eq=False)
class Clip:
    """Mono samples, shape (frames,), int16, at `SAMPLE_RATE`; the first and the last frame are audible."""

    text: str
    samples: Samples

    @property
    def seconds(self) -> float:
        """How long the clip lasts, in seconds."""
        return len(self.samples) / SAMPLE_RATE

    @cached_property
    def beat(self) -> float:
        """Seconds from the first frame to the moment at which the phrase is heard to fall."""
        return beat_of(self.samples, SAMPLE_RATE)
