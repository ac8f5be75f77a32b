"""The phones of words by espeak-ng: its own program prints the same, and whatever fails leaves none."""

from __future__ import annotations

import re
import shutil
import subprocess
import time
from pathlib import Path

import pytest

from cornercue.voice import pronouncing
from cornercue.voice.espeak import Library, find_library
from cornercue.voice.pronouncing import pronounced

WORDS = ["lead", "roundhouse", "uppercut", "kihon", "front kick", "déjà", "3"]


@pytest.mark.skipif(not shutil.which("espeak-ng"), reason="needs the program espeak-ng")
def test_espeaks_own_program_prints_the_same_phones() -> None:
    for word, said in pronounced(WORDS).items():
        command = ["espeak-ng", "-q", "-v", "en-us", "--ipa", "--sep=_", word]
        printed = subprocess.run(command, capture_output=True, text=True, check=True).stdout
        assert "_".join(said) == re.sub(r"[_\s]+", "_", re.sub("[ˈˌ]", "", printed).strip()), word


def test_the_packages_library_has_phones_too_however_long_the_path_of_its_data(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    shipped = find_library([])
    deep = tmp_path / ("deep" * 50)
    deep.mkdir()
    assert shipped.data
    (deep / "espeak-ng-data").symlink_to(shipped.data)
    monkeypatch.setattr(pronouncing, "find_library", lambda: Library(shipped.path, deep / "espeak-ng-data", "deep"))
    assert pronounced(["hook"]) == {"hook": ("h", "ʊ", "k")}


def test_every_word_is_answered_and_nothing_is_no_word() -> None:
    assert set(pronounced([*WORDS, "", "?"])) == {*WORDS}


@pytest.mark.parametrize("program", ["import sys; sys.exit(3)", "print('no JSON')", "import time; time.sleep(60)"])
def test_an_espeak_that_fails_or_hangs_leaves_no_phones(
    program: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(pronouncing, "PATIENCE", 0.5)
    (tmp_path / "program.py").write_text(program)
    begun = time.monotonic()
    assert pronounced(["hook"], str(tmp_path / "program.py")) == {}
    assert time.monotonic() - begun < 20


def test_a_library_that_is_none_leaves_no_phones(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    (tmp_path / "libespeak-ng.so.1").write_text("no library")
    monkeypatch.setattr(pronouncing, "find_library", lambda: find_library([tmp_path]))
    assert pronounced(["hook"]) == {}
