"""The way to a clip: memory, then disk, then the voice; each phrase is made once, on all cores, and made well."""

from __future__ import annotations

import subprocess
import sys
import textwrap
from collections.abc import Callable
from pathlib import Path
from threading import Lock

import numpy as np
import pytest

from cornercue.errors import InputFault, MachineLacks
from cornercue.voice import synthesised_speech
from cornercue.voice.cache import Cache
from cornercue.voice.synthesised_speech import SynthesisedSpeech
from cornercue.voice.voice import RawSound, VoiceDescription
from cornercue.voice.voices import VOICES, for_comparing, open_voice, voice_entries

CALLS = [("jab, cross", 1.0), ("jab, cross", 1.2), ("cover", 1.0), ("rest", 1.0)]


class Hummer:
    """A voice that hums a phrase, longer for more letters, and notes what it was asked."""

    at_once = 2
    description = VoiceDescription("humming", "the throat")

    def __init__(self, identity: str = "hummer 1", cannot: str = "") -> None:
        self.identity = identity
        self.asked: list[tuple[str, float]] = []
        self.closed = False
        self._cannot = cannot
        self._lock = Lock()

    def say(self, text: str, rate: float) -> RawSound:
        with self._lock:
            self.asked.append((text, rate))
        if text == self._cannot:
            raise MachineLacks("The hummer is hoarse.")
        at = np.arange(round(len(text) * 2000 / rate))
        return RawSound((0.2 * np.sin(at / 10)).astype(np.float32), 22_050)

    def close(self) -> None:
        self.closed = True


def humming(folder: Path, voice: Hummer) -> SynthesisedSpeech:
    return SynthesisedSpeech("hummer", voice, Cache(folder))


def test_a_phrase_is_said_once_then_remembered_then_read_from_the_disk(tmp_path: Path) -> None:
    voice = Hummer()
    speech = humming(tmp_path, voice)
    clip = speech.clip("jab")
    assert speech.clip("jab") is clip
    assert voice.asked == [("jab", 1.0)]
    later = Hummer()
    assert humming(tmp_path, later).clip("jab").samples.tolist() == clip.samples.tolist()
    assert later.asked == []


def test_seconds_are_the_clips_own(tmp_path: Path) -> None:
    speech = humming(tmp_path, Hummer())
    assert speech.seconds("jab, cross") == speech.clip("jab, cross").seconds
    assert speech.seconds("jab, cross", 1.25) == pytest.approx(speech.seconds("jab, cross") / 1.25, abs=0.01)


