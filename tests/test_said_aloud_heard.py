"""What a club's own words sound like to an ear that is not ours: what is said is heard, what is written is captioned.

The recogniser is an English one: it has the Korean and Japanese words in the nearest English phones, and hears them
well in quiet; in noise it takes some for one another, also where an English voice says them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product
from pathlib import Path

import numpy as np
import pytest

from cornercue.languages import Aloud
from cornercue.session.opening import open_script
from cornercue.session.overrides import Overrides
from cornercue.session.track_file import samples
from cornercue.sound import SAMPLE_RATE, Samples
from cornercue.track.captions import captions
from cornercue.voice.level import clip_from
from cornercue.voice.natural import lack
from cornercue.voice.speech import Speech
from cornercue.voice.system import SystemVoice
from cornercue.voice.voices import open_voice
from ear import AROUND, RATE, Ear, at_ear_rate, decibels, in_noise

DRILL = """\
drill: Gale and squall
junior: no
words:
  gale: {like: hook, said: uppercut}
  squall: {kind: kick, said: roundhouse kick}
  tsuki: {kind: strike, said: つき}
steps:
- shadow: [[lead gale], [rear squall], [lead tsuki], [rear gale], [lead squall], [rear tsuki]]
  for: 2 min
"""
AS_SAID = {"gale": "uppercut", "squall": "roundhouse kick", "tsuki": "tsuki"}

SIDES, PUNCHES = ("lead", "rear", "left", "right"), ("jab", "cross")
FOREIGN = {"yopchagi": "옆차기", "dollyochagi": "돌려차기", "tsuki": "つき", "mawashigeri": "まわしげり"}
VOICES = [
    "system",
    pytest.param("natural", marks=pytest.mark.skipif(lack() is not None, reason=f"{lack()}")),
]


def heard(ear: Ear, said: Samples, seed: int) -> str:
    sound = at_ear_rate(said, SAMPLE_RATE)
    return ear.hear(in_noise(np.pad(sound, round(AROUND * RATE)), decibels(sound), None, seed))


@pytest.mark.parametrize("voice", VOICES)
def test_a_drill_says_its_words_as_the_table_does_and_shows_them_as_written(
    voice: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    script = tmp_path / "gale.yaml"
    script.write_text(DRILL, encoding="utf-8")
    with open_script(script, Overrides(seed=5, voice=voice)) as opened:
        track, line = samples(opened), opened.timeline
    calls = [cue for cue in line.cues if cue.kind == "call"]
    assert {cue.text for cue in calls} == {f"{side} {word}" for side in ("lead", "rear") for word in AS_SAID}
    written = captions(line)
    ear = Ear(("lead", "rear"), AS_SAID.values())
    for number, cue in enumerate(calls):
        side, word = cue.text.split()
        assert f"\n{cue.text}\n" in written
        said = track[round(cue.start * SAMPLE_RATE) : round(cue.end * SAMPLE_RATE)]
        assert heard(ear, said, number) == f"{side}, {AS_SAID[word]}"


@pytest.fixture(scope="module", params=VOICES)
def speech(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Speech]:
    words = {word: Aloud(said) for word, said in FOREIGN.items()}
    with open_voice(request.param, tmp_path_factory.mktemp("clips"), words) as voice:
        yield voice


CALLS = [*product(SIDES, FOREIGN, PUNCHES)]


def right(clips: Sequence[Samples]) -> int:
    """How many of the calls are heard right, a clip each."""
    ear = Ear(SIDES, FOREIGN, PUNCHES)
    return sum(heard(ear, clip, at) == ", ".join(CALLS[at]) for at, clip in enumerate(clips))


def test_a_call_in_two_languages_is_heard_right(speech: Speech) -> None:
    written = [f"{side} {word}, {punch}" for side, word, punch in CALLS]
    speech.warm((text, 1.0) for text in written)
    assert right([speech.clip(text).samples for text in written]) == len(CALLS)


def test_given_to_one_voice_in_one_go_it_is_not() -> None:
    """A Japanese voice spells "lead": why each language is spoken by itself."""
    voice = SystemVoice()
    whole = [f"{side} {FOREIGN[word]}, {punch}" for side, word, punch in CALLS]
    clips = [clip_from(text, voice.say(text, 1.0)).samples for text in whole]
    voice.close()
    assert right(clips) < 0.8 * len(CALLS)
