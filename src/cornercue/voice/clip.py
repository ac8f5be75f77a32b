"""A clip: the sound of one phrase, trimmed and levelled."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

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
