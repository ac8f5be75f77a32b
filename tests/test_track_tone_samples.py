"""The three tones: heard at once, told apart by pitch and by rhythm, as loud as the voice, never clipping."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import get_args

import numpy as np
import numpy.typing as npt
import pyloudnorm
import pytest
from scipy.signal import resample_poly

from cornercue.sound import SAMPLE_RATE
from cornercue.timing.timeline import Tone
from cornercue.timing.tones import NOTES, TONE_SECONDS
from cornercue.track.tone_samples import tone_samples

TONES: tuple[Tone, ...] = get_args(Tone)
AUDIBLE = 32768 * 10 ** (-50 / 20)


def unit(tone: Tone) -> npt.NDArray[np.float64]:
    return tone_samples(tone).astype(np.float64) / 32768


def bursts(tone: Tone) -> list[tuple[float, float]]:
    """(start, end) in seconds of each stretch that sounds, by energy in windows of 5 ms."""
    window = SAMPLE_RATE // 200
    sound = unit(tone)
    level = np.sqrt(np.convolve(sound**2, np.ones(window) / window, mode="same"))
    edges = np.diff(np.r_[0, (level > 10 ** (-40 / 20)).astype(int), 0])
    starts, ends = np.flatnonzero(edges == 1), np.flatnonzero(edges == -1)
    return [(a / SAMPLE_RATE, b / SAMPLE_RATE) for a, b in zip(starts, ends, strict=True)]


def pitch(sound: npt.NDArray[np.float64]) -> float:
    """The strongest frequency, in hertz."""
    spectrum = np.abs(np.fft.rfft(sound * np.hanning(len(sound)), n=SAMPLE_RATE))
    return float(np.argmax(spectrum))


def test_every_tone_has_a_score_and_timing_knows_its_length() -> None:
    assert set(NOTES) == set(TONE_SECONDS) == set(TONES)
    for tone in TONES:
        assert 0.3 <= TONE_SECONDS[tone] <= 0.7 + 1e-9
        assert len(tone_samples(tone)) == round(TONE_SECONDS[tone] * SAMPLE_RATE)


@pytest.mark.parametrize("tone", TONES)
def test_a_tone_is_audible_within_a_millisecond_of_its_start_and_to_its_end(tone: Tone) -> None:
    loud = np.flatnonzero(np.abs(tone_samples(tone).astype(int)) > AUDIBLE)
    assert loud[0] <= SAMPLE_RATE / 1000
    assert loud[-1] >= len(tone_samples(tone)) - SAMPLE_RATE / 100


@pytest.mark.parametrize("tone", TONES)
def test_a_tone_begins_and_ends_without_a_click(tone: Tone) -> None:
    """A click is a step or a kink sharper than any bend of the ringing note itself."""
    bends = np.abs(np.diff(np.r_[0, 0, unit(tone), 0, 0], n=2))
    edge = SAMPLE_RATE // 1000
    note = bends[edge : round(NOTES[tone][0].seconds * SAMPLE_RATE) - edge]
    assert bends[:edge].max() <= 1.1 * note.max()
    assert bends[-edge:].max() <= note.max() / 4


def test_the_tones_differ_in_rhythm() -> None:
    assert {tone: len(bursts(tone)) for tone in TONES} == {"start": 1, "warning": 2, "end": 3}
    longest = {tone: max(b - a for a, b in bursts(tone)) for tone in TONES}
    assert longest["start"] > 4 * longest["warning"]


def test_the_tones_differ_in_pitch_by_more_than_a_third() -> None:
    pitches = sorted(pitch(unit(tone)) for tone in TONES)
    third = 2 ** (3 / 12)
    assert all(higher / lower > third for lower, higher in pairwise(pitches))


def test_each_note_sounds_at_its_pitch_and_the_end_falls() -> None:
    for tone in TONES:
        sound = unit(tone)
        heard = [pitch(sound[int(a * SAMPLE_RATE) : int(b * SAMPLE_RATE)]) for a, b in bursts(tone)]
        assert heard == pytest.approx([note.hertz for note in NOTES[tone]], abs=8)
    falling = [note.hertz for note in NOTES["end"]]
    assert falling == sorted(falling, reverse=True)


@pytest.mark.parametrize("tone", TONES)
def test_a_tone_is_as_loud_as_speech(tone: Tone) -> None:
    """-18 LUFS +-1 (AES TD1008, 2021, secondary copy), measured by BS.1770 over the tone repeated for 3 s."""
    sound = np.tile(unit(tone), math.ceil(3 / TONE_SECONDS[tone]))
    assert pyloudnorm.Meter(SAMPLE_RATE).integrated_loudness(sound) == pytest.approx(-18.0, abs=1.0)


@pytest.mark.parametrize("tone", TONES)
def test_a_tone_leaves_a_decibel_of_true_peak(tone: Tone) -> None:
    """True peak as in ITU-R BS.1770, by four-fold oversampling; at most -1 dBTP (TD1004, secondary copy)."""
    peak = np.abs(resample_poly(unit(tone), 4, 1)).max()
    assert 20 * math.log10(peak) <= -1.0


def test_nobody_can_alter_a_tone_for_the_next_one() -> None:
    with pytest.raises(ValueError, match="read-only"):
        tone_samples("start")[0] = 1
