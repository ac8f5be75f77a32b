"""What a voice is to the rest of the package: something that turns words into raw sound. One file a voice."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

import numpy as np
import numpy.typing as npt

from cornercue.errors import MachineLacks

Floats = npt.NDArray[np.float32]
"""Samples, shape (frames,), 1.0 is full scale."""


@dataclass(frozen=True, eq=False)
class RawSound:
    """Sound as a voice gives it: mono, at any level, with silence round it; `rate` in hertz."""

    samples: Floats
    rate: int


@dataclass(frozen=True, slots=True)
class VoiceDescription:
    """What a voice speaks, in English, and where it comes from."""

    language: str
    origin: str


@dataclass(frozen=True, slots=True)
class VoiceEntry:
    """A voice by its name, what it speaks, where it comes from; or why it is not there."""

    name: str
    language: str = ""
    origin: str = ""
    lack: str = ""


class LacksLanguage(MachineLacks):
    """The machine has no voice of a language."""


class Voice(Protocol):
    """A source of speech. The same text and rate must always give the same samples."""

    @property
    def identity(self) -> str:
        """What tells this voice and its version from every other, known without loading it."""

    @property
    def description(self) -> VoiceDescription:
        """What `cornercue voice list` tells of it, known without loading it."""

    @property
    def at_once(self) -> int:
        """How many threads may usefully call `say` at the same time."""

    def say(self, text: str, rate: float) -> RawSound:
        """`text` (plain words) spoken, `rate` times as fast as normal. Raises MachineLacks."""

    def close(self) -> None:
        """End what was started; nothing is said after it."""
