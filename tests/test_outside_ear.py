"""From script to sound to an ear that is not ours: a recogniser (pocketsphinx) hears the calls of a rendered drill.

A partner drill is rendered to a file; the file is cut where a general-purpose activity detector (auditok) finds sound,
without a look at the timeline; the recogniser then says what each sound is. Pink noise stands for a busy room.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import product
from pathlib import Path
from typing import NamedTuple

import numpy as np
import pytest

from cornercue.session.opening import open_script
from cornercue.session.overrides import Overrides
from cornercue.session.track_file import write_track
from cornercue.sound import SAMPLE_RATE
from cornercue.technique.sides import SIDES
from cornercue.timing.feeding import prompt
from cornercue.timing.phrasebook import phrasebook
from cornercue.timing.setting import RATES
from cornercue.voice.natural import lack
from cornercue.voice.speech import Speech
from cornercue.voice.voices import open_voice
from ear import AROUND, RATE, Ear, Sound, at_ear_rate, decibels, in_noise, is_tone, joined, listened_to, pink, sounds

QUIET, NOISY = None, 10.0
"""Decibels that a call lies above the noise; in quiet there is none."""

ENOUGH = {QUIET: 0.98, NOISY: 0.95}
"""The share of calls that must be heard right."""

DRILL = """
drill: Long evening
pace: sharp
safety: short
steps:
- partner: [parry, cover, weave, slip, duck]
  reps: 80
  gap: [10 s, 11 s]
  answers: [[jab, cross], [cross, lead hook]]
"""

ANSWERS = ("jab, cross", "cross, lead hook")
SIDED = [f"{defence} {side}" for defence, side in product(("parry", "cover", "weave", "slip"), ("left", "right"))]
DEFENCES = [*SIDED, "duck"]
FROM_THE_RIGHT = [f"{defence}, cross, lead hook" for defence in ("weave left", "slip left")]
"""What is never called: a cross does not start from the left, which these have loaded."""
CALLS = [call for call in map(", ".join, product(DEFENCES, ANSWERS)) if call not in FROM_THE_RIGHT]

FEEDS = [prompt(phrasebook(), "junior", defence, side) for defence in ("parry", "cover", "weave", "slip", "low block")
         for side in SIDES] + [prompt(phrasebook(), "junior", "duck", None)]  # fmt: skip

COMBINATIONS = [
    "jab, cross", "jab, cross, lead hook", "cross, lead hook", "cross, lead hook, cross", "lead hook, cross",
    "body jab, cross, lead hook", "jab, jab, cross", "jab, rear hook", "lead hook, rear hook",
    "lead uppercut, cross, lead hook",
]  # fmt: skip
COUNTS = ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"]

PAUSE = 0.7
"""Seconds: longer than a call's own pauses, shorter than those between calls."""

VOICES = [
    "system",
    pytest.param("natural", marks=pytest.mark.skipif(lack() is not None, reason=f"{lack()}")),
]


class Rendered(NamedTuple):
    """A drill's sound from the tone that starts the work to the tone that ends it, and its calls in order."""

    work: Sound
    found: list[tuple[int, int]]
    calls: list[str]


@pytest.fixture(scope="module", params=VOICES)
def drill(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory, shared_cache: Path
) -> Iterator[Rendered]:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_CACHE_HOME", str(shared_cache))
        yield rendered(request.param, tmp_path_factory.mktemp("drill"))


def rendered(voice: str, folder: Path) -> Rendered:
    """The drill rendered to a file and read back; what is found there; and the words it was meant to call."""
    script, target = folder / "drill.yaml", folder / "drill.wav"
    script.write_text(DRILL)
    with open_script(script, Overrides(seed=5, voice=voice)) as ready:
        write_track(ready, target)
        calls = [cue.text for cue in ready.timeline.cues if cue.kind == "call"]
    work, found = work_of(listened_to(target))
    assert len(found) == 2 * len(calls)  # After each answer the feeder is told to step in: not a call.
    return Rendered(work, found[::2], calls)


def work_of(track: Sound) -> tuple[Sound, list[tuple[int, int]]]:
    """From the end of the first long tone to the beginning of the last of all; and where in it there are calls."""
    found = [(begin, end, is_tone(track[begin:end])) for begin, end in sounds(track)]
    tones = [(begin, end) for begin, end, tone in found if tone]
    start = next(end for begin, end in tones if end - begin > 0.5 * RATE)
    stop = tones[-1][0] - 1
    spoken = ((begin - start, end - start) for begin, end, tone in found if not tone and start <= begin < stop)
    return track[start:stop], joined(spoken, PAUSE)


def calls_found(work: Sound) -> list[tuple[int, int]]:
    """Where there is a sound that is no tone; a call's own pauses are shorter than those between calls."""
    return joined(((begin, end) for begin, end in sounds(work) if not is_tone(work[begin:end])), PAUSE)


