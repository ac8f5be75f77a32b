"""The voices by their names, and the door to all speech: a name or a path → somebody who says phrases.

Nothing here is slow to import: the options of the commands are made of these names.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from cornercue.errors import InputFault, MachineLacks
from cornercue.languages import LANGUAGES, Aloud
from cornercue.voice.pronunciation import AS_WRITTEN

if TYPE_CHECKING:
    from cornercue.voice.speech import Speech
    from cornercue.voice.system import Accent
    from cornercue.voice.voice import Voice, VoiceEntry

MODEL = ".onnx"
"""How the path of a Piper voice file ends."""


def _natural(model: Path | None = None) -> Voice:
    """The natural voice, or that of a Piper file; the system's for Korean and Japanese words that it does not speak."""
    from cornercue.voice.language import VoiceByLanguage
    from cornercue.voice.natural import NaturalVoice

    voice = NaturalVoice(model)
    return VoiceByLanguage(voice, voice.code, _system)


def _system(accent: Accent | None = None) -> Voice:
    """The system's voice: with espeak-ng an American one, unless another accent is asked for."""
    from cornercue.voice.system import SystemVoice

    return SystemVoice(accent)


VOICES: dict[str, Callable[[], Voice]] = {
    "natural": _natural,
    "system": _system,
    "american": partial(_system, "american"),
    "british": partial(_system, "british"),
}
"""Every voice by its name; "auto" takes the first one of `PREFERRED` that this machine has. To open one loads nothing.
Raises MachineLacks."""

PREFERRED = ("natural", "system")


def voice_names() -> tuple[str, ...]:
    """What may be asked for, beside the path of a voice file or of a recorded pack."""
    return ("auto", *VOICES)


def voice_entries() -> list[VoiceEntry]:
    """Every voice that has a name, also those that this machine lacks, told without loading one."""
    return [_entry(name) for name in VOICES]


def _entry(name: str) -> VoiceEntry:
    from cornercue.voice.voice import VoiceEntry

    try:
        voice = VOICES[name]()
    except MachineLacks as fault:
        return VoiceEntry(name, lack=str(fault))
    told = voice.description
    voice.close()
    return VoiceEntry(name, told.language, told.origin)


def preferred() -> str:
    """What "auto" takes on this machine: the first voice that it has; the last one says itself what it lacks."""
    *others, last = PREFERRED
    return next((name for name in others if not _entry(name).lack), last)


def for_comparing() -> str:
    """The voice that recordings are compared with: as `preferred`, but not espeak-ng's American one, which is breathy.

    Compared with it, of ten lines read in another order one was taken for another; with the British one none.
    """
    chosen = preferred()
    return "british" if chosen == "system" and sys.platform == "linux" else chosen


def open_voice(name: str = "system", cache: Path | None = None, said: Mapping[str, Aloud] = AS_WRITTEN) -> Speech:
    """The voice called `name`: one of `voice_names()`, or the path of a Piper voice file or recorded pack.

    Clips are kept in `cache`, else in the user's own cache folder. `said` has the words that are said otherwise than
    written; whoever recorded a pack has said them so. Raises InputFault for a name that is not known and a file that is
    no voice, MachineLacks where the machine has not got the voice.
    """
    if name not in VOICES and Path(name).is_dir():
        from cornercue.voice.recorded_speech import RecordedSpeech

        return RecordedSpeech(Path(name), lambda: open_voice("auto", cache, said))
    from cornercue.voice.cache import Cache
    from cornercue.voice.pronounced_speech import PronouncedSpeech
    from cornercue.voice.synthesised_speech import SynthesisedSpeech

    chosen = preferred() if name == "auto" else name
    voice, store = _voice(chosen), Cache(cache or _own_cache())

    def in_language(language: str) -> Speech:
        return SynthesisedSpeech(chosen, _in_language(language, voice), store)

    return PronouncedSpeech(SynthesisedSpeech(chosen, voice, store), said, in_language)


def _in_language(language: str, usual: Voice) -> Voice:
    """The usual voice where it has one of `LANGUAGES` itself, else the system's voice of it. Raises LacksLanguage."""
    from cornercue.voice.language import VoiceByLanguage
    from cornercue.voice.system import SystemVoice
    from cornercue.voice.voice import LacksLanguage

    if isinstance(usual, VoiceByLanguage) and usual.speaks(LANGUAGES[language].espeak):
        return usual
    try:
        return SystemVoice(language=language)
    except MachineLacks as lack:
        raise LacksLanguage(str(lack)) from lack


def _voice(name: str) -> Voice:
    if name in VOICES:
        return VOICES[name]()
    if name.lower().endswith(MODEL):
        return _natural(Path(name))
    raise InputFault(
        f"There is no voice “{name}”; there are: {', '.join(voice_names())}, the path of an {MODEL} file, and the "
        "path of a recorded pack."
    )


def _own_cache() -> Path:
    from platformdirs import user_cache_path

    return user_cache_path("cornercue") / "clips"
