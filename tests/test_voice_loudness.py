"""Every phrase of the demo drills is equally loud and keeps below the peak limit, by a meter that is not ours.

The product measures with pyloudnorm and a fourfold oversampled peak. Here loudness is computed from the text of
ITU-R BS.1770 with the filter table of its annex 1 at 48 kHz, and peaks from an eightfold band-limited interpolation;
ffmpeg's EBU R 128 meter, made by others again, checks this meter on some of the clips.
"""

from __future__ import annotations

import re
import shutil
import subprocess
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pytest
import soundfile
import soxr  # type: ignore[import-untyped]  # it ships no types
from scipy.fft import next_fast_len
from scipy.signal import lfilter, resample

from cornercue.script.read import read_drill
from cornercue.session.folders import scripts_in
from cornercue.sound import SAMPLE_RATE
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.setting import Request
from cornercue.voice.clip import Clip
from cornercue.voice.natural import lack
from cornercue.voice.speech import Phrase
from cornercue.voice.voices import open_voice

DRILLS = [*scripts_in([Path(__file__).parent.parent / "drills"])]

ASKED = 1.5
"""LU from the mean that a phrase may be."""

PEAK = -1.0
"""dBTP at most: AES TD1008 (2021), secondary copy."""

SHORT = ["one", "two", "six", "eight", "hook", "jab", "duck", "step", "half"]

Sound = npt.NDArray[np.float64]

VOICES = [
    "system",
    pytest.param("natural", marks=pytest.mark.skipif(lack() is not None, reason="natural: piper is not installed")),
]


@cache
def library() -> tuple[Phrase, ...]:
    """Each phrase and rate of every demo drill in both stances, once."""
    found: dict[Phrase, None] = {}
    for path in DRILLS:
        for stance in ("orthodox", "southpaw"):
            timeline = expand(read_drill(path), Request(seed=1, stance=stance), estimated_seconds)
            found |= dict.fromkeys((cue.text, cue.rate) for cue in timeline.spoken())
    return tuple(found)


@pytest.fixture(scope="module", params=VOICES)
def clips(request: pytest.FixtureRequest, shared_clips: Path) -> Iterator[list[Clip]]:
    """The clips of all phrases by the system voice, of every tenth by the natural one; and the short words."""
    phrases = library() if request.param == "system" else library()[::10]
    wanted = dict.fromkeys([*phrases, *((word, 1.0) for word in SHORT)])
    with open_voice(request.param, shared_clips) as speech:
        speech.warm(wanted)
        yield [speech.clip(*phrase) for phrase in wanted]


def sound_of(clip: Clip) -> Sound:
    return clip.samples.astype(np.float64) / 32768


def repeated(sound: Sound, seconds: float = 3.0) -> Sound:
    """The rule of `level.py` for short clips: the clip over and over, without a gap, for at least 3 s."""
    return np.tile(sound, int(np.ceil(seconds * SAMPLE_RATE / len(sound))))


def lufs(sound: Sound) -> float:
    """Integrated loudness: ITU-R BS.1770-4, annex 1; the coefficients are its tables 1 and 2 (from memory)."""
    fine = soxr.resample(sound, SAMPLE_RATE, 48_000)
    shelf = lfilter(
        [1.53512485958697, -2.69169618940638, 1.19839281085285], [1, -1.69065929318241, 0.73248077421585], fine
    )
    weighted = lfilter([1, -2, 1], [1, -1.99004745483398, 0.99007225036621], shelf)
    energy = np.concatenate([[0], np.cumsum(weighted**2)])
    power = (energy[19_200::4_800] - energy[:-19_200:4_800]) / 19_200  # blocks of 0.4 s, a new one each 0.1 s

    def level(power: Sound) -> Sound:
        levels: Sound = -0.691 + 10 * np.log10(power + 1e-20)
        return levels

    heard = power[level(power) > -70]
    heard = heard[level(heard) > level(heard.mean()) - 10]
    return float(level(heard.mean()))


