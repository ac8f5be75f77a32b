"""Files as recorders and editors leave them: imported as they sound, or refused in a sentence that says what to do."""

from __future__ import annotations

import os
from pathlib import Path

import numpy as np
import pytest
import soundfile

from cornercue.errors import InputFault
from cornercue.sound import SAMPLE_RATE
from cornercue.voice import recording_file
from cornercue.voice.recording_file import read_recording

TONE = 0.4 * np.sin(2 * np.pi * 440 * np.arange(48_000) / 48_000)


@pytest.mark.parametrize("subtype", ["GSM610", "PCM_U8", "ULAW", "ALAW", "PCM_24", "FLOAT", "DOUBLE", "IMA_ADPCM"])
def test_every_coding_of_a_wav_sounds_the_same(subtype: str, tmp_path: Path) -> None:
    rate = 8000 if subtype == "GSM610" else 48_000
    tone = 0.4 * np.sin(2 * np.pi * 440 * np.arange(rate) / rate)
    soundfile.write(tmp_path / "a.wav", tone, rate, subtype=subtype)
    middle = read_recording(tmp_path / "a.wav").samples[5000:15000]
    assert np.sqrt(np.mean(middle**2)) == pytest.approx(0.4 / np.sqrt(2), rel=0.05)


def test_six_channels_are_mixed(tmp_path: Path) -> None:
    soundfile.write(tmp_path / "a.wav", np.stack([TONE] * 6, axis=1), 48_000)
    sound = read_recording(tmp_path / "a.wav")
    assert len(sound.samples) == pytest.approx(SAMPLE_RATE, rel=0.01)
    assert np.abs(sound.samples[5000:15000]).max() == pytest.approx(0.4, rel=0.02)


@pytest.mark.parametrize("bad", [np.nan, np.inf, -np.inf, 1e30])
def test_numbers_that_are_no_sound_are_refused(bad: float, tmp_path: Path) -> None:
    broken = TONE.copy()
    broken[1000] = bad
    soundfile.write(tmp_path / "a.wav", broken, 48_000, subtype="DOUBLE" if abs(bad) < np.inf else "FLOAT")
    with pytest.raises(InputFault, match=r"a\.wav holds numbers that are no sound .* export it once more"):
        read_recording(tmp_path / "a.wav")


def test_no_frames_odd_rates_and_channels_that_cancel_are_refused(tmp_path: Path) -> None:
    soundfile.write(tmp_path / "none.wav", np.zeros(0), 48_000)
    soundfile.write(tmp_path / "slow.wav", TONE, 800)
    soundfile.write(tmp_path / "against.wav", np.stack([TONE, -TONE], axis=1), 48_000)
    for name, sentence in (
        ("none.wav", "holds no sound at all: record it again"),
        ("slow.wav", "has 800 samples a second, and speech needs"),
        ("against.wav", "Save only one of them"),
    ):
        with pytest.raises(InputFault, match=sentence):
            read_recording(tmp_path / name)


@pytest.mark.parametrize("name", ["a.wav", "a.flac", "a.ogg", "a.mp3"])
def test_every_format_and_rate_gives_the_same_mono_sound(name: str, tmp_path: Path) -> None:
    at = np.arange(48_000) / 48_000
    tone = 0.4 * np.sin(2 * np.pi * 440 * at)
    soundfile.write(tmp_path / name, np.stack([tone, tone], axis=1), 48_000)
    sound = read_recording(tmp_path / name)
    assert len(sound.samples) == pytest.approx(SAMPLE_RATE, rel=0.1)
    middle = sound.samples[5000:15000]
    assert np.sqrt(np.mean(middle**2)) == pytest.approx(0.4 / np.sqrt(2), rel=0.03)
    assert not len(sound.clipped)


def test_peaks_that_were_cut_off_are_seen(tmp_path: Path) -> None:
    at = np.arange(44_100) / 44_100
    soundfile.write(tmp_path / "a.wav", np.clip(3 * np.sin(2 * np.pi * 200 * at), -1, 1), 44_100)
    assert len(read_recording(tmp_path / "a.wav").clipped) > 100


def test_a_recording_that_is_none_gets_a_sentence(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "text.wav").write_text("These are words, and no sound.")
    (tmp_path / "empty.wav").write_bytes(b"")
    with (tmp_path / "huge.wav").open("wb") as file:
        file.truncate(recording_file.LARGEST + 1)
    soundfile.write(tmp_path / "cut.wav", np.zeros(20_000), 44_100)
    whole = (tmp_path / "cut.wav").read_bytes()
    (tmp_path / "cut.wav").write_bytes(whole[:9000])
    soundfile.write(tmp_path / "long.wav", np.zeros(20_000), 44_100)
    for name, sentence in (
        ("text.wav", "not a sound file"),
        ("empty.wav", "not a sound file"),
        ("huge.wav", "has 300 MB"),
        ("cut.wav", "was cut short: 9000 of 40044 bytes"),
        ("none.wav", "cannot be read"),
        (".", "cannot be read"),
    ):
        with pytest.raises(InputFault, match=sentence):
            read_recording(tmp_path / name)
    monkeypatch.setattr(recording_file, "LONGEST", 0.4)
    with pytest.raises(InputFault, match="longer than"):
        read_recording(tmp_path / "long.wav")


def test_only_the_sentence_is_said_about_a_damaged_mp3(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "a.mp3").write_bytes(np.random.default_rng(1).bytes(30_000))
    with pytest.raises(InputFault, match="not a sound file"):
        read_recording(tmp_path / "a.mp3")
    assert capfd.readouterr().err == ""
    os.write(2, b"heard again")
    assert capfd.readouterr().err == "heard again"
