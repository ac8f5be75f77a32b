"""A club's words in their own language: spoken by its rules, whichever voice says the rest."""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from cornercue.languages import LANGUAGES, Aloud
from cornercue.session.sheet_needs import sheet_text
from cornercue.sound import SAMPLE_RATE
from cornercue.voice.espeak import SYSTEM_FOLDERS, find_library
from cornercue.voice.language import language_of
from cornercue.voice.level import clip_from, loudness, true_peak
from cornercue.voice.natural import lack
from cornercue.voice.pronunciation import COMMA, NEXT_WORD, Pronunciation, Utterance, utterances
from cornercue.voice.speech import Speech
from cornercue.voice.system import SystemVoice
from cornercue.voice.voices import open_voice

HEARD = {
    "chinese": ("马步", "mˈɑ2 pˈu5"),
    "dutch": ("lage trap", "lˈaːɣə trˈɑp"),
    "french": ("fouetté", "fwɛtˈe"),
    "german": ("Fußtritt", "fˈʊstɾɪt"),
    "indonesian": ("pukulan", "pukˈulan"),
    "italian": ("calcio", "kˈaltʃo"),
    "japanese": ("つき", "tsˈɯᵝki"),
    "korean": ("옆차기", "jˈʌptʃhɐqˌi"),
    "portuguese": ("ginga", "ʒˈiŋɡæ"),
    "russian": ("удар", "udˈɑr"),
    "spanish": ("cruzado", "kɾuθˈaðo"),
    "turkish": ("çengel", "tʃænɟˈæl"),
    "vietnamese": ("đá thẳng", "ɗˈaːɜ tˈa4ŋ"),
}
"""A word of each language, and what espeak-ng 1.51 prints for it in its own phonetic letters."""

WORDS = {word: Aloud(word, language) for language, (word, _) in HEARD.items()}

needs_espeak = pytest.mark.skipif(not shutil.which("espeak-ng"), reason="espeak-ng, which prints phones, is missing")
needs_natural = pytest.mark.skipif(lack() is not None, reason=f"{lack()}")
on_linux = pytest.mark.skipif(sys.platform != "linux", reason="elsewhere the system decides which languages there are")


def phones(text: str, voice: str) -> str:
    """What espeak-ng's own program prints for words in one of its languages."""
    command = ["espeak-ng", "-v", voice, "--ipa", "-q", text]
    return " ".join(subprocess.run(command, capture_output=True, text=True, check=True).stdout.split())


@needs_espeak
@pytest.mark.parametrize("language", LANGUAGES)
def test_espeak_says_a_word_by_the_rules_of_its_language_and_otherwise_than_in_english(language: str) -> None:
    """Marks such as `(en)` would tell that its voice leaves letters to another one."""
    word, heard = HEARD[language]
    said = phones(word, LANGUAGES[language].espeak)
    assert said == heard
    assert said not in phones(word, "en-us") or "(" in phones(word, "en-us")
    assert "(" not in said


@needs_espeak
@pytest.mark.parametrize("word", ["เตะ", "ตีเข่า", "ต่ำ"])
def test_thai_is_left_out_because_espeak_has_not_its_vowels(word: str) -> None:
    """*Te*, *ti khao* and *tam*: the vowels after the first consonants are lost, or in the wrong place."""
    assert phones(word, "th") in ("ˈeɜtas", "tsˈe5kh s", "t s")


@on_linux
@needs_espeak
@pytest.mark.parametrize("language", LANGUAGES)
def test_the_voice_is_that_of_the_language(language: str, tmp_path: Path) -> None:
    """The same samples as from espeak-ng's own program, in its accent; not those of another accent of the language."""
    import soundfile

    if find_library(SYSTEM_FOLDERS).data:
        pytest.skip("this machine has espeak-ng's program without its library")
    accent = {"french": "fr-fr"}.get(language, LANGUAGES[language].espeak)
    voice, file = SystemVoice(language=language), tmp_path / "word.wav"
    said = voice.say(HEARD[language][0], 1.0)
    voice.close()
    subprocess.run(["espeak-ng", "-v", accent, "-s", "165", "-w", str(file), HEARD[language][0]], check=True)
    written, _ = soundfile.read(file, dtype="float32")
    assert np.array_equal(said.samples, written)


