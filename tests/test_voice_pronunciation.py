"""How a word is said aloud: what the voice is given, while timing, captions and screens keep what is written."""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Iterable
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornercue.languages import Aloud
from cornercue.sound import SAMPLE_RATE
from cornercue.voice.cache import Cache
from cornercue.voice.level import clip_from, loudness
from cornercue.voice.pronounced_speech import PronouncedSpeech
from cornercue.voice.pronunciation import COMMA, FULL_STOP, NEXT_WORD, Pronunciation, Utterance, utterances
from cornercue.voice.speech import Speech
from cornercue.voice.synthesised_speech import SynthesisedSpeech
from cornercue.voice.voice import LacksLanguage, RawSound, VoiceDescription
from cornercue.voice.voices import open_voice

SAID = {
    "yop chagi": Aloud("yop chah ghee"),
    "yop": Aloud("yawp"),
    "tsuki": Aloud("つき"),
    "d'arce": Aloud("darss"),
    "ōi zuki": Aloud("oy zookie"),
}


def respelled(text: str) -> str:
    return Pronunciation(SAID).respelled(text)


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("lead yop chagi", "lead yop chah ghee"),
        ("Yop chagi, left leg.", "yop chah ghee, left leg."),
        ("left yop-chagi, jab", "left yop chah ghee, jab"),
        ("yop chagi, yop", "yop chah ghee, yawp"),
        ("two yop chagis", "two yop chah ghees"),
        ("the yop chagi's height", "the yop chah ghee's height"),
        ("rear tsuki", "rear つき"),
        ("two tsukis", "two つき"),
        ("the tsuki's height", "the つき height"),
        ("ŌI ZUKI", "oy zookie"),
        ("o\u0304i zuki", "oy zookie"),  # the same letter in two characters
        ("a d'arce", "a darss"),
    ],
)
def test_a_word_is_said_as_the_table_says(written: str, said: str) -> None:
    assert respelled(written) == said


@pytest.mark.parametrize("text", ["yops chagi", "yopchagi", "tsukiage", "matsuki", "yop'n go", "d'yop", "jab, cross"])
def test_a_part_of_another_word_is_left_alone(text: str) -> None:
    assert respelled(text).replace("yawps chagi", "yops chagi") == text


names = st.text("ab ", min_size=1).filter(str.strip)


@given(st.dictionaries(names, st.sampled_from([Aloud("X"), Aloud("Y Z", "dutch"), Aloud("つ")])), st.text("ab, "))
def test_what_is_not_a_word_of_the_table_is_never_changed(words: dict[str, Aloud], text: str) -> None:
    """Seen from outside: cut at the words that the table knows, everything between them is there as it was."""
    stretches = list(Pronunciation(words).stretches(text))
    assert "".join(written for written, _ in stretches) == text
    known = {" ".join(word.split()) for word in words}
    for written, said in stretches:
        bare = " ".join(written.split())
        named = bare in known or any(bare == f"{word}{s}" for word in known for s in ("s", "es"))
        assert said == Aloud(written) or named


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("lead jab", [("lead jab", 0.0)]),
        ("옆차기", [("옆차기", 0.0)]),
        ("lead 옆차기", [("lead", NEXT_WORD), ("옆차기", 0.0)]),
        ("left 옆차기, jab", [("left", NEXT_WORD), ("옆차기,", COMMA), ("jab", 0.0)]),
        ("つき. 옆차기 – jab", [("つき.", FULL_STOP), ("옆차기 –", NEXT_WORD), ("jab", 0.0)]),
        ("– つき 3", [("つき", NEXT_WORD), ("3", 0.0)]),
    ],
)
def test_a_phrase_is_cut_where_its_language_changes(text: str, found: list[tuple[str, float]]) -> None:
    assert utterances([Aloud(text)]) == [Utterance(*one) for one in found]


class Hum:
    """A voice that hums a tone as long as the words, and remembers what it was given."""

    identity, at_once = "hum", 1
    description = VoiceDescription("none", "here")

    def __init__(self) -> None:
        self.given: list[str] = []

    def say(self, text: str, rate: float) -> RawSound:
        self.given.append(text)
        time = np.arange(round(0.1 * len(text) / rate * SAMPLE_RATE)) / SAMPLE_RATE
        return RawSound((0.3 * np.sin(2 * np.pi * 200 * time)).astype(np.float32), SAMPLE_RATE)

    def close(self) -> None:
        """Nothing is open."""


