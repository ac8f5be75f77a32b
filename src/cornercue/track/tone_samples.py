"""The tones' score rendered into samples."""

from __future__ import annotations

from functools import cache

import numpy as np
import numpy.typing as npt

from cornercue.sound import SAMPLE_RATE, Samples
from cornercue.timing.timeline import Tone
from cornercue.timing.tones import NOTES, TONE_SECONDS, Note

LEVEL = -18.0
"""Mean level of a tone, dB below full scale: as loud as speech at -18 LUFS (AES TD1008), within 1 LU."""

ATTACK = 0.001
"""Seconds to full strength: short enough to be exact, long enough not to click."""

RELEASE = 0.02
"""Seconds of the fade at a note's end."""


@cache
def tone_samples(tone: Tone) -> Samples:
    """The sound of a tone: shape (frames,), int16, at `SAMPLE_RATE`; made once, so read-only."""
    sound = np.zeros(round(TONE_SECONDS[tone] * SAMPLE_RATE))
    at = 0.0
    for note in NOTES[tone]:
        first = round(at * SAMPLE_RATE)
        wave = _note(note)[: len(sound) - first]
        sound[first : first + len(wave)] = wave
        at += note.seconds + note.gap
    samples: Samples = np.rint(_levelled(sound) * 32767).astype(np.int16)
    samples.flags.writeable = False
    return samples


def _note(note: Note) -> npt.NDArray[np.float64]:
    """One note with a softer octave above it, so that it carries on a small loudspeaker."""
    frames = round(note.seconds * SAMPLE_RATE)
    # Phase and fades start one frame in, so that the first frame already sounds.
    after = np.arange(1, frames + 1) / SAMPLE_RATE
    before_end = np.arange(frames, 0, -1) / SAMPLE_RATE
    phase = 2 * np.pi * note.hertz * after
    wave = np.sin(phase) + 0.25 * np.sin(2 * phase)
    shape: npt.NDArray[np.float64] = wave * _rise(after, ATTACK) * _rise(before_end, RELEASE)
    return shape


def _rise(seconds: npt.NDArray[np.float64], length: float) -> npt.NDArray[np.float64]:
    """0 to 1 along a sine's quarter within `length` seconds, 1 from there on."""
    rise: npt.NDArray[np.float64] = np.sin(np.pi / 2 * np.minimum(seconds / length, 1.0))
    return rise


def _levelled(sound: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    """Scaled to `LEVEL` over the whole tone, gaps included."""
    level: float = np.sqrt(np.mean(sound**2))
    levelled: npt.NDArray[np.float64] = sound * (10 ** (LEVEL / 20) / level)
    return levelled
