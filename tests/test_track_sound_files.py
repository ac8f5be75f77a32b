"""Sound files: other programs read them, the bytes repeat, and a render that stops leaves nothing behind."""

from __future__ import annotations

import errno
import os
import struct
import subprocess
import sys
import textwrap
import wave
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import numpy as np
import pytest
import soundfile

from cornercue.errors import CornercueError, InputFault, MachineLacks
from cornercue.sound import SAMPLE_RATE, Samples
from cornercue.timing.timeline import Cue, Timeline
from cornercue.timing.tones import TONE_SECONDS
from cornercue.track.mix import blocks
from cornercue.track.sound_files import FORMATS, write
from cornercue.voice.clip import Clip

SUFFIXES = [*FORMATS]
WORDS = ("jab", "cross", "hook")


def spoken(text: str, rate: float = 1.0) -> Clip:
    """A stand-in for a voice: a hoarse sound whose pitch depends on the word, audible at once."""
    seconds = 0.35 / rate
    at = np.arange(1, round(seconds * SAMPLE_RATE) + 1) / SAMPLE_RATE
    hum = np.sum([np.sin(2 * np.pi * (150 + 20 * len(text)) * k * at) / k for k in range(1, 8)], axis=0)
    return Clip(text, (hum * 6000).astype(np.int16))


def drill(seconds: float = 20.0) -> Timeline:
    """A start tone, a call every 1.7 s, a warning and an end tone: starts that fall between frames."""
    end = seconds - TONE_SECONDS["end"]
    cues = [Cue(0.0, 0.6, "tone", "", 1, 0, tone="start")]
    calls = np.arange(1.2345, end - 1, 1.7)
    cues += [Cue(at, at + 0.35, "call", WORDS[k % 3], 2, 0) for k, at in enumerate(calls.tolist())]
    cues += [Cue(end, seconds, "tone", "", 3, 0, tone="end")]
    return Timeline("Rear hand first", 1, 7, "none", seconds, tuple(cues), ())


def samples(line: Timeline) -> Samples:
    return np.concatenate([*blocks(line, spoken)])


def onsets(sound: Samples, quiet: float = 0.25) -> list[float]:
    """Seconds at which the sound passes -40 dBFS after at least `quiet` seconds below it."""
    loud = np.flatnonzero(np.abs(sound.astype(int)) > 328)
    first = np.r_[True, np.diff(loud) > quiet * SAMPLE_RATE]
    return [float(at) / SAMPLE_RATE for at in loud[first]]


@pytest.mark.parametrize("suffix", SUFFIXES)
def test_a_second_decoder_reads_every_frame(tmp_path: Path, suffix: str) -> None:
    write(tmp_path / f"drill{suffix}", drill(), spoken)
    sound, rate = soundfile.read(tmp_path / f"drill{suffix}", dtype="int16")
    assert rate == SAMPLE_RATE
    assert sound.shape == (20 * SAMPLE_RATE,)


@pytest.mark.parametrize("suffix", [".wav", ".flac"])
def test_lossless_files_hold_the_samples_themselves(tmp_path: Path, suffix: str) -> None:
    write(tmp_path / f"drill{suffix}", drill(), spoken)
    sound, _ = soundfile.read(tmp_path / f"drill{suffix}", dtype="int16")
    assert np.array_equal(sound, samples(drill()))


def test_the_standard_library_reads_the_same_samples(tmp_path: Path) -> None:
    write(tmp_path / "drill.wav", drill(), spoken)
    with wave.open(str(tmp_path / "drill.wav")) as file:
        assert (file.getnchannels(), file.getsampwidth(), file.getframerate()) == (1, 2, SAMPLE_RATE)
        sound = np.frombuffer(file.readframes(file.getnframes()), "<i2")
    assert np.array_equal(sound, samples(drill()))


def test_riff_sizes_agree_with_the_file(tmp_path: Path) -> None:
    """RIFF size = file - 8; a PCM format is 16 bytes; byte rate = rate x channels x bits / 8.

    RIFF/WAVE, IBM and Microsoft 1991, from memory.
    """
    write(tmp_path / "drill.wav", drill(), spoken)
    data = (tmp_path / "drill.wav").read_bytes()
    riff, size, form = struct.unpack("<4sI4s", data[:12])
    assert (riff, form, size) == (b"RIFF", b"WAVE", len(data) - 8)
    fmt, length, code, channels, rate, byte_rate, align, bits = struct.unpack("<4sIHHIIHH", data[12:36])
    assert (fmt, length, code, channels, rate, bits) == (b"fmt ", 16, 1, 1, SAMPLE_RATE, 16)
    assert (byte_rate, align) == (SAMPLE_RATE * 2, 2)
    assert struct.unpack("<4sI", data[36:44]) == (b"data", len(data) - 44)