def test_another_version_of_the_voice_or_of_the_levelling_makes_its_own(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    humming(tmp_path, Hummer("hummer 1")).clip("jab")
    newer = Hummer("hummer 2")
    humming(tmp_path, newer).clip("jab")
    assert newer.asked
    monkeypatch.setattr(synthesised_speech, "PROCESSING", synthesised_speech.PROCESSING + 1)
    again = Hummer("hummer 1")
    humming(tmp_path, again).clip("jab")
    assert again.asked


def test_the_voice_hears_plain_words_and_the_clip_keeps_the_text(tmp_path: Path) -> None:
    voice = Hummer()
    assert humming(tmp_path, voice).clip("jab &\ncross <b>").text == "jab &\ncross <b>"
    assert voice.asked == [("jab and cross b", 1.0)]


def test_warming_makes_what_is_missing_each_once_and_tells_how_far_it_is(tmp_path: Path) -> None:
    voice = Hummer()
    speech = humming(tmp_path, voice)
    speech.clip("rest")
    heard: list[tuple[int, int]] = []
    speech.warm([*CALLS, *CALLS], lambda done, of: heard.append((done, of)))
    assert heard == [(1, 3), (2, 3), (3, 3)]
    assert sorted(voice.asked) == sorted(CALLS)
    for text, rate in CALLS:
        speech.clip(text, rate)
    speech.warm(CALLS, lambda done, of: heard.append((done, of)))
    assert len(heard) == 3
    assert len(voice.asked) == len(CALLS)


def test_warming_gives_the_same_clips_as_asking_one_by_one(tmp_path: Path) -> None:
    one, other = humming(tmp_path / "a", Hummer()), humming(tmp_path / "b", Hummer())
    one.warm(CALLS)
    for text, rate in CALLS:
        assert one.clip(text, rate).samples.tolist() == other.clip(text, rate).samples.tolist()


def test_a_phrase_that_cannot_be_said_ends_the_warming_and_the_voice(tmp_path: Path) -> None:
    voice = Hummer(cannot="cover")
    with pytest.raises(MachineLacks, match="hoarse"):
        humming(tmp_path, voice).warm(CALLS)
    assert voice.closed


def test_bad_text_is_refused_before_anything_is_said(tmp_path: Path) -> None:
    voice = Hummer()
    with pytest.raises(InputFault, match="nothing to say"):
        humming(tmp_path, voice).warm([("jab", 1.0), ("...", 1.0)])
    assert voice.asked == []


@pytest.mark.parametrize("rate", [0, -1, 0.49, 2.01, float("nan")])
def test_a_rate_that_nobody_could_follow_is_refused(rate: float, tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="times as fast"):
        humming(tmp_path, Hummer()).clip("jab", rate)


def test_leaving_the_block_ends_the_voice_and_keeps_the_clips(tmp_path: Path) -> None:
    voice = Hummer()
    with humming(tmp_path, voice) as speech:
        speech.clip("jab")
    assert voice.closed
    assert speech.seconds("jab") > 0


def test_a_damaged_clip_is_made_again_and_the_rest_is_not(tmp_path: Path, caplog: pytest.LogCaptureFixture) -> None:
    before = humming(tmp_path, Hummer())
    before.warm(CALLS)
    victim = sorted(tmp_path.iterdir())[0]
    whole = victim.read_bytes()
    victim.write_bytes(whole[:-100])
    voice = Hummer()
    after = humming(tmp_path, voice)
    after.warm(CALLS)
    assert len(voice.asked) == 1
    assert "made again" in caplog.text
    assert victim.read_bytes() == whole
    for text, rate in CALLS:
        assert after.clip(text, rate).samples.tolist() == before.clip(text, rate).samples.tolist()


def test_a_cache_that_cannot_be_used_costs_time_only(tmp_path: Path, caplog: pytest.LogCaptureFixture) -> None:
    (tmp_path / "file").write_text("")
    speech = humming(tmp_path / "file", Hummer())
    speech.warm(CALLS)
    assert all(speech.seconds(text, rate) > 0 for text, rate in CALLS)
    assert len(caplog.records) == 1


def nobody() -> Hummer:
    raise MachineLacks("It is not installed.")


@pytest.mark.parametrize(("opened", "chosen"), [(lambda: Hummer("a natural hummer"), "natural"), (nobody, "system")])
def test_auto_is_the_natural_voice_where_it_is_installed_and_else_the_systems(
    opened: Callable[[], Hummer], chosen: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(VOICES, "natural", opened)
    with open_voice("auto", tmp_path) as one, open_voice(chosen, tmp_path) as other:
        assert (one.name, one.identity) == (chosen, other.identity)
        assert one.identity.startswith("a natural" if chosen == "natural" else "system; pyttsx3")


def test_a_line_in_the_table_is_a_voice_that_is_listed_and_opened(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(VOICES, "hummer", Hummer)
    assert [one.name for one in voice_entries()] == [*VOICES]
    last = voice_entries()[-1]
    assert (last.name, last.language, last.origin, last.lack) == ("hummer", "humming", "the throat", "")
    with open_voice("hummer", tmp_path) as speech:
        assert speech.seconds("jab") > 0
    monkeypatch.setitem(VOICES, "hummer", nobody)
    assert voice_entries()[-1].lack == "It is not installed."


def test_a_voice_that_nobody_knows_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputFault, match="no voice “parrot”; there are: auto, natural, system, american, british"):
        open_voice("parrot", tmp_path)


def test_clips_go_to_the_users_own_cache_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("platformdirs.user_cache_path", lambda name: tmp_path / name)
    with open_voice() as speech:
        speech.clip("jab")
    assert len(list((tmp_path / "cornercue" / "clips").iterdir())) == 1


def run(program: str, *arguments: str) -> subprocess.Popen[str]:
    command = [sys.executable, "-c", textwrap.dedent(program), *arguments]
    return subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)


def test_with_everything_at_hand_no_voice_is_loaded(tmp_path: Path) -> None:
    with open_voice(cache=tmp_path) as speech:
        speech.warm(CALLS)
    program = f"""
        import pathlib, subprocess, sys
        subprocess.Popen = None  # starting a process would fail
        from cornercue.voice.voices import VOICES, open_voice, voice_entries
        with open_voice(cache=pathlib.Path(sys.argv[1])) as speech:
            speech.warm({CALLS!r})
            assert speech.seconds("rest") > 0.1
        slow = {{"pyttsx3", "pyloudnorm", "scipy", "soxr", "soundfile", "espeakng_loader"}}
        print(sorted(slow & set(sys.modules)))
    """
    assert run(program, str(tmp_path)).communicate() == ("[]\n", "")


def test_two_programs_may_warm_one_cache_at_once(tmp_path: Path) -> None:
    program = f"""
        import pathlib, sys
        from cornercue.voice.voices import VOICES, open_voice, voice_entries
        with open_voice(cache=pathlib.Path(sys.argv[1])) as speech:
            speech.warm({CALLS!r} + [(f"number {{n}}", 1.0) for n in range(20)])
    """
    both = [run(program, str(tmp_path)) for _ in range(2)]
    assert [each.communicate() for each in both] == [("", ""), ("", "")]
    assert [each.returncode for each in both] == [0, 0]
    assert len(list(tmp_path.glob("*.clip"))) == len(list(tmp_path.iterdir())) == len(CALLS) + 20
    silent = Hummer(open_voice(cache=tmp_path).identity)
    humming(tmp_path, silent).warm(CALLS)
    assert silent.asked == []


@pytest.mark.skipif(sys.platform != "linux", reason="elsewhere the system's own voice is the only one")
def test_recordings_are_compared_with_a_plain_voice_where_there_is_no_natural_one(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("cornercue.voice.voices.preferred", lambda: "system")
    assert for_comparing() == "british"
    monkeypatch.setattr("cornercue.voice.voices.preferred", lambda: "natural")
    assert for_comparing() == "natural"