def no_language(language: str) -> Speech:
    raise LacksLanguage(f"There is no voice for {language.capitalize()}.")


def humming(folder: Path) -> tuple[Hum, PronouncedSpeech]:
    voice = Hum()
    return voice, PronouncedSpeech(SynthesisedSpeech("hum", voice, Cache(folder)), SAID, no_language)


def test_the_voice_is_given_what_is_said_and_everybody_else_has_what_is_written(tmp_path: Path) -> None:
    voice, speech = humming(tmp_path)
    clip = speech.clip("lead yop chagi")
    assert voice.given == ["lead yop chah ghee"]
    assert clip.text == "lead yop chagi"
    alone = clip_from("", Hum().say("lead yop chah ghee", 1.0))
    assert np.array_equal(clip.samples, alone.samples)


def test_a_clip_is_kept_under_what_is_really_said(tmp_path: Path) -> None:
    """Said another way, the same written words are made anew; written another way, the same sound is found."""
    for text in ("lead yop chagi", "rear tsuki"):
        humming(tmp_path)[1].clip(text)
    again, speech = humming(tmp_path)
    speech.clip("rear つき")
    assert again.given == []
    other = Hum()
    words = {"yop chagi": Aloud("yoap")}
    PronouncedSpeech(SynthesisedSpeech("hum", other, Cache(tmp_path)), words, no_language).clip("lead yop chagi")
    assert other.given == ["lead yoap"]


def test_pieces_are_made_beforehand_and_joined_as_loud_as_each_alone(tmp_path: Path) -> None:
    voice, speech = humming(tmp_path)
    told: list[tuple[int, int]] = []
    speech.warm([("left tsuki, jab", 1.0), ("left tsuki", 1.0)], lambda done, total: told.append((done, total)))
    assert voice.given == ["left", "つき,", "jab", "つき"]
    assert told[-1] == (4, 4)
    clip = speech.clip("left tsuki, jab")
    assert voice.given == ["left", "つき,", "jab", "つき"]
    parts = sum(speech.clip(one).seconds for one in ("left", "つき,", "jab"))
    assert clip.seconds == pytest.approx(parts + NEXT_WORD + COMMA, abs=1e-4)
    assert loudness(clip.samples / 32768) == pytest.approx(loudness(speech.clip("left").samples / 32768), abs=1.0)
    assert speech.beat("left tsuki, jab") == speech.beat("left")


needs_espeak = pytest.mark.skipif(not shutil.which("espeak-ng"), reason="espeak-ng, which prints phones, is missing")


def phones(text: str, voice: str) -> str:
    """What espeak-ng's own program prints for words in one of its languages."""
    command = ["espeak-ng", "-v", voice, "-x", "-q", text]
    return " ".join(subprocess.run(command, capture_output=True, text=True, check=True).stdout.split())


@needs_espeak
def test_espeak_has_sounds_for_each_piece_and_names_of_letters_for_the_whole() -> None:
    """Why a phrase is cut: asked for "lead つき" in one go, the Japanese voice spells "lead" letter by letter."""
    assert phones("lead", "en-us") == "l'i:d"
    whole = phones("lead つき", "ja")
    assert "l'i:d" not in whole
    assert whole.count("_:") >= 4
    assert phones("つき", "ja") in whole


def test_a_phrase_of_two_languages_lasts_about_as_long_as_in_one(tmp_path: Path) -> None:
    """Within a fifth of the same call respelled in Latin letters, and no silence in it longer than a comma's."""
    words = {"tsuki": Aloud("つき"), "yop chagi": Aloud("옆차기"), "latin": Aloud("yop chah ghee")}
    with open_voice("system", tmp_path, words) as speech:
        assert speech.seconds("left yop chagi, jab") == pytest.approx(speech.seconds("left latin, jab"), rel=0.2)
        for text in ("left yop chagi, jab", "rear tsuki"):
            assert longest_silence(speech.clip(text).samples / 32768) < 0.3
            assert 0.02 < speech.beat(text) < 0.2


def longest_silence(samples: Iterable[float]) -> float:
    """Seconds without a sample above a hundredth of full scale."""
    loud = np.flatnonzero(np.abs(np.asarray(samples)) > 0.01)
    return float(np.diff(loud).max()) / SAMPLE_RATE