@pytest.mark.parametrize("suffix", SUFFIXES)
def test_every_call_is_heard_at_its_start_and_every_tone_to_the_millisecond(tmp_path: Path, suffix: str) -> None:
    line = drill()
    write(tmp_path / f"drill{suffix}", line, spoken)
    sound, _ = soundfile.read(tmp_path / f"drill{suffix}", dtype="int16")
    heard = onsets(sound)
    assert len(heard) == len(line.cues)
    lossless = suffix in (".wav", ".flac")
    for cue, at in zip(line.cues, heard, strict=True):
        # A lossy codec spreads an onset over its own block, so of it the calls' 10 ms are asked.
        assert at == pytest.approx(cue.start, abs=0.001 if cue.tone and lossless else 0.010)


@pytest.mark.parametrize("suffix", SUFFIXES)
def test_the_same_timeline_gives_the_same_bytes(tmp_path: Path, suffix: str) -> None:
    one, other = tmp_path / f"one{suffix}", tmp_path / f"other{suffix}"
    write(one, drill(), spoken)
    write(other, drill(), spoken)
    assert one.read_bytes() == other.read_bytes()


def test_a_fixed_serial_number_leaves_a_sound_ogg_file(tmp_path: Path) -> None:
    """Every page carries one serial number and the checksum of RFC 3533, recomputed here bit by bit."""
    write(tmp_path / "drill.ogg", drill(), spoken)
    data = (tmp_path / "drill.ogg").read_bytes()
    serials, at = set(), 0
    while at < len(data):
        lacing = data[at + 27 : at + 27 + data[at + 26]]
        page = data[at : at + 27 + len(lacing) + sum(lacing)]
        assert page[:4] == b"OggS"
        assert struct.unpack("<I", page[22:26])[0] == ogg_checksum(page)
        serials.add(page[14:18])
        at += len(page)
    assert len(serials) == 1


def ogg_checksum(page: bytes) -> int:
    """Polynomial 0x04C11DB7, start 0, unreflected (RFC 3533, from memory)."""
    register = 0
    for byte in page[:22] + bytes(4) + page[26:]:
        register ^= byte << 24
        for _ in range(8):
            register = (register << 1) ^ (0x104C11DB7 if register & 0x80000000 else 0)
    return register


def test_a_feeders_file_has_two_channels(tmp_path: Path) -> None:
    line = Timeline(
        "Feed",
        1,
        7,
        "none",
        2.0,
        (
            Cue(0.5, 0.85, "call", "swing", 1, 0, listener="feeder"),
            Cue(1.2, 1.8, "tone", "", 1, 0, tone="start"),
        ),
        (),
    )
    write(tmp_path / "feed.wav", line, spoken, channels="split")
    sound, _ = soundfile.read(tmp_path / "feed.wav", dtype="int16")
    assert onsets(sound[:, 0]) == pytest.approx([0.5], abs=0.001)
    assert onsets(sound[:, 1]) == pytest.approx([1.2], abs=0.001)


def test_progress_only_grows_and_ends_at_one(tmp_path: Path) -> None:
    told: list[float] = []
    write(tmp_path / "drill.wav", drill(), spoken, progress=told.append)
    assert len(told) > 3
    assert told == sorted(told)
    assert told[-1] == 1.0


def test_capitals_in_the_suffix_are_fine(tmp_path: Path) -> None:
    write(tmp_path / "DRILL.FLAC", drill(), spoken)
    assert soundfile.info(tmp_path / "DRILL.FLAC").format == "FLAC"


# ---- Nothing half-written is ever left behind ----


class Stopped(Exception):
    """Something that nobody foresaw."""


@pytest.mark.parametrize("stop", [KeyboardInterrupt, Stopped])
@pytest.mark.parametrize("suffix", SUFFIXES)
def test_an_interrupted_render_leaves_nothing(tmp_path: Path, suffix: str, stop: type[BaseException]) -> None:
    def interrupt(done: float) -> None:
        if done > 0.5:
            raise stop

    with pytest.raises(stop):
        write(tmp_path / f"drill{suffix}", drill(), spoken, progress=interrupt)
    assert [*tmp_path.iterdir()] == []


def test_a_voice_that_fails_leaves_nothing_and_says_why(tmp_path: Path) -> None:
    def dumb(text: str, rate: float) -> Clip:
        raise MachineLacks("There is no voice.")

    with pytest.raises(MachineLacks, match=r"There is no voice\."):
        write(tmp_path / "drill.wav", drill(), dumb)
    assert [*tmp_path.iterdir()] == []


