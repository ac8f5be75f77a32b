"""Speech by a voice: each phrase from memory, from the disk, or from the voice, in that order."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

import numpy as np

from cornercue.voice.cache import Cache, digest_of
from cornercue.voice.clip import Clip
from cornercue.voice.speech import Phrase, PhrasesMade, Speech
from cornercue.voice.voice import RawSound, Voice
from cornercue.voice.words import plain

if TYPE_CHECKING:
    from concurrent.futures import Future

PROCESSING = 3
"""Raised when `level.py` makes other clips of the same recording, so that stored ones are made again."""

ESTIMATE = 4
"""Raised when `beat.py` finds other beats in the same clip, so that stored ones are found again."""

LEVELLERS = 2
"""Threads that level: numpy leaves the interpreter to the other one most of the time (measured: 1.6 times as
fast as one)."""

SLOWEST, FASTEST = 0.5, 2.0


class SynthesisedSpeech(Speech):
    """A voice and its clips; closing it ends the voice's processes."""

    def __init__(self, name: str, voice: Voice, cache: Cache) -> None:
        """Nothing is loaded before a phrase is missing."""
        self.name = name
        self._voice = voice
        self._cache = cache
        self._clips: dict[Phrase, Clip] = {}
        self._beats: dict[Phrase, float] = {}

    @property
    def identity(self) -> str:
        """What tells this voice and its version from every other, known without loading it."""
        return self._voice.identity

    def clip(self, text: str, rate: float = 1.0) -> Clip:
        """`text` spoken, `rate` (0.5 to 2) times as fast as normal. Raises InputFault, MachineLacks."""
        found = self._known(text, rate)
        return found or self._keep((text, rate), _clip(text, self._voice.say(plain(text), rate)))

    def beat(self, text: str, rate: float = 1.0) -> float:
        """Seconds from the start of `clip` to the moment at which it is heard to fall."""
        if (text, rate) not in self._beats:
            self._beats[text, rate] = self._kept_beat(text, rate)
        return self._beats[text, rate]

    def _kept_beat(self, text: str, rate: float) -> float:
        """From the disk, as estimating takes 4 ms a clip: a number's eight bytes, kept like four samples."""
        key = digest_of(self._key(text, rate), "beat", ESTIMATE)
        kept = self._cache.load(key)
        if kept is not None and len(kept) == 4:
            return float(kept.view("<f8")[0])
        beat = self.clip(text, rate).beat
        self._cache.store(key, np.array([beat], "<f8").view("<i2"))
        return beat

    def warm(self, phrases: Iterable[Phrase], progress: PhrasesMade | None = None) -> None:
        """Make the clips that are missing, on all cores; `progress` hears how many of how many are made.

        Raises InputFault, MachineLacks; any failure, Ctrl-C included, ends the voice at once.
        """
        missing = [phrase for phrase in dict.fromkeys(phrases) if not self._known(*phrase)]
        if missing:
            self._make([(phrase, plain(phrase[0])) for phrase in missing], progress or (lambda done, total: None))

    def _make(self, missing: list[tuple[Phrase, str]], progress: PhrasesMade) -> None:
        """Some threads wait for the voice, `LEVELLERS` level what it brings, and this one keeps it, in order."""
        from concurrent.futures import ThreadPoolExecutor

        with ThreadPoolExecutor(self._voice.at_once) as speaking, ThreadPoolExecutor(LEVELLERS) as levelling:
            try:
                coming = [
                    levelling.submit(_levelled, text, speaking.submit(self._voice.say, words, rate))
                    for (text, rate), words in missing
                ]
                for done, ((phrase, _), made) in enumerate(zip(missing, coming, strict=True), 1):
                    self._keep(phrase, made.result())
                    progress(done, len(missing))
            except BaseException:
                speaking.shutdown(wait=False, cancel_futures=True)
                levelling.shutdown(wait=False, cancel_futures=True)
                self._voice.close()
                raise

    def _known(self, text: str, rate: float) -> Clip | None:
        if (text, rate) not in self._clips:
            samples = self._cache.load(self._key(text, rate))
            if samples is None:
                return None
            self._clips[text, rate] = Clip(text, samples)
        return self._clips[text, rate]

    def _keep(self, phrase: Phrase, clip: Clip) -> Clip:
        self._clips[phrase] = clip
        self._cache.store(self._key(*phrase), clip.samples)
        return clip

    def _key(self, text: str, rate: float) -> str:
        if not SLOWEST <= rate <= FASTEST:
            raise ValueError(f"a voice speaks {SLOWEST} to {FASTEST} times as fast as normal, not {rate}")
        return digest_of(self.identity, plain(text), f"{rate:.3f}", PROCESSING)

    def close(self) -> None:
        """End the voice's processes; clips made before stay at hand."""
        self._voice.close()


def _clip(text: str, recording: RawSound) -> Clip:
    from cornercue.voice.level import clip_from  # slow to import, and in `warm` while the voice speaks

    return clip_from(text, recording)


def _levelled(text: str, saying: Future[RawSound]) -> Clip:
    return _clip(text, saying.result())
