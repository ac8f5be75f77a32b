"""A sound file that somebody recorded → a `Recording`, block by block. The file is not trusted.

soundfile and soxr wait until a file is read.
"""

from __future__ import annotations

import struct
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from cornercue.durations import clock_with_tenths
from cornercue.errors import InputFault, MachineLacks
from cornercue.quiet_libraries import quiet_stderr
from cornercue.sound import SAMPLE_RATE
from cornercue.voice.recording import HOP, Recording, SoundOnDisk
from cornercue.voice.voice import Floats

if TYPE_CHECKING:
    from soundfile import SoundFile

LARGEST, LONGEST = 300_000_000, 90 * 60.0
"""Bytes and seconds of the largest recording that is read."""

BLOCK = 1 << 16
"""Samples read at once, all channels together."""

SLOWEST, FASTEST = 4000, 768_000
"""Samples a second: with fewer no consonant can be told, and no recorder makes more."""

FULL_SCALE, FLAT = 0.999, 3
"""So many samples in a row at full scale are a peak that was cut off."""

CANCELLED = 0.003
"""Share of the channels' power below which their mean is none of the speech: one is the other upside down."""


def read_recording(path: Path) -> Recording:
    """A recording from a WAV, FLAC, Ogg or MP3 file. Raises InputFault, and MachineLacks where the disk is full."""
    import soundfile

    try:
        size = path.stat().st_size
        if size > LARGEST:
            raise InputFault(
                f"{path} has {size / 1e6:.0f} MB, over the {LARGEST / 1e6:.0f} that are read: save it as FLAC."
            )
        _check_whole(path, size)
        with quiet_stderr(), soundfile.SoundFile(path) as file:
            _check_kind(path, file)
            return _read(path, file)
    except OSError as fault:
        raise InputFault(f"{path}: the recording cannot be read ({fault.strerror}).") from None
    except soundfile.SoundFileError:
        raise InputFault(f"{path} is not a sound file that can be read: save it as WAV, FLAC, Ogg or MP3.") from None


def _check_whole(path: Path, size: int) -> None:
    """A WAV file says how long it is (RIFF); one that is shorter was not copied to its end."""
    with path.open("rb") as file:
        head = file.read(12)
    if len(head) == 12 and head[:4] == b"RIFF":
        (told,) = struct.unpack("<I", head[4:8])
        if 0 < told < 0xFFFF_FF00 and told + 8 > size + 1:
            raise InputFault(f"{path} was cut short: {size} of {told + 8} bytes are there. Copy it again.")


def _check_kind(path: Path, file: SoundFile) -> None:
    """What its head says: there must be sound in it, not too much, at a rate that carries speech."""
    if not file.frames:
        raise InputFault(f"{path} holds no sound at all: record it again, or copy it again.")
    if not SLOWEST <= file.samplerate <= FASTEST:
        raise InputFault(
            f"{path} has {file.samplerate} samples a second, and speech needs {SLOWEST} to {FASTEST}: "
            "save it with 22050 or 44100."
        )
    if file.frames > LONGEST * file.samplerate:
        raise InputFault(f"{path} lasts longer than {LONGEST / 60:.0f} minutes: record in parts.")


def _read(path: Path, file: SoundFile) -> Recording:
    import soxr  # type: ignore[import-untyped]  # it ships no types

    rate, done, clipped = file.samplerate, 0, [np.zeros(0)]
    mean_power = power = 0.0
    stream = soxr.ResampleStream(rate, SAMPLE_RATE, 1, dtype="float32")
    kept = SoundOnDisk()
    # Not by file.blocks, which refuses what cannot be sought in, as GSM.
    while len(block := file.read(max(1, BLOCK // file.channels), dtype="float32", always_2d=True)):
        _check_numbers(path, block, done / rate)
        peaks, mono = np.abs(block).max(axis=1), np.ascontiguousarray(block.mean(axis=1))
        clipped.append(np.unique((_flat(peaks) + done) / rate // HOP) * HOP)
        power += float(np.einsum("ij,ij->", block, block)) / file.channels
        mean_power += float(mono @ mono)
        done += len(block)
        if done > LONGEST * rate:
            raise InputFault(f"{path} lasts longer than {LONGEST / 60:.0f} minutes: record in parts.")
        _keep(kept, stream.resample_chunk(mono))
    if done < file.frames and file.format in ("WAV", "FLAC"):
        raise InputFault(f"{path} was cut short: {done} of {file.frames} frames are there. Copy it again.")
    if mean_power < CANCELLED * power:
        raise InputFault(f"{path}: its channels cancel each other out when mixed. Save only one of them, as mono.")
    _keep(kept, stream.resample_chunk(np.zeros(0, np.float32), last=True))
    return Recording(kept, np.concatenate(clipped))


def _keep(kept: SoundOnDisk, samples: Floats) -> None:
    try:
        kept.append(samples)
    except OSError as fault:
        raise MachineLacks(
            f"The recording does not fit on the disk of {tempfile.gettempdir()}, the folder for temporary files "
            f"({fault.strerror or fault}): make room there. An hour and a half needs 500 MB."
        ) from None


def _check_numbers(path: Path, block: Floats, seconds: float) -> None:
    """Files of floats may hold what is no number, or one that no loudspeaker knows."""
    broken = ~(np.abs(block).max(axis=1) < 1e6)
    if broken.any():
        raise InputFault(
            f"{path} holds numbers that are no sound (infinite, or not a number), first in the block at "
            f"{clock_with_tenths(seconds)}: export it once more from your sound editor, as WAV with 16 bits."
        )


def _flat(peaks: Floats) -> npt.NDArray[np.int64]:
    """Where runs of `FLAT` samples at full scale end."""
    full = (peaks >= FULL_SCALE).astype(np.int64)
    return np.flatnonzero(np.convolve(full, np.ones(FLAT, np.int64))[: len(full)] == FLAT)
