"""A machine without a voice for a word's language: Latin letters are read all the same, other ones are told."""

from __future__ import annotations

import json
import logging
import sys
from io import StringIO
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest

from cornercue.errors import MachineLacks
from cornercue.languages import LANGUAGES, Aloud
from cornercue.sound import SAMPLE_RATE
from cornercue.voice import system, worker
from cornercue.voice.cache import Cache
from cornercue.voice.language import VoiceByLanguage
from cornercue.voice.process import NoLanguage, VoiceProcess
from cornercue.voice.pronounced_speech import PronouncedSpeech
from cornercue.voice.speech import Speech
from cornercue.voice.synthesised_speech import SynthesisedSpeech
from cornercue.voice.system import SystemVoice
from cornercue.voice.voice import LacksLanguage, RawSound, VoiceDescription
from cornercue.voice.voices import VOICES, open_voice

WORDS = {
    "fouetté": Aloud("fouetté", "french"),
    "calcio": Aloud("calcio", "italian"),
    "удар": Aloud("удар", "russian"),
    "马步": Aloud("马步", "chinese"),
}

on_linux = pytest.mark.skipif(sys.platform != "linux", reason="elsewhere the system decides which languages there are")


class Hum:
    """A voice that hums, and remembers what it was given."""

    identity, at_once = "hum", 1
    description = VoiceDescription("none", "here")

    def __init__(self) -> None:
        self.given: list[str] = []

    def say(self, text: str, rate: float) -> RawSound:
        self.given.append(text)
        return RawSound((0.3 * np.sin(np.arange(9000) / 20)).astype(np.float32), SAMPLE_RATE)

    def close(self) -> None:
        """Nothing is open."""


def test_without_a_voice_for_it_latin_letters_are_read_by_the_usual_one_and_that_is_told_once(
    tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    def lacking(language: str) -> Speech:
        raise LacksLanguage(f"There is no voice for {language.capitalize()}.")

    voice = Hum()
    speech = PronouncedSpeech(SynthesisedSpeech("hum", voice, Cache(tmp_path)), WORDS, lacking)
    with caplog.at_level(logging.WARNING):
        speech.warm([("lead fouetté", 1.0), ("fouetté", 1.0)])
        speech.clip("lead fouetté")
    assert voice.given == ["lead", "fouetté"]
    assert caplog.messages == ["There is no voice for French. Words in French are read by the usual voice."]
    for text in ("удар", "rear удар"):
        with pytest.raises(
            MachineLacks, match=r"no voice for Russian\. The usual voice does not read “удар”: give the"
        ):
            speech.clip(text)


@pytest.mark.parametrize(("code", "word"), [("fr-be", "fouetté"), ("cmn", "马步")])
def test_a_voice_file_of_the_language_says_its_words_itself(
    code: str, word: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """In whatever accent, and with the rest; every other language is the system's."""
    voice = Hum()
    monkeypatch.setitem(VOICES, "natural", lambda: VoiceByLanguage(voice, code, SystemVoice))
    with open_voice("natural", tmp_path, WORDS) as speech:
        speech.warm([(f"jab, {word}", 1.0), ("calcio", 1.0)])
    assert voice.given == [word, "jab,"]


def test_a_machine_without_any_system_voice_is_told_what_to_install(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def nothing(language: str) -> SystemVoice:
        raise MachineLacks("This machine has no voice. Install one.")

    voice = Hum()
    monkeypatch.setitem(VOICES, "natural", lambda: voice)
    monkeypatch.setattr(system, "SystemVoice", nothing)
    with open_voice("natural", tmp_path, WORDS) as speech:
        speech.clip("fouetté")
    assert voice.given == ["fouetté"]
    assert caplog.messages == ["This machine has no voice. Install one. Words in French are read by the usual voice."]


def test_a_voice_that_is_opened_while_another_thread_closes_is_closed_too(tmp_path: Path) -> None:
    other = SynthesisedSpeech("other", SystemVoice(language="french"), Cache(tmp_path))

    def closing(language: str) -> Speech:
        pronounced.close()
        return other

    pronounced = PronouncedSpeech(SynthesisedSpeech("hum", Hum(), Cache(tmp_path)), WORDS, closing)
    with pytest.raises(MachineLacks, match="The system voice has been closed"):
        pronounced.clip("fouetté")


@on_linux
def test_espeak_without_the_languages_data_is_told(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(system, "languages_in", lambda data: ["en", "de"])
    SystemVoice(language="german").close()
    with open_voice("system", tmp_path, WORDS) as speech:
        speech.clip("fouetté")
        with pytest.raises(MachineLacks, match=r"The espeak-ng of this machine has no voice for Russian\. The usual"):
            speech.clip("удар")


def test_elsewhere_the_system_tells_while_it_speaks_that_no_such_voice_is_installed(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    engine = SimpleNamespace(
        driver_name="nsss",
        connect=lambda event, told: None,
        setProperty=lambda name, value: None,
        getProperty=lambda name: [SimpleNamespace(id="alex", languages=["en_US"])],
    )
    monkeypatch.setitem(sys.modules, "pyttsx3", SimpleNamespace(init=lambda: engine))
    request, answer = {"text": "fouetté", "wpm": 165, "path": "word.wav", "language": "fr"}, StringIO()
    worker.serve(StringIO(json.dumps(request) + "\n"), answer, "")
    assert json.loads(answer.getvalue()) == {"lacking": "no voice for French is installed"}


def test_what_the_worker_lacks_is_a_language_that_the_machine_lacks(monkeypatch: pytest.MonkeyPatch) -> None:
    def lacking(process: VoiceProcess, text: str, wpm: int, language: str | None, patience: float) -> RawSound:
        raise NoLanguage("no voice for French is installed")

    monkeypatch.setattr(VoiceProcess, "say", lacking)
    voice = SystemVoice(language="french")
    with pytest.raises(LacksLanguage, match="cannot say “fouetté”: no voice for French is installed"):
        voice.say("fouetté", 1.0)
    voice.close()


def test_the_worker_knows_the_languages_by_the_same_names() -> None:
    """It imports nothing of ours, so that it has a table of its own."""
    assert {one.code: name.capitalize() for name, one in LANGUAGES.items()}.items() <= worker.LANGUAGES.items()