def heard(drill: Rendered, noise: float | None, change: Callable[[Sound], Sound] = lambda sound: sound) -> list[str]:
    """What the ear hears in each sound found, in order."""
    ear, around = Ear(DEFENCES, ANSWERS), round(AROUND * RATE)
    words = []
    for seed, (begin, end) in enumerate(drill.found):
        sound = change(drill.work[max(0, begin - around) : end + around])
        words.append(ear.hear(in_noise(sound, decibels(drill.work[begin:end]), noise, seed)))
    return words


def share(found: Sequence[str], meant: Sequence[str]) -> float:
    """The share that is right, each in its place; a count that is off is an error of its own."""
    assert len(found) == len(meant)
    return sum(one == other for one, other in zip(found, meant, strict=True)) / len(meant)


@pytest.mark.parametrize("noise", [QUIET, NOISY])
def test_a_partner_drill_is_heard_right_and_in_order(drill: Rendered, noise: float | None) -> None:
    assert len(drill.calls) == 80
    assert set(drill.calls) == set(CALLS)
    assert share(heard(drill, noise), drill.calls) >= ENOUGH[noise]


def test_the_same_check_fails_where_calls_are_shuffled_or_drowned_or_played_too_fast(drill: Rendered) -> None:
    some = drill._replace(found=drill.found[:20], calls=drill.calls[:20])
    shuffled = list(np.random.default_rng(1).permutation(some.calls))
    assert share(heard(some, QUIET), shuffled) < ENOUGH[QUIET] / 2
    assert share(heard(some, -5.0), some.calls) < ENOUGH[NOISY]

    def tape(sound: Sound) -> Sound:
        """Played 1.8 times as fast, pitch and all."""
        fast: Sound = np.interp(np.arange(0, len(sound) - 1, 1.8), np.arange(len(sound)), sound)
        return fast

    assert share(heard(some, QUIET, tape), some.calls) < ENOUGH[QUIET]


def test_a_call_left_out_is_missed(drill: Rendered) -> None:
    some = drill.work[: drill.found[10][0] - 1]
    begin, end = drill.found[4]
    silenced = some.copy()
    silenced[begin:end] = 0
    assert len(calls_found(some)) == 20
    assert len(calls_found(silenced)) == 19


@pytest.fixture(scope="module", params=VOICES)
def speech(request: pytest.FixtureRequest, shared_clips: Path) -> Iterator[Speech]:
    with open_voice(request.param, shared_clips) as voice:
        yield voice


def right(speech: Speech, phrases: Sequence[str], rate: float, noise: float | None, seeds: int = 2) -> int:
    """How many of `phrases`, each said alone at `rate` over so many noises, are told from one another."""
    ear, heard_right = Ear(phrases), 0
    speech.warm([(phrase, rate) for phrase in phrases])
    for seed, (number, phrase) in product(range(1, seeds + 1), enumerate(phrases)):
        said = at_ear_rate(speech.clip(phrase, rate).samples, SAMPLE_RATE)
        sound = in_noise(np.pad(said, round(AROUND * RATE)), decibels(said), noise, 100 * seed + number)
        heard_right += ear.hear(sound) == phrase
    return heard_right


def share_at(speech: Speech, rate: float, noise: float | None) -> float:
    """The share heard right of what drills call and count; a call is told from calls, a number from numbers."""
    calls = [*DEFENCES, *COMBINATIONS]
    right_ones = right(speech, calls, rate, noise) + right(speech, COUNTS, rate, noise)
    return right_ones / (2 * (len(calls) + len(COUNTS)))


@pytest.mark.parametrize("noise", [QUIET, NOISY])
def test_the_feeders_prompts_are_heard_right(speech: Speech, noise: float | None) -> None:
    assert right(speech, FEEDS, 1.0, noise) / (2 * len(FEEDS)) >= ENOUGH[noise]


@pytest.mark.parametrize("noise", [QUIET, NOISY])
def test_calls_and_counts_are_still_clear_at_the_fastest_that_the_engine_asks_for(
    speech: Speech, noise: float | None
) -> None:
    assert share_at(speech, RATES[-1], noise) >= ENOUGH[noise]


def test_a_step_beyond_the_fastest_a_british_voice_is_no_longer_clear(tmp_path: Path) -> None:
    """The rates hold for every voice that may be chosen; the American one stays clear a little longer."""
    with open_voice("british", tmp_path) as voice:
        assert share_at(voice, RATES[-1] + 0.2, QUIET) < ENOUGH[QUIET]


def test_the_noise_is_pink() -> None:
    """Pink noise has equal power in each octave (IEC 60050-801, 801-21-16, from memory), which is -3 dB an octave."""
    power = np.abs(np.fft.rfft(pink(30 * RATE, -20.0, 1))) ** 2
    hertz = np.fft.rfftfreq(30 * RATE, 1 / RATE)
    octaves = [power[(low <= hertz) & (hertz < 2 * low)].sum() for low in (62.5, 125, 250, 500, 1000, 2000, 4000)]
    assert np.ptp(10 * np.log10(octaves)) < 1
    assert decibels(pink(RATE, -20.0, 1)) == pytest.approx(-20)
