"""What sound is here: frames of 16 bits, so many a second."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

SAMPLE_RATE = 22_050
"""Frames a second of every clip and track (Hz): that of espeak-ng and of the usual Piper voices."""

Samples = npt.NDArray[np.int16]
"""Shape (frames,), or (frames, channels)."""
