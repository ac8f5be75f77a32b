"""The filters in numpy give what scipy's give, sample for sample, and a recording needs no scipy."""

from __future__ import annotations

import subprocess
import sys

import numpy as np
import numpy.typing as npt
import pytest
from scipy.fft import dct
from scipy.signal import butter, sosfilt

from cornercue.sound import SAMPLE_RATE
from cornercue.voice.filters import BLOCK, Filter, band_pass, filtered, high_pass
from cornercue.voice.likeness import BANDS, CEPSTRA, _cosines
from cornercue.voice.recording import HOP_FRAMES, RUMBLE, STRETCH, levels

Sound = npt.NDArray[np.float64]

FILTERS = [
    (high_pass(100), {"Wn": 100, "btype": "highpass"}),
    (high_pass(5000), {"Wn": 5000, "btype": "highpass"}),
    (band_pass(100, 1000), {"Wn": (100, 1000), "btype": "bandpass"}),
    (band_pass(300, 8000), {"Wn": (300, 8000), "btype": "bandpass"}),
]


def by_scipy(sound: Sound, **design: object) -> Sound:
    heard: Sound = sosfilt(butter(2, fs=SAMPLE_RATE, output="sos", **design), sound)
    return heard


def noise(frames: int) -> Sound:
    return np.random.default_rng(frames).normal(0, 0.1, frames)


@pytest.mark.parametrize("frames", [1, BLOCK - 1, BLOCK, BLOCK + 1, 7 * BLOCK, 50_000])
@pytest.mark.parametrize(("ours", "design"), FILTERS)
def test_every_sample_is_scipys(ours: Filter, design: dict[str, object], frames: int) -> None:
    sound = noise(frames)
    assert np.abs(filtered(sound, ours) - by_scipy(sound, **design)).max() < 1e-10


@pytest.mark.parametrize(("ours", "design"), FILTERS)
def test_one_click_rings_as_long_as_scipys(ours: Filter, design: dict[str, object]) -> None:
    click = np.zeros(20 * BLOCK)
    click[BLOCK - 1] = 1.0
    assert np.abs(filtered(click, ours) - by_scipy(click, **design)).max() < 1e-11


def test_an_edge_is_3_decibels_down_and_an_octave_below_is_12() -> None:
    """Butterworth: 1 / (1 + (edge / f) ** 4) of the power passes, at the prewarped frequencies."""
    at = np.arange(SAMPLE_RATE) / SAMPLE_RATE
    for hertz, expected in ((100, -3.01), (50, -12.3), (2000, 0.0)):
        heard = filtered(np.sin(2 * np.pi * hertz * at), high_pass(100))[SAMPLE_RATE // 2 :]
        assert 10 * np.log10(2 * np.mean(heard**2)) == pytest.approx(expected, abs=0.02)


def test_no_sound_stays_none() -> None:
    assert len(filtered(np.zeros(0), high_pass(100))) == 0


@pytest.mark.parametrize("frames", [HOP_FRAMES, STRETCH - 1, STRETCH, 2 * STRETCH + 5 * HOP_FRAMES + 3])
def test_the_level_of_every_hop_is_that_of_the_whole_recording_filtered_at_once(frames: int) -> None:
    """Loud, then nearly silent: what rings from the stretch before counts where nothing else is heard."""
    sound = noise(frames)
    sound[STRETCH - 100 :] *= 1e-4
    whole = by_scipy(sound.astype(np.float32).astype(np.float64), Wn=RUMBLE, btype="highpass")
    hops = whole[: frames // HOP_FRAMES * HOP_FRAMES].reshape(-1, HOP_FRAMES)
    expected = np.maximum(10 * np.log10(np.mean(hops**2, axis=1)), -100)
    assert levels(sound.astype(np.float32)) == pytest.approx(expected, abs=1e-6)


def test_levels_of_nothing_are_none() -> None:
    assert len(levels(np.zeros(HOP_FRAMES - 1, np.float32))) == 0


def test_the_cepstra_are_scipys_cosine_transform() -> None:
    bands = np.random.default_rng(1).normal(0, 5, (40, BANDS))
    assert bands @ _cosines() == pytest.approx(dct(bands, norm="ortho")[:, :CEPSTRA], abs=1e-12)


def test_nothing_of_ours_imports_scipy() -> None:
    code = (
        "import pkgutil, sys, cornercue\n"
        "sys.modules['scipy'] = None\n"  # whoever asks for it gets an ImportError
        "import numpy as np\n"
        "from cornercue.voice.likeness import features, is_voiced, power\n"
        "from cornercue.voice.recording import levels\n"
        "sound = np.random.default_rng(1).normal(0, 0.1, 22050).astype(np.float32)\n"
        "levels(sound), is_voiced(sound), features([power(sound)])\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