def test_an_interrupted_render_leaves_the_older_file_as_it_was(tmp_path: Path) -> None:
    (tmp_path / "drill.wav").write_bytes(b"last week's")

    def interrupt(done: float) -> None:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        write(tmp_path / "drill.wav", drill(), spoken, progress=interrupt)
    assert (tmp_path / "drill.wav").read_bytes() == b"last week's"
    write(tmp_path / "drill.wav", drill(), spoken)
    assert soundfile.info(tmp_path / "drill.wav").frames == 20 * SAMPLE_RATE


def test_while_it_renders_the_target_is_not_there(tmp_path: Path) -> None:
    target = tmp_path / "drill.wav"
    seen: list[bool] = []
    write(target, drill(), spoken, progress=lambda done: seen.append(target.exists()))
    assert not any(seen)
    assert [*tmp_path.iterdir()] == [target]


# ---- Targets that cannot be one ----


@pytest.mark.parametrize("name", ["drill", "drill.aac", "drill.wav.txt"])
def test_an_unknown_suffix_is_told_the_four_there_are(tmp_path: Path, name: str) -> None:
    with pytest.raises(InputFault, match=r"must end in \.wav, \.flac, \.ogg or \.mp3"):
        write(tmp_path / name, drill(), spoken)
    assert [*tmp_path.iterdir()] == []


def test_a_folder_is_no_file(tmp_path: Path) -> None:
    (tmp_path / "evening.wav").mkdir()
    with pytest.raises(InputFault, match="that is not a file; give a file's name"):
        write(tmp_path / "evening.wav", drill(), spoken)


def test_a_missing_folder_is_named(tmp_path: Path) -> None:
    with pytest.raises(InputFault, match=r"there is no folder .*nowhere; make it first"):
        write(tmp_path / "nowhere" / "drill.wav", drill(), spoken)


@contextmanager
def nobody() -> Iterator[None]:
    """As an ordinary user, also where the tests run as root, whom no permission stops."""
    if os.name != "posix" or os.geteuid() != 0:
        yield
        return
    os.seteuid(65534)
    try:
        yield
    finally:
        os.seteuid(0)


def test_a_folder_that_may_not_be_written_is_named(tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    try:
        with nobody(), pytest.raises(InputFault, match="writing is not allowed in"):
            write(tmp_path / "drill.wav", drill(), spoken)
    finally:
        tmp_path.chmod(0o700)
    assert [*tmp_path.iterdir()] == []


def test_a_drill_without_sound_is_not_written(tmp_path: Path) -> None:
    with pytest.raises(InputFault, match="makes no sound"):
        write(tmp_path / "drill.mp3", Timeline("Nothing", 1, 0, "none", 0.0, (), ()), spoken)


LIMITED = """
    import resource, signal, sys
    from pathlib import Path
    from cornercue.errors import MachineLacks
    from cornercue.track.sound_files import write
    from test_track_sound_files import drill, spoken
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (int(sys.argv[2]), resource.RLIM_INFINITY))
    try:
        write(Path(sys.argv[1]), drill(), spoken)
    except MachineLacks as fault:
        print(fault)
"""


@pytest.mark.skipif(sys.platform != "linux", reason="limits the size of a file as Linux does")
@pytest.mark.parametrize("short_by", [10, 20_000])
@pytest.mark.parametrize("suffix", SUFFIXES)
def test_a_full_disk_is_noticed_down_to_the_last_bytes(tmp_path: Path, suffix: str, short_by: int) -> None:
    """A file that may not grow to its full size stands for a full disk: the same writes fail."""
    target = tmp_path / f"drill{suffix}"
    write(target, drill(), spoken)
    room = target.stat().st_size - short_by
    target.unlink()
    done = subprocess.run(
        [sys.executable, "-c", textwrap.dedent(LIMITED), target, str(room)],
        cwd=Path(__file__).parent,
        capture_output=True,
        text=True,
        check=True,
    )
    assert "it could not be written whole; the disk may be full" in done.stdout
    assert [*tmp_path.iterdir()] == []


@pytest.mark.parametrize(
    ("number", "kind", "sentence"),
    [
        (errno.ENOSPC, MachineLacks, "there is no room left on the disk"),
        (errno.ENAMETOOLONG, InputFault, "it cannot be written there"),
    ],
)
def test_what_the_system_answers_becomes_a_sentence(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int, kind: type[CornercueError], sentence: str
) -> None:
    def refuse(one: Path, other: Path) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(os, "replace", refuse)
    with pytest.raises(kind, match=sentence):
        write(tmp_path / "drill.wav", drill(), spoken)
    assert [*tmp_path.iterdir()] == []
