"""Raw recordings become clips: trimmed, faded, equally loud, no peak too high."""

from __future__ import annotations

import numpy as np
import pyloudnorm
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.signal import lfilter

import cornercue.voice.loudness as loudness_module
from cornercue.errors import InputFault
from cornercue.sound import SAMPLE_RATE
from cornercue.voice.clip import Clip
from cornercue.voice.level import clip_from, levelled, limited, loudness, true_peak
from cornercue.voice.loudness import Sound, integrated_loudness, k_weighted
from cornercue.voice.voice import RawSound


def sine(hertz: float, seconds: float, amplitude: float = 0.5, rate: int = SAMPLE_RATE, degrees: float = 0) -> Sound:
    at = np.arange(round(seconds * rate)) / rate
    wave: Sound = amplitude * np.sin(2 * np.pi * hertz * at + np.radians(degrees))
    return wave


def recorded(sound: Sound, before: float = 0.3, after: float = 0.4, rate: int = SAMPLE_RATE) -> RawSound:
    """The sound with silence round it, a hiss 70 dB below full scale in all of it."""
    padded = np.pad(sound, (round(before * rate), round(after * rate)))
    hiss = np.random.default_rng(1).normal(0, 10 ** (-70 / 20), len(padded))
    return RawSound((padded + hiss).astype(np.float32), rate)


def as_sound(clip: Clip) -> Sound:
    return clip.samples / 32768


def test_the_loudness_meter_reads_what_the_standards_say() -> None:
    # ITU-R BS.1770-4/5 (from memory): 997 Hz at 0 dBFS in one front channel reads -3.01 LKFS.
    assert loudness(sine(997, 5, 1.0)) == pytest.approx(-3.01, abs=0.1)
    # EBU Tech 3341 v4 (2023), cases 1 and 2 (secondary copy): 1 kHz at -23 and -33 dBFS in two channels read
    # -23 and -33 LUFS; one channel has half the power, 3.01 less.
    for level in (-23, -33):
        assert loudness(sine(1000, 20, 10 ** (level / 20))) == pytest.approx(level - 3.01, abs=0.1)


