"""From script to sound: what is heard, and when, found by a general-purpose activity detector (auditok)."""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
import sys
import wave
from pathlib import Path

import auditok
import numpy as np
import pytest
from scipy.signal import resample_poly

from cornercue.voice.natural import lack

DRILLS = Path(__file__).parent.parent / "drills"
WINDOW = 0.0005
"""Seconds that the detector looks at together: fine enough for a millisecond."""

LISTENED = 150
"""Seconds of a drill in which every sound is looked for: it takes the detector a tenth of that."""


def cornercue(*arguments: str, cache: Path) -> str:
    """Runs the command in a process of its own, with its own clip cache."""
    done = subprocess.run(
        [sys.executable, "-m", "cornercue", *arguments],
        env={**os.environ, "XDG_CACHE_HOME": str(cache)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def cache(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("cache")


def onsets(path: Path) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """Where sound starts after at least 0.1 s of silence, in seconds of the first `LISTENED`."""
    with wave.open(str(path)) as sound:
        rate = sound.getframerate()
        raw = sound.readframes(LISTENED * rate)
    regions = auditok.split(
        raw, sampling_rate=rate, sample_width=2, channels=1, analysis_window=WINDOW,
        min_dur=0.002, max_dur=60, max_silence=0.1, energy_threshold=35,
    )  # fmt: skip
    return np.array([region.start for region in regions])


@pytest.mark.parametrize("name", ["first-combination", "six-and-your-level"])
def test_every_sound_starts_when_the_timeline_says(name: str, cache: Path, tmp_path: Path) -> None:
    script, target = str(DRILLS / f"{name}.yaml"), tmp_path / "drill.wav"
    cornercue("render", script, "-o", str(target), "--seed", "3", cache=cache)
    cues = json.loads(cornercue("show", script, "--json", "--seed", "3", cache=cache))["cues"]
    found = onsets(target)
    for cue in (cue for cue in cues if cue["start"] < LISTENED - 1):
        error = min(abs(found - cue["start"]))
        assert error <= (0.001 if cue["kind"] == "tone" else 0.010), cue
    # No sound that the timeline does not know, apart from pauses inside a phrase.
    for onset in found:
        assert any(cue["start"] - 0.01 <= onset < cue["end"] for cue in cues), onset


def test_the_same_seed_gives_the_same_bytes_in_another_process_with_another_cache(tmp_path: Path) -> None:
    digests = set()
    for run in ("one", "two"):
        target = tmp_path / f"{run}.wav"
        script = str(DRILLS / "first-combination.yaml")
        cornercue("render", script, "-o", str(target), "--seed", "11", cache=tmp_path / run)
        digests.add(hashlib.sha256(target.read_bytes()).hexdigest())
    assert len(digests) == 1


def test_speech_is_as_loud_as_the_standard_for_it_asks(cache: Path, tmp_path: Path) -> None:
    """AES TD1008 (2021) asks for speech at -18 LUFS; the words are cut out at their cues and measured together."""
    import pyloudnorm

    script, target = str(DRILLS / "first-combination.yaml"), tmp_path / "drill.wav"
    cornercue("render", script, "-o", str(target), "--seed", "3", cache=cache)
    cues = json.loads(cornercue("show", script, "--json", "--seed", "3", cache=cache))["cues"]
    with wave.open(str(target)) as sound:
        rate = sound.getframerate()
        track = np.frombuffer(sound.readframes(sound.getnframes()), np.int16) / 32768
    speech = np.concatenate(
        [track[round(cue["start"] * rate) : round(cue["end"] * rate)] for cue in cues if cue["text"]]
    )
    assert pyloudnorm.Meter(rate).integrated_loudness(speech) == pytest.approx(-18, abs=1)


DENSE = """\
drill: Dense
safety: short
junior: no
steps:
- exercise: jumping jacks
  reps: 25
  every: 0.5 s
- exercise: skipping
  for: 12 s
- partner: [parry, cover]
  for: 30 s
  pace: sharp
  answers: [[jab, cross], [lead hook]]
"""


@pytest.mark.parametrize(
    "voice",
    ["system", pytest.param("natural", marks=pytest.mark.skipif(lack() is not None, reason=f"{lack()}"))],
)
def test_where_words_and_tones_are_dense_no_true_peak_passes_the_limit(voice: str, cache: Path, tmp_path: Path) -> None:
    """At most -1 dBTP (AES TD1008 (2021), secondary copy), with scipy's oversampling by eight for the true peak."""
    script, target = tmp_path / "dense.yaml", tmp_path / "dense.wav"
    script.write_text(DENSE, encoding="utf-8")
    cornercue("render", str(script), "-o", str(target), "--seed", "1", "--voice", voice, cache=cache)
    with wave.open(str(target)) as sound:
        samples = np.frombuffer(sound.readframes(sound.getnframes()), np.int16) / 32768
    peak = 20 * np.log10(max(np.abs(resample_poly(part, 8, 1)).max() for part in np.array_split(samples, 20)))
    assert -6 < peak <= -1
