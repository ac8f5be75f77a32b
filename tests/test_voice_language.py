"""Words in Hangul and kana are spoken in Korean and Japanese, whichever voice was chosen."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest

from cornercue.errors import MachineLacks
from cornercue.voice.language import VoiceByLanguage, language_of
from cornercue.voice.speech import Speech
from cornercue.voice.voice import RawSound, VoiceDescription
from cornercue.voice.voices import open_voice
from cornercue.voice.worker import voice_for

KOREAN, JAPANESE = ["하나", "둘", "셋", "다섯", "열하나"], ["いち", "に", "さん", "ろく", "じゅういち"]
LETTERS = {"하나": "Korean letter, Korean letter", "いち": "Japanese letter, Japanese letter"}
"""What espeak-ng's English voice says for a letter that it cannot read (heard from `espeak-ng -v en -x`)."""


@pytest.fixture(scope="module")
def system(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Speech]:
    with open_voice("system", tmp_path_factory.mktemp("clips")) as voice:
        yield voice


@pytest.mark.parametrize(
    ("text", "language"),
    [("하나", "ko"), ("ᄒ", "ko"), ("いち", "ja"), ("イチ", "ja"), *((text, None) for text in ("jab", "é", "一", "1"))],
)
def test_the_script_tells_the_language(text: str, language: str | None) -> None:
    assert language_of(text) == language


def test_counts_take_as_long_as_words_do_not_as_the_names_of_letters(system: Speech) -> None:
    """One to four syllables at two to six a second, and a little for an ending: 0.1 to 1.2 s."""
    for text in [*KOREAN, *JAPANESE]:
        assert 0.1 < system.seconds(text) < 1.2, text
    for text, letters in LETTERS.items():
        assert system.seconds(text) < system.seconds(letters) / 2


def test_each_numeral_sounds_different(system: Speech) -> None:
    clips = [system.clip(text).samples.tobytes() for text in [*KOREAN, *JAPANESE]]
    assert len(set(clips)) == len(clips)


@pytest.mark.parametrize("text", ["하나", "いち", "jab"])
def test_a_phrase_sounds_the_same_after_phrases_of_another_language(text: str, system: Speech, tmp_path: Path) -> None:
    with open_voice("system", tmp_path / "anew") as other:
        for before in ("둘", "cross", "さん"):
            other.clip(before)
        assert np.array_equal(other.clip(text).samples, system.clip(text).samples)


def test_the_natural_voice_leaves_them_to_the_system_voice(system: Speech, tmp_path: Path) -> None:
    try:
        natural = open_voice("natural", tmp_path)
    except MachineLacks as lack:
        pytest.skip(str(lack))
    with natural:
        natural.warm([("하나", 1.0), ("jab", 1.0)])
        assert np.array_equal(natural.clip("하나").samples, system.clip("하나").samples)
        assert not np.array_equal(natural.clip("jab").samples, system.clip("jab").samples)


class Parrot:
    """A voice that remembers what it was given."""

    at_once = 1
    description = VoiceDescription("whatever it hears", "the forest")

    def __init__(self, identity: str) -> None:
        self.identity = identity
        self.said: list[str] = []
        self.closed = False

    def say(self, text: str, rate: float) -> RawSound:
        self.said.append(text)
        return RawSound(np.ones(100, np.float32), 22_050)

    def close(self) -> None:
        self.closed = True


def test_a_voice_is_asked_only_for_its_own_language() -> None:
    english, system = Parrot("english"), Parrot("system")
    routed = VoiceByLanguage(english, "en-us", lambda: system)
    for text in ("jab", "하나", "いち"):
        routed.say(text, 1.0)
    routed.close()
    assert (english.said, system.said) == (["jab"], ["하나", "いち"])
    assert english.closed
    assert system.closed


def test_a_korean_voice_file_speaks_korean_itself() -> None:
    korean, system = Parrot("korean"), Parrot("system")
    routed = VoiceByLanguage(korean, "ko", lambda: system)
    for text in ("jab", "하나", "いち"):
        routed.say(text, 1.0)
    assert (korean.said, system.said) == (["jab", "하나"], ["いち"])


def test_without_a_system_voice_only_the_words_that_need_it_fail() -> None:
    def lacking() -> Parrot:
        raise MachineLacks("This machine has no voice.")

    routed = VoiceByLanguage(Parrot("english"), "en", lacking)
    assert routed.identity == "english"
    assert len(routed.say("jab", 1.0).samples)
    with pytest.raises(MachineLacks):
        routed.say("하나", 1.0)
    routed.close()


def installed(**languages: list[object]) -> list[SimpleNamespace]:
    """Voices as pyttsx3 lists them: by id, with languages as text or as bytes."""
    return [SimpleNamespace(id=name.replace("__", "-"), languages=tags) for name, tags in languages.items()]


def test_elsewhere_an_installed_voice_of_the_language_is_taken() -> None:
    """The forms are those of pyttsx3's drivers, from memory: `ko_KR` on macOS, on Windows a token that ends so."""
    mac = installed(alex=["en_US"], yuna=["ko_KR"], kyoko=["ja_JP"])
    assert (voice_for("ko", mac), voice_for("ja", mac)) == ("yuna", "kyoko")
    windows = installed(TTS_MS_EN__US_ZIRA=[], TTS_MS_KO__KR_HEAMI=[])
    assert voice_for("ko", windows) == "TTS_MS_KO-KR_HEAMI"
    assert voice_for("ko", installed(koala=["en"], x=[b"\x05ko"])) == "x"
    with pytest.raises(LookupError, match="no voice for Japanese is installed"):
        voice_for("ja", windows)
