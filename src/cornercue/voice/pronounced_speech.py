"""Speech that is given each phrase as it is said aloud, while everybody else has it as it is written."""

from __future__ import annotations

import logging
import unicodedata
from collections.abc import Callable, Iterable, Mapping

import numpy as np

from cornercue.errors import MachineLacks
from cornercue.languages import Aloud
from cornercue.sound import SAMPLE_RATE
from cornercue.voice.cache import digest_of
from cornercue.voice.clip import Clip
from cornercue.voice.pronunciation import Pronunciation, Utterance, utterances
from cornercue.voice.speech import Phrase, PhrasesMade, Speech
from cornercue.voice.voice import LacksLanguage

_log = logging.getLogger("cornercue.voice")


class PronouncedSpeech(Speech):
    """Another speech with words respelled, and phrases of several languages joined from pieces of one each."""

    def __init__(self, speech: Speech, words: Mapping[str, Aloud], in_language: Callable[[str], Speech]) -> None:
        """`words` are those that are said otherwise than written; closing this closes `speech`.

        `in_language` opens the speech for the words of one of `LANGUAGES`, or raises LacksLanguage.
        """
        self.name = speech.name
        self._speech = speech
        self._open = in_language
        self._words = words
        self._pronunciation = Pronunciation(words)
        self._pieces: dict[str, list[Utterance]] = {}
        self._clips: dict[Phrase, Clip] = {}
        self._others: dict[str, Speech] = {}
        self._lacking: dict[str, LacksLanguage] = {}
        self._closed = False

    @property
    def identity(self) -> str:
        """That of the other speech, and how its words are said."""
        own = f"; said {digest_of(sorted(self._words.items()))[:16]}" if self._words else ""
        return f"{self._speech.identity}{own}"

    def clip(self, text: str, rate: float = 1.0) -> Clip:
        """`text` as it is said aloud; the clip has it as it is written. Raises InputFault, MachineLacks."""
        said = self._said(text)
        if said == [Utterance(text, 0.0)]:
            return self._speech.clip(text, rate)
        if (text, rate) not in self._clips:
            self._clips[text, rate] = self._joined(text, said, rate)
        return self._clips[text, rate]

    def _joined(self, text: str, said: list[Utterance], rate: float) -> Clip:
        sounds = []
        for piece in said:
            gap = np.zeros(round(piece.gap / rate * SAMPLE_RATE), np.int16)
            speech = self._made(piece.language, [(piece.text, rate)])
            sounds += [speech.clip(piece.text, rate).samples, gap]
        return Clip(text, np.concatenate(sounds))

    def beat(self, text: str, rate: float = 1.0) -> float:
        """Seconds from the start of `clip` to the moment at which it is heard to fall: in its first piece."""
        first = self._said(text)[0]
        return self._made(first.language, [(first.text, rate)]).beat(first.text, rate)

    def warm(self, phrases: Iterable[Phrase], progress: PhrasesMade | None = None) -> None:
        """Make what is missing; `progress` hears how far it is, but for the words of other languages, which are few.

        Raises InputFault, MachineLacks.
        """
        needed: dict[str | None, list[Phrase]] = {}
        for text, rate in phrases:
            for piece in self._said(text):
                needed.setdefault(piece.language, []).append((piece.text, rate))
        usual = needed.pop(None, [])
        for language, pieces in needed.items():
            if self._made(language, pieces) is self._speech:
                usual += pieces
        self._speech.warm(usual, progress)

    def _made(self, language: str | None, pieces: list[Phrase]) -> Speech:
        """Who says these pieces of one language, which it then has made; the usual one makes its own when asked.

        That one also reads what is in Latin letters for a language that the machine has no voice of, which is told
        once. Raises MachineLacks for other letters.
        """
        if not language:
            return self._speech
        lack = self._lacking.get(language)
        if not lack:
            try:
                speech = self._other(language)
                speech.warm(pieces)
                return speech
            except LacksLanguage as found:
                lack = found
        if unread := [text for text, _ in pieces if not _is_latin(text)]:
            raise MachineLacks(
                f"{lack} The usual voice does not read “{unread[0]}”: give the word a `said` in Latin letters, without "
                "`language`."
            )
        if language not in self._lacking:
            _log.warning("%s Words in %s are read by the usual voice.", lack, language.capitalize())
            self._lacking[language] = lack
        return self._speech

    def _other(self, language: str) -> Speech:
        if language not in self._others:
            self._others[language] = self._open(language)
            if self._closed:  # by another thread, which may not have seen this one
                self._others[language].close()
        return self._others[language]

    def _said(self, text: str) -> list[Utterance]:
        if text not in self._pieces:
            self._pieces[text] = utterances([aloud for _, aloud in self._pronunciation.stretches(text)])
        return self._pieces[text]

    def close(self) -> None:
        """End the other speech; clips made before stay at hand."""
        self._closed = True
        for speech in [self._speech, *self._others.values()]:
            speech.close()


def _is_latin(text: str) -> bool:
    return all(unicodedata.name(letter, "").startswith("LATIN") for letter in filter(str.isalpha, text))
