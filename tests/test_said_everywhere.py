"""However a drill is had, as sound, played or as a page, its words are given to the voice as the script says them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from cornercue.interface import Overrides, open_script, page_text, read, request_for, samples, unfolding
from cornercue.voice.system import SystemVoice
from cornercue.voice.voice import RawSound

WARM_UP = """\
drill: Warm-up
words:
  swell: {like: jab, said: swelling}
steps:
- combination: [swell]
  reps: 1
"""
DRILL = """\
drill: Tide
level: 2
junior: no
levels: {2: {name: Sand, said: sandy}}
words:
  ebb: {like: jab, said: ebbing}
  tsuki: {kind: strike, said: つき}
steps:
- include: warm-up.yaml
- say: An ebb, not two ebbs.
- combination: [ebb, rear tsuki]
  reps: 1
"""
VOICE = Overrides(seed=1, voice="british")


def as_sound(script: Path) -> None:
    with open_script(script, VOICE) as opened:
        samples(opened)


def as_a_page(script: Path) -> None:
    page_text(str(script), read(script), VOICE, draws=1)


def played(script: Path) -> None:
    drill = read(script)
    with unfolding(str(script), drill, request_for(drill, VOICE)) as session:
        session.coming.when(lambda line: False)  # so all of it


@pytest.mark.parametrize("had", [as_sound, as_a_page, played])
def test_the_voice_is_given_words_as_they_are_said(
    had: Callable[[Path], None], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    (tmp_path / "warm-up.yaml").write_text(WARM_UP, encoding="utf-8")
    script = tmp_path / "tide.yaml"
    script.write_text(DRILL, encoding="utf-8")
    given: set[str] = set()
    say = SystemVoice.say

    def heard(voice: SystemVoice, text: str, rate: float) -> RawSound:
        given.add(text)
        return say(voice, text, rate)

    monkeypatch.setattr(SystemVoice, "say", heard)
    had(script)
    assert {"swelling", "An ebbing, not two ebbings.", "ebbing, rear", "つき", "Tide. sandy."} <= given
    assert not [text for text in given if {"swell", "ebb", "tsuki"} & {*text.lower().replace(",", "").split()}]
