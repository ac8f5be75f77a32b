"""A clip: the sound of one phrase, trimmed and levelled."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from cornercue.sound import SAMPLE_RATE, Samples
from cornercue.voice.beat import beat_of


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
