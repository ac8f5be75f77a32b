"""Speech that is given each phrase as it is said aloud, while everybody else has it as it is written."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import numpy as np

from cornercue.sound import SAMPLE_RATE
from cornercue.voice.cache import digest_of
from cornercue.voice.clip import Clip
from cornercue.voice.pronunciation import Pronunciation, Utterance, utterances
from cornercue.voice.speech import Phrase, PhrasesMade, Speech


class PronouncedSpeech(Speech):
    """Another speech with words respelled, and phrases of several languages joined from pieces of one each."""

    def __init__(self, speech: Speech, words: Mapping[str, str]) -> None:
        """`words` are those that are said otherwise than written; closing this closes `speech`."""
        self.name = speech.name
        self._speech = speech
        self._words = words
        self._pronunciation = Pronunciation(words)
        self._pieces: dict[str, list[Utterance]] = {}
        self._clips: dict[Phrase, Clip] = {}

    @property
    def identity(self) -> str:
        """That of the other speech, and how its words are said."""
        own = f"; said {digest_of(sorted(self._words.items()))[:16]}" if self._words else ""
        return f"{self._speech.identity}{own}"

    def clip(self, text: str, rate: float = 1.0) -> Clip:
        """`text` as it is said aloud; the clip has it as it is written. Raises InputFault, MachineLacks."""
        said = self._said(text)
        if [one.text for one in said] == [text]:
            return self._speech.clip(text, rate)
        if (text, rate) not in self._clips:
            self._clips[text, rate] = self._joined(text, said, rate)
        return self._clips[text, rate]

    def _joined(self, text: str, said: list[Utterance], rate: float) -> Clip:
        sounds = []
        for piece in said:
            gap = np.zeros(round(piece.gap / rate * SAMPLE_RATE), np.int16)
            sounds += [self._speech.clip(piece.text, rate).samples, gap]
        return Clip(text, np.concatenate(sounds))

    def beat(self, text: str, rate: float = 1.0) -> float:
        """Seconds from the start of `clip` to the moment at which it is heard to fall: in its first piece."""
        return self._speech.beat(self._said(text)[0].text, rate)

    def warm(self, phrases: Iterable[Phrase], progress: PhrasesMade | None = None) -> None:
        """Make what is missing; `progress` hears how far it is. Raises InputFault, MachineLacks."""
        needed = [(piece.text, rate) for text, rate in phrases for piece in self._said(text)]
        self._speech.warm(needed, progress)

    def _said(self, text: str) -> list[Utterance]:
        if text not in self._pieces:
            self._pieces[text] = utterances(self._pronunciation.respelled(text))
        return self._pieces[text]

    def close(self) -> None:
        """End the other speech; clips made before stay at hand."""
        self._speech.close()