def dbtp(sound: Sound) -> float:
    """The peak between samples too, by a spectrum filled up with zeros to eight times the rate."""
    padded = np.pad(sound, (256, next_fast_len(len(sound) + 512) - len(sound) - 256))
    return float(20 * np.log10(np.abs(resample(padded, 8 * len(padded))).max()))


def test_the_meter_here_reads_what_the_standard_says() -> None:
    """ITU-R BS.1770-4 (from memory): 997 Hz at 0 dBFS in one front channel reads -3.01 LKFS."""
    tone = np.sin(2 * np.pi * 997 * np.arange(5 * SAMPLE_RATE) / SAMPLE_RATE)
    assert lufs(tone) == pytest.approx(-3.01, abs=0.05)
    assert lufs(np.concatenate([tone, np.zeros(10 * SAMPLE_RATE)])) == pytest.approx(-3.01, abs=0.2)  # gated
    # EBU Tech 3341 v4 (2023), case 16 (secondary copy): a quarter of the rate at 45 degrees, 0.5, reads -6 dBTP.
    quarter = 0.5 * np.sin(np.pi / 2 * np.arange(SAMPLE_RATE) + np.pi / 4)
    assert dbtp(quarter * np.hanning(len(quarter))) == pytest.approx(-6.02, abs=0.2)


def test_the_library_has_what_it_is_to_be_measured_by() -> None:
    assert len(DRILLS) > 20
    assert len(library()) > 400


def test_every_phrase_is_within_what_was_asked(clips: list[Clip]) -> None:
    readings = {clip.text: lufs(repeated(sound_of(clip))) for clip in clips}
    assert len(readings) >= 55
    mean = float(np.mean(list(readings.values())))
    assert mean == pytest.approx(-18, abs=0.5)
    assert {text: reading for text, reading in readings.items() if abs(reading - mean) > ASKED} == {}


def test_no_peak_passes_the_limit(clips: list[Clip]) -> None:
    peaks = {clip.text: dbtp(sound_of(clip)) for clip in clips}
    assert {text: peak for text, peak in peaks.items() if peak > PEAK} == {}


def test_the_shortest_words_are_as_loud_as_the_sentences(clips: list[Clip]) -> None:
    """Words down to a quarter of a second, below the 0.4 s that one block of BS.1770 takes."""
    slowest_first = sorted(clips, key=lambda clip: clip.seconds, reverse=True)  # small children are spoken to slowly
    by_text = {clip.text: clip for clip in slowest_first}
    for word in SHORT:
        clip = by_text[word]
        assert clip.seconds < 0.65
        once, often = lufs(repeated(sound_of(clip), 3)), lufs(repeated(sound_of(clip), 6))
        assert once == pytest.approx(often, abs=0.1)  # how often it is repeated does not matter
        assert once == pytest.approx(-18, abs=ASKED)


@pytest.mark.skipif(not shutil.which("ffmpeg"), reason="ffmpeg, the other meter, is not installed")
def test_ffmpeg_agrees_on_the_shortest_the_longest_and_some_between(clips: list[Clip], tmp_path: Path) -> None:
    ordered = sorted(clips, key=lambda clip: clip.seconds)
    for clip in [*ordered[:4], *ordered[:: len(ordered) // 4], ordered[-1]]:
        soundfile.write(tmp_path / "clip.wav", repeated(sound_of(clip)), SAMPLE_RATE, "PCM_16")
        command = ["ffmpeg", "-hide_banner", "-nostats", "-i", str(tmp_path / "clip.wav")]
        command += ["-af", "ebur128=peak=true", "-f", "null", "-"]
        report = subprocess.run(command, capture_output=True, text=True, check=True).stderr.rpartition("Summary:")[2]
        loud, peak = re.search(r"I:\s+(\S+) LUFS", report), re.search(r"Peak:\s+(\S+) dBFS", report)
        assert loud
        assert peak
        assert float(loud[1]) == pytest.approx(lufs(repeated(sound_of(clip))), abs=0.3), clip.text
        assert float(loud[1]) == pytest.approx(-18, abs=ASKED), clip.text
        assert float(peak[1]) <= PEAK, clip.text
