"""What speech is to the rest of the program: any phrase as a clip, whoever says it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from types import TracebackType
from typing import Protocol, Self

from cornercue.voice.clip import Clip

Phrase = tuple[str, float]
"""Text and rate."""

PhrasesMade = Callable[[int, int], None]
"""Told how many phrases of how many are made."""


class Speech(Protocol):
    """Clips of phrases. Use it from one thread, in a `with`, or close it."""

    name: str
    """What a script or `--voice` calls it."""

    @property
    def identity(self) -> str:
        """What tells this speech and its version from every other, known without saying anything."""

    def clip(self, text: str, rate: float = 1.0) -> Clip:
        """`text` spoken, `rate` (0.5 to 2) times as fast as normal. Raises InputFault, MachineLacks."""

    def beat(self, text: str, rate: float = 1.0) -> float:
        """Seconds from the start of `clip` to the moment at which it is heard to fall."""

    def warm(self, phrases: Iterable[Phrase], progress: PhrasesMade | None = None) -> None:
        """Make the clips that are missing, all at once; `progress` hears how far it is.

        Raises InputFault, MachineLacks.
        """

    def close(self) -> None:
        """End what was started; clips made before stay at hand."""

    def seconds(self, text: str, rate: float = 1.0) -> float:
        """How long `clip` lasts, in seconds."""
        return self.clip(text, rate).seconds

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()
