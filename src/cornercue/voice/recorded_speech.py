"""Speech from a recorded pack, with another voice for what the pack lacks."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path

from cornercue.voice.clip import Clip
from cornercue.voice.pack import Pack
from cornercue.voice.speech import Phrase, PhrasesMade, Speech


class RecordedSpeech(Speech):
    """A pack's clips, else those of a fallback. A recorded phrase has one rate: its own."""

    def __init__(self, folder: Path, fallback: Callable[[], Speech]) -> None:
        """The fallback is not opened before a phrase is lacking. Raises InputFault."""
        self.name = str(folder)
        self.pack = Pack(folder)
        self._open = fallback
        self._other: Speech | None = None
        self._clips: dict[str, Clip] = {}

    @property
    def identity(self) -> str:
        """What tells this pack, with its fallback, from every other voice."""
        return f"{self.pack.identity}; {self._fallback().identity}"

    def clip(self, text: str, rate: float = 1.0) -> Clip:
        """`text` as recorded, at whatever rate, else from the fallback. Raises InputFault, MachineLacks."""
        if text not in self._clips:
            samples = self.pack.samples(text)
            if samples is None:
                return self._fallback().clip(text, rate)
            self._clips[text] = Clip(text, samples)
        return self._clips[text]

    def beat(self, text: str, rate: float = 1.0) -> float:
        """Seconds from the start of `clip` to the moment at which it is heard to fall."""
        return self.clip(text, rate).beat if self.pack.has(text) else self._fallback().beat(text, rate)

    def warm(self, phrases: Iterable[Phrase], progress: PhrasesMade | None = None) -> None:
        """Make what the pack lacks. Raises InputFault, MachineLacks."""
        lacking = [phrase for phrase in phrases if not self.pack.has(phrase[0])]
        if lacking:
            self._fallback().warm(lacking, progress)

    def _fallback(self) -> Speech:
        if self._other is None:
            self._other = self._open()
        return self._other

    def close(self) -> None:
        """End the fallback's processes."""
        if self._other is not None:
            self._other.close()
