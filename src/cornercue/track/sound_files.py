"""Writes a track as a sound file: WAV, FLAC, Ogg Vorbis or MP3, chosen by the file's suffix.

Measured with soundfile 0.14.0 (libsndfile 1.2.2): the same timeline gives the same bytes in all four, and
each decodes to exactly the frames written, also MP3, whose header tells a decoder how much padding to drop.
FLAC and Ogg files also get the drill's title, which libsndfile writes as a Vorbis comment; MP3 files its chapters too.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from cornercue.errors import InputFault, MachineLacks
from cornercue.quiet_libraries import quiet_stderr
from cornercue.sound import SAMPLE_RATE, Samples
from cornercue.timing.timeline import Timeline
from cornercue.track.chapters import add_chapters
from cornercue.track.mix import COLUMNS, Channels, ClipOf, blocks, total_frames
from cornercue.track.ogg import fix_serial
from cornercue.whole_files import written_whole

Progress = Callable[[float], None]
"""Called with the fraction done, 0 to 1."""

LONGEST_TITLE = 65_536
"""Letters of a title: a FLAC file's block of comments has room for 16 MB."""

TAIL = 65_536
"""Frames read back from the end of a finished file."""


@dataclass(frozen=True, slots=True)
class Format:
    """A kind of sound file, in libsndfile's words."""

    container: str
    subtype: str
    comments: bool = False
    """Whether libsndfile puts a title into it where every player looks."""


FORMATS: dict[str, Format] = {
    ".wav": Format("WAV", "PCM_16"),
    ".flac": Format("FLAC", "PCM_16", comments=True),
    ".ogg": Format("OGG", "VORBIS", comments=True),
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

    kind, total = format_of(path), total_frames(timeline)
    if not total:
        raise InputFault(f"{path}: this drill makes no sound, so there is nothing to write.")
    if len(timeline.drill) > LONGEST_TITLE:
        raise InputFault(f"{path}: the title has {len(timeline.drill):,} letters; no more than {LONGEST_TITLE:,} fit.")
    track = blocks(timeline, clip_of, channels=channels)
    with written_whole(path) as part:
        try:
            _encode(part, kind, COLUMNS[channels], timeline.drill, _watched(track, total, progress))
            if kind.container == "MP3":
                _add_chapters(part, timeline)
            _read_back(part, total)
        except soundfile.SoundFileError as fault:
            raise MachineLacks(f"{path}: it could not be written whole; the disk may be full.") from fault
        if kind.container == "OGG":
            fix_serial(part)


def _watched(track: Iterator[Samples], total: int, progress: Progress | None) -> Iterator[Samples]:
    """The same blocks; `progress` hears of each once the next is asked for, that is when it is written."""
    done = 0
    for block in track:
        yield block
        done += len(block)
        if progress:
            progress(done / total)


def _encode(part: Path, kind: Format, columns: int, title: str, track: Iterator[Samples]) -> None:
    import soundfile

    with soundfile.SoundFile(part, "w", SAMPLE_RATE, columns, kind.subtype, format=kind.container) as file:
        if kind.comments and title:
            file.title = title.replace("\0", " ").encode("utf-8", "replace").decode()
        for block in track:
            file.write(block)


def _add_chapters(part: Path, timeline: Timeline) -> None:
    import soundfile

    try:
        add_chapters(part, timeline)
    except OSError as fault:
        raise soundfile.SoundFileRuntimeError("the chapters found no room") from fault


def _read_back(part: Path, total: int) -> None:
    """Read the file's end again: libsndfile does not report that its last bytes found no room (measured)."""
    import soundfile

    with quiet_stderr(), soundfile.SoundFile(part) as file:  # an MP3 is met in its middle, which libmpg123 tells
        tail = min(TAIL, total)
        file.seek(total - tail)
        if len(file.read(tail, dtype="int16")) != tail:
            raise soundfile.SoundFileRuntimeError("the end of the file is missing")