@on_linux
@pytest.mark.parametrize("language", LANGUAGES)
def test_the_library_that_pip_brings_has_it_too(language: str) -> None:
    word = HEARD[language][0]
    shipped, usual, english = SystemVoice(language=language, folders=[]), SystemVoice(language=language), SystemVoice()
    said = [voice.say(word, 1.0) for voice in (shipped, shipped, usual, english)]
    for voice in (shipped, usual, english):
        voice.close()
    assert np.array_equal(said[0].samples, said[1].samples)
    assert language_of(word) or not np.array_equal(said[0].samples, said[3].samples)
    clips = [clip_from(word, one) for one in said[1:3]]
    assert clips[0].seconds == pytest.approx(clips[1].seconds, rel=0.1)
    for clip in clips:
        assert loudness(clip.samples / 32768) == pytest.approx(-18.0, abs=0.75)
        assert true_peak(clip.samples / 32768) < -1.0
        assert 0.1 < clip.seconds < 1.5


@pytest.fixture(scope="module", params=["system", pytest.param("natural", marks=needs_natural)])
def speech(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Speech]:
    with open_voice(request.param, tmp_path_factory.mktemp("clips"), WORDS) as voice:
        yield voice


@on_linux
def test_whichever_voice_speaks_the_word_is_in_its_language_and_the_rest_is_not(speech: Speech) -> None:
    speech.warm((f"lead {word}, jab", 1.0) for word in WORDS)
    lead, jab = speech.clip("lead").samples, speech.clip("jab").samples
    for word, aloud in WORDS.items():
        whole = speech.clip(f"lead {word}, jab").samples
        assert np.array_equal(whole[: len(lead)], lead)
        assert np.array_equal(whole[-len(jab) :], jab)
        before, after = (np.zeros(round(gap * SAMPLE_RATE), np.int16) for gap in (NEXT_WORD, COMMA))
        voice = SystemVoice(language=aloud.language)
        alone = clip_from(word, voice.say(f"{word},", 1.0)).samples
        voice.close()
        assert np.array_equal(whole, np.concatenate([lead, before, alone, after, jab]))
        assert speech.beat(f"lead {word}, jab") == speech.beat("lead")
        assert 0 <= speech.beat(word) < 0.3


@on_linux
def test_the_same_letters_in_two_languages_are_two_clips_in_one_cache(tmp_path: Path) -> None:
    """And made again by another program, from the same cache and from none, they are the same."""
    made: dict[str | None, bytes] = {}
    for folder in ("one", "one", "other"):
        for language in (None, "french", "dutch", "spanish"):
            with open_voice("system", tmp_path / folder, {"patada": Aloud("patada", language)}) as voice:
                sound = voice.clip("patada").samples.tobytes()
                assert made.setdefault(language, sound) == sound
    assert len({*made.values()}) == 4


@pytest.mark.parametrize(
    ("text", "pieces"),
    [
        ("fouetté", [("fouetté", 0.0, "french")]),
        ("lead fouetté, jab", [("lead", NEXT_WORD, None), ("fouetté,", COMMA, "french"), ("jab", 0.0, None)]),
        ("two fouettés", [("two", NEXT_WORD, None), ("fouetté", 0.0, "french")]),
        ("The fouetté's end", [("The", NEXT_WORD, None), ("fouetté", NEXT_WORD, "french"), ("end", 0.0, None)]),
        ("fouetté – ginga", [("fouetté –", NEXT_WORD, "french"), ("ginga", 0.0, "portuguese")]),
        ("(fouetté) fouetté", [("(fouetté) fouetté", 0.0, "french")]),
        ("옆차기 3 いち", [("옆차기 3", NEXT_WORD, "korean"), ("いち", 0.0, None)]),
    ],
)
def test_a_phrase_is_cut_at_the_words_of_another_language(
    text: str, pieces: list[tuple[str, float, str | None]]
) -> None:
    """A French ending is silent and a French apostrophe another one: espeak-ng reads `fouetté's` as English."""
    said = Pronunciation({**WORDS, "옆차기 3": Aloud("옆차기 3", "korean")}).stretches(text)
    assert utterances([aloud for _, aloud in said]) == [Utterance(*piece) for piece in pieces]


def test_a_reading_sheet_has_in_brackets_only_what_is_said_in_other_letters(tmp_path: Path) -> None:
    script = tmp_path / "own.yaml"
    words = "{Fouetté: {like: jab, language: french}, udar: {like: cross, language: russian, said: удар}}"
    script.write_text(f"drill: Own\nwords: {words}\nsteps:\n- combination: [fouetté, udar]\n  teach: 1\n", "utf-8")
    lines = sheet_text([script]).splitlines()
    assert {line.partition(". ")[2] for line in lines} >= {"fouetté", "udar [удар]", "fouetté, udar [fouetté, удар]"}