@settings(max_examples=40)
@given(st.integers(0, 10**6), st.integers(4, 60), st.floats(-60, 0), st.floats(0, 0.9))
def test_the_meter_agrees_with_pyloudnorm(seed: int, tenths: int, level: float, pause: float) -> None:
    """Rough sound with a pause in it, of whole blocks: pyloudnorm measures a last one that is not whole, too."""
    noise = np.random.default_rng(seed).normal(0, 0.1, tenths * SAMPLE_RATE // 10).cumsum() % 0.5 - 0.25
    noise[: round(pause * len(noise))] *= 0.001
    sound = noise * 10 ** (level / 20)
    theirs = pyloudnorm.Meter(SAMPLE_RATE, filter_class="DeMan").integrated_loudness(sound)
    assert integrated_loudness(sound) == pytest.approx(max(theirs, -70), abs=0.1)


@pytest.mark.parametrize("hertz", [40, 100, 400, 997, 2000, 4000, 8000])
def test_the_weighting_is_the_standards_own_at_every_frequency(hertz: float) -> None:
    """BS.1770's filters at their own rate of 48 kHz, by scipy, for a sine."""
    shelf, high_pass = loudness_module.SHELF, loudness_module.HIGH_PASS
    wave = sine(hertz, 2, rate=48_000)
    theirs = lfilter(*high_pass, lfilter(*shelf, wave))
    ours = k_weighted(sine(hertz, 2))
    assert 20 * np.log10(ours[SAMPLE_RATE:].std() / theirs[48_000:].std()) == pytest.approx(0, abs=0.01)


def test_a_short_sound_reads_like_a_long_one() -> None:
    assert loudness(sine(1000, 0.2)) == pytest.approx(loudness(sine(1000, 10)), abs=0.05)


def test_silence_reads_as_the_absolute_gate() -> None:
    assert loudness(np.zeros(100)) == -70  # ITU-R BS.1770-4: blocks below -70 LKFS do not count


@pytest.mark.parametrize(
    ("divisor", "amplitude", "degrees", "dbtp"),
    [(4, 0.5, 0, -6), (4, 0.5, 45, -6), (6, 0.5, 60, -6), (8, 0.5, 67.5, -6), (4, 1.41, 45, 3)],
)
def test_the_peak_meter_reads_the_ebu_signals(divisor: int, amplitude: float, degrees: float, dbtp: float) -> None:
    """EBU Tech 3341 v4 (2023), cases 15 to 19 (secondary copy): within +0.2 and -0.4 dB."""
    tone = sine(SAMPLE_RATE / divisor, 1, amplitude, degrees=degrees)
    slope = np.minimum(1, np.minimum(np.arange(len(tone)), np.arange(len(tone))[::-1]) / 2000)
    assert dbtp - 0.4 <= true_peak(tone * slope) <= dbtp + 0.2


@pytest.mark.parametrize("level", [-6, -20, -35])
def test_silence_round_a_phrase_goes_however_loud_it_was_recorded(level: float) -> None:
    tone = sine(300, 0.5, 10 ** (level / 20))
    noiseless = RawSound(np.pad(tone, (5000, 9000)).astype(np.float32), SAMPLE_RATE)
    clip = clip_from("tone", noiseless)
    assert clip.text == "tone"
    assert clip.seconds == pytest.approx(0.5, abs=0.001)
    assert clip.samples.dtype == np.int16
    assert loudness(as_sound(clip)) == pytest.approx(-18, abs=0.2)


def test_hiss_under_a_phrase_is_silence() -> None:
    assert clip_from("tone", recorded(sine(300, 0.5))).seconds == pytest.approx(0.5, abs=0.001)


def test_a_soft_beginning_is_kept() -> None:
    soft, loud = sine(3000, 0.08, 0.5 * 10 ** (-32 / 20)), sine(200, 0.4)  # like the "h" of "high"
    assert clip_from("high", recorded(np.concatenate([soft, loud]))).seconds == pytest.approx(0.48, abs=0.001)


def test_a_sound_that_begins_and_ends_at_full_swing_does_not_click() -> None:
    clip = clip_from("hum", recorded(sine(100, 0.3, degrees=90)))
    loudest = np.abs(clip.samples.astype(float)).max()
    assert abs(clip.samples[0]) < 0.01 * loudest
    assert abs(clip.samples[-1]) < 0.01 * loudest
    natural = 2 * np.pi * 100 / SAMPLE_RATE  # the steepest step of the sine itself, for an amplitude of one
    steps = np.abs(np.diff(clip.samples.astype(float))) / loudest
    assert steps[-110:].max() < natural + 1.6 / 110  # and of a half cosine over 5 ms
    assert steps.max() < natural + 1.6 / 22  # and over 1 ms


@pytest.mark.parametrize("rate", [8_000, 16_000, 24_000, 44_100, 48_000])
def test_any_sample_rate_becomes_ours(rate: int) -> None:
    clip = clip_from("tone", recorded(sine(1000, 0.5, rate=rate), rate=rate))
    assert clip.seconds == pytest.approx(0.5, abs=0.005)
    spectrum = np.abs(np.fft.rfft(as_sound(clip), SAMPLE_RATE))
    assert int(spectrum.argmax()) == pytest.approx(1000, abs=2)


@pytest.mark.parametrize("samples", [[], [0.0] * 9000, [1e-5] * 9000, [float("nan")] * 9000])
def test_a_recording_without_sound_is_refused(samples: list[float]) -> None:
    with pytest.raises(InputFault, match="makes no sound for “jab”"):
        clip_from("jab", RawSound(np.array(samples, np.float32), SAMPLE_RATE))


def test_the_limiter_leaves_what_is_below_the_ceiling_alone() -> None:
    quiet = sine(440, 0.5, 0.8)
    assert np.array_equal(limited(quiet), quiet)


def test_the_limiter_turns_down_only_round_the_peak() -> None:
    sound = sine(440, 0.5, 0.5)
    sound[5000:5050] *= 3
    held = limited(sound)
    assert true_peak(held) <= -1
    assert np.array_equal(held[:4900], sound[:4900])
    assert np.array_equal(held[5150:], sound[5150:])


@settings(max_examples=25, deadline=None)
@given(seed=st.integers(0, 10**6), crest=st.floats(1, 8), seconds=st.floats(0.05, 1.5))
def test_no_sound_whatever_comes_out_with_a_peak_above_the_limit(seed: int, crest: float, seconds: float) -> None:
    """True peak at most -1 dBTP (AES TD1008 (2021), secondary copy), noise from smooth to spiky."""
    noise = np.random.default_rng(seed).normal(0, 0.1, round(seconds * SAMPLE_RATE))
    spiky = np.sign(noise) * np.abs(noise) ** crest / 0.1 ** (crest - 1)
    assert true_peak(levelled(spiky)) <= -1
