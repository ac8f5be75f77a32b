"""Writes a track as a sound file: WAV, FLAC, Ogg Vorbis or MP3, chosen by the file's suffix.

Measured with soundfile 0.14.0 (libsndfile 1.2.2): the same timeline gives the same bytes in all four, and
each decodes to exactly the frames written, also MP3, whose header tells a decoder how much padding to drop.
An MP3 file also gets its chapters.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from cornercue.errors import InputFault, MachineLacks
from cornercue.sound import SAMPLE_RATE, Samples
from cornercue.timing.timeline import Timeline
from cornercue.track.chapters import add_chapters
from cornercue.track.mix import COLUMNS, Channels, ClipOf, blocks, total_frames
from cornercue.whole_files import written_whole

Progress = Callable[[float], None]
"""Called with the fraction done, 0 to 1."""

OGG_SERIAL = 1
"""Any fixed number serves: it tells apart streams that share a file (RFC 3533, section 6, from memory)."""

TAIL = 65_536
"""Frames read back from the end of a finished file."""


@dataclass(frozen=True, slots=True)
class Format:
    """A kind of sound file, in libsndfile's words."""

    container: str
    subtype: str


FORMATS: dict[str, Format] = {
    ".wav": Format("WAV", "PCM_16"),
    ".flac": Format("FLAC", "PCM_16"),
    ".ogg": Format("OGG", "VORBIS"),
    ".mp3": Format("MP3", "MPEG_LAYER_III"),
}


def format_of(path: Path) -> Format:
    """The format that the suffix of `path` asks for; `InputFault` names those there are."""
    found = FORMATS.get(path.suffix.lower())
    if found is None:
        *others, last = FORMATS
        raise InputFault(f"{path}: the name of a sound file must end in {', '.join(others)} or {last}.")
    return found


def write(
    path: Path,
    timeline: Timeline,
    clip_of: ClipOf,
    progress: Progress | None = None,
    channels: Channels = "mono",
) -> None:
    """Write the whole track to `path`, 16 bits a sample at `SAMPLE_RATE`, replacing a file that is there.

    An interrupted render leaves nothing behind, and an older file as it was. Raises `InputFault` for a target
    that cannot be one and `MachineLacks` for a full disk; whatever `clip_of` raises passes through.
    """
    import soundfile  # Slow to import, and needed only here.
    from mutagen import MutagenError

    kind, total = format_of(path), total_frames(timeline)
    if not total:
        raise InputFault(f"{path}: this drill makes no sound, so there is nothing to write.")
    track = blocks(timeline, clip_of, channels=channels)
    with written_whole(path) as part:
        try:
            _encode(part, kind, COLUMNS[channels], _watched(track, total, progress))
            if kind.container == "MP3":
                add_chapters(part, timeline)
            _read_back(part, total)
        except (soundfile.SoundFileError, MutagenError) as fault:
            raise MachineLacks(f"{path}: it could not be written whole; the disk may be full.") from fault
        if kind.container == "OGG":
            _fix_serial(part)


def _watched(track: Iterator[Samples], total: int, progress: Progress | None) -> Iterator[Samples]:
    """The same blocks; `progress` hears of each once the next is asked for, that is when it is written."""
    done = 0
    for block in track:
        yield block
        done += len(block)
        if progress:
            progress(done / total)


def _encode(part: Path, kind: Format, columns: int, track: Iterator[Samples]) -> None:
    import soundfile

    with soundfile.SoundFile(part, "w", SAMPLE_RATE, columns, kind.subtype, format=kind.container) as file:
        for block in track:
            file.write(block)


def _read_back(part: Path, total: int) -> None:
    """Read the file's end again: libsndfile does not report that its last bytes found no room (measured)."""
    import soundfile

    with soundfile.SoundFile(part) as file:
        tail = min(TAIL, total)
        file.seek(total - tail)
        if len(file.read(tail, dtype="int16")) != tail:
            raise soundfile.SoundFileRuntimeError("the end of the file is missing")


def _fix_serial(part: Path) -> None:
    """Give every Ogg page the same serial number each time: libsndfile draws one at random."""
    from mutagen.ogg import OggPage

    page_at: Any = OggPage  # mutagen's types stop short of this class.
    with part.open("r+b") as file:
        size = part.stat().st_size
        while file.tell() < size:
            page = page_at(file)
            page.serial = OGG_SERIAL
            file.seek(page.offset)
            file.write(page.write())
