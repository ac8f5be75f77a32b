"""The way to a spoken phrase: from memory, from the disk, or from the voice, in that order."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING

import numpy as np

from cornercue.errors import InputFault
from cornercue.voice.cache import Cache, key_of
from cornercue.voice.clip import Clip
from cornercue.voice.language import Routed
from cornercue.voice.natural import NaturalVoice, lack
from cornercue.voice.source import Recording, Voice
from cornercue.voice.system import SystemVoice
from cornercue.voice.words import plain

if TYPE_CHECKING:
    from concurrent.futures import Future


def natural(model: Path | None = None) -> Voice:
    """The natural voice, or that of a Piper file; the system's for Korean and Japanese words that it does not speak."""
    voice = NaturalVoice(model)
    return Routed(voice, voice.code, SystemVoice)


VOICES: dict[str, Callable[[], Voice]] = {"natural": natural, "system": SystemVoice}
"""Every voice by its name. A new one is one file and one line here."""

MODEL = ".onnx"
"""How the path of a Piper voice file ends."""

PROCESSING = 3
"""Raised when `level.py` makes other clips of the same recording, so that stored ones are made again."""

ESTIMATE = 1
"""Raised when `beat.py` finds other beats in the same clip, so that stored ones are found again."""

LEVELLERS = 2
"""Threads that level: numpy leaves the interpreter to the other one most of the time (measured: 1.6 times as
fast as one)."""

SLOWEST, FASTEST = 0.5, 2.0

Phrase = tuple[str, float]
"""Text and rate."""


class Speech:
    """A voice and its clips. Use it from one thread; closing it ends the voice's processes."""

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

    def seconds(self, text: str, rate: float = 1.0) -> float:
        """How long `clip` lasts, in seconds."""
        return self.clip(text, rate).seconds

    def beat(self, text: str, rate: float = 1.0) -> float:
        """Seconds from the start of `clip` to the moment at which it is heard to fall."""
        if (text, rate) not in self._beats:
            self._beats[text, rate] = self._kept_beat(text, rate)
        return self._beats[text, rate]

    def _kept_beat(self, text: str, rate: float) -> float:
        """From the disk, as estimating takes 4 ms a clip: a number's eight bytes, kept like four samples."""
        key = key_of(self._key(text, rate), "beat", ESTIMATE)
        kept = self._cache.load(key)
        if kept is not None and len(kept) == 4:
            return float(kept.view("<f8")[0])
        beat = self.clip(text, rate).beat
        self._cache.store(key, np.array([beat], "<f8").view("<i2"))
        return beat

    def warm(self, phrases: Iterable[Phrase], progress: Callable[[int, int], None] | None = None) -> None:
        """Make the clips that are missing, on all cores; `progress` hears how many of how many are made.

        Raises InputFault, MachineLacks; any failure, Ctrl-C included, ends the voice at once.
        """
        missing = [phrase for phrase in dict.fromkeys(phrases) if not self._known(*phrase)]
        if missing:
            self._make([(phrase, plain(phrase[0])) for phrase in missing], progress or (lambda done, of: None))

    def _make(self, missing: list[tuple[Phrase, str]], progress: Callable[[int, int], None]) -> None:
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
        return key_of(self.identity, plain(text), f"{rate:.3f}", PROCESSING)

    def close(self) -> None:
        """End the voice's processes; clips made before stay at hand."""
        self._voice.close()

    def __enter__(self) -> Speech:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()


def _clip(text: str, recording: Recording) -> Clip:
    from cornercue.voice.level import clip_from  # slow to import, and in `warm` while the voice speaks

    return clip_from(text, recording)


def _levelled(text: str, saying: Future[Recording]) -> Clip:
    return _clip(text, saying.result())


def preferred() -> str:
    """What "auto" takes on this machine: the natural voice where it is installed, else the system's."""
    return "system" if lack() else "natural"


def open_voice(name: str = "system", cache: Path | None = None) -> Speech:
    """The voice called `name`: one of `VOICES`, "auto", or the path of a Piper voice file or recorded pack.

    Clips are kept in `cache`, else in the user's own cache folder. Raises InputFault for a name that is not known and
    a file that is no voice, MachineLacks where the machine has not got the voice.
    """
    if name not in VOICES and Path(name).is_dir():
        from cornercue.voice.pack import PackSpeech  # builds on this module

        return PackSpeech(Path(name), lambda: open_voice("auto", cache))
    chosen = preferred() if name == "auto" else name
    return Speech(chosen, _voice(chosen), Cache(cache or _own_cache()))


def _voice(name: str) -> Voice:
    if name in VOICES:
        return VOICES[name]()
    if name.lower().endswith(MODEL):
        return natural(Path(name))
    raise InputFault(
        f"There is no voice “{name}”; there are: {', '.join(['auto', *VOICES])}, the path of an {MODEL} file, and the "
        "path of a recorded pack."
    )


def _own_cache() -> Path:
    from platformdirs import user_cache_path

    return user_cache_path("cornercue") / "clips"
