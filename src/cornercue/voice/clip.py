"""A clip: the sound of one phrase, trimmed and levelled."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from cornercue.sound import SAMPLE_RATE, Samples
from cornercue.voice.beat import LOUDEST, STRONG, beat_of

UNSTRESSED_FIRST = frozenset({"eleven"})
"""Counts that begin with an unstressed syllable: this one, of all from 1 to 99 in the languages that are counted in."""


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
        return beat_of(self.samples, SAMPLE_RATE, LOUDEST if self.text in UNSTRESSED_FIRST else STRONG)
