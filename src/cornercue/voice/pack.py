"""A recorded pack: a folder with an index and one sound file a phrase. Packs are passed on, and not trusted."""

from __future__ import annotations

import json
import os
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import astuple, dataclass
from pathlib import Path

import numpy as np

from cornercue.errors import InputFault, MachineLacks
from cornercue.sound import SAMPLE_RATE, Samples
from cornercue.voice.cache import digest_of
from cornercue.voice.clip import Clip
from cornercue.voice.reading_sheet import spoken_key
from cornercue.whole_files import folder_written_whole

INDEX = "pack.json"
VERSION = 1
"""Of the index. Higher where a reader of an older version would read a pack wrongly."""

MOST, LARGEST_INDEX, LARGEST_CLIP, LONGEST_CLIP = 5000, 2_000_000, 6_000_000, 60.0
"""Phrases, bytes of the index, bytes of a sound file and seconds of one, at most."""

JOIN = 0.12
"""Seconds between recorded parts of a call: a comma said briskly; common practice, no source."""

FlawedClip = tuple[Clip, tuple[str, ...]]
"""A clip, and what was wrong with the recording."""

_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,60}\.(flac|wav)")


@dataclass(frozen=True, slots=True)
class PackEntry:
    """One phrase of a pack: its file in the folder, its length, and what was wrong with the recording."""

    text: str
    file: str
    frames: int
    flaws: tuple[str, ...] = ()


class Pack:
    """The phrases of a pack, each read from its file when it is first wanted."""

    def __init__(self, folder: Path) -> None:
        """Reads the index. Raises InputFault."""
        self.folder = folder
        self._entries = {spoken_key(entry.text): entry for entry in read_index(folder)}
        self._samples: dict[str, Samples] = {}

    @property
    def entries(self) -> Mapping[str, PackEntry]:
        """Every phrase by its bare words."""
        return self._entries

    @property
    def identity(self) -> str:
        """What tells this pack from every other."""
        return "pack " + digest_of(*map(astuple, self._entries.values()))[:16]

    def has(self, text: str) -> bool:
        """Whether the pack can say `text`, whole or joined from parts."""
        return bool(self._parts(text))

    def samples(self, text: str) -> Samples | None:
        """`text` whole, or joined from recorded parts at its commas; None where it lacks some. Raises InputFault."""
        parts = [self._read(key) for key in self._parts(text)]
        if len(parts) < 2:
            return parts[0] if parts else None
        gap = np.zeros(round(JOIN * SAMPLE_RATE), np.int16)
        joined = [piece for part in parts for piece in (part, gap)]
        return np.concatenate(joined[:-1])

    def _parts(self, text: str) -> list[str]:
        """The keys of the recorded phrases that make up `text`; none where one is lacking."""
        if spoken_key(text) in self._entries:
            return [spoken_key(text)]
        pieces = [piece for piece in text.split(",") if any(letter.isalnum() for letter in piece)]
        keys = [spoken_key(piece) for piece in pieces]
        return keys if len(keys) > 1 and all(key in self._entries for key in keys) else []

    def _read(self, key: str) -> Samples:
        if key not in self._samples:
            self._samples[key] = read_clip(self.folder, self._entries[key])
        return self._samples[key]


def read_index(folder: Path) -> list[PackEntry]:
    """The entries of a pack's index. Raises InputFault."""
    path = folder / INDEX
    if path.exists() and not path.is_file():  # reading a pipe would never end
        raise InputFault(f"{folder} is not a pack: {INDEX} is not a file.")
    try:
        with path.open("rb") as file:
            content = file.read(LARGEST_INDEX + 1)
    except OSError as fault:
        raise InputFault(f"{folder} is not a pack: {INDEX} cannot be read ({fault.strerror}).") from None
    if len(content) > LARGEST_INDEX:
        raise InputFault(f"{path} is too large for the index of a pack.")
    try:
        data = json.loads(content)
        _check_version(data.get("version", 1), folder)
        listed = data["phrases"]
        if not isinstance(listed, list) or not listed or len(listed) > MOST:
            raise ValueError
        entries = [_entry(one, folder) for one in listed]
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        raise InputFault(f"{path} is damaged: import the recording again.") from None
    return entries


def _check_version(version: object, folder: Path) -> None:
    """What the index says of itself; the first packs said nothing, and are of version 1."""
    if type(version) is not int or version < 1:
        raise ValueError
    if version > VERSION:
        raise InputFault(
            f"{folder} was made by a newer Cornercue: it is a pack of version {version}, and this one reads packs "
            f"up to version {VERSION}. Bring Cornercue up to date, or import the recording again here."
        )


def _entry(data: dict[str, object], folder: Path) -> PackEntry:
    text, file, frames, flaws = data["text"], data["file"], data["frames"], data.get("flaws", [])
    if not (isinstance(text, str) and isinstance(file, str) and type(frames) is int and isinstance(flaws, list)):
        raise ValueError
    inside = _NAME.fullmatch(file) and os.path.dirname(os.path.realpath(folder / file)) == os.path.realpath(folder)
    if not inside:
        raise InputFault(
            f"{folder}: the pack names the file “{file[:60]}”, which is not one of its own; do not use it."
        )
    return PackEntry(text, file, frames, tuple(map(str, flaws)))


def read_clip(folder: Path, entry: PackEntry) -> Samples:
    """The samples of one phrase. Raises InputFault where its file is not what the index says."""
    import soundfile

    path, again = folder / entry.file, "import the recording again"
    try:
        if not path.is_file():
            raise InputFault(f"{path}, “{entry.text}”, is missing from the pack: {again}.")
        if path.stat().st_size > LARGEST_CLIP:
            raise InputFault(f"{path} is far too large for one phrase: {again}.")
        with soundfile.SoundFile(path) as file:
            if (file.samplerate, file.channels) != (SAMPLE_RATE, 1) or file.frames > LONGEST_CLIP * SAMPLE_RATE:
                raise InputFault(f"{path} is not a clip of a pack (one channel, {SAMPLE_RATE} Hz, a minute): {again}.")
            samples: Samples = file.read(round(LONGEST_CLIP * SAMPLE_RATE), dtype="int16")
    except (soundfile.SoundFileError, OSError):
        raise InputFault(f"{path} is not a sound file, or damaged: {again}.") from None
    if not len(samples) or len(samples) != entry.frames:
        raise InputFault(f"{path} holds {len(samples)} of {entry.frames} frames, so it was cut short: {again}.")
    return samples


def write_pack(folder: Path, clips: Iterable[FlawedClip], keep: Pack | None = None) -> None:
    """Writes clips, each with its flaws, and what else `keep` holds, as a pack: beside, then renamed.

    What `folder` held before is gone then: the caller asks first. Raises InputFault where it cannot be written,
    MachineLacks for a full disk.
    """
    with folder_written_whole(folder) as beside:
        _fill(beside, folder, _with_kept(folder, clips, keep.entries if keep else {}))


def _with_kept(folder: Path, clips: Iterable[FlawedClip], kept: Mapping[str, PackEntry]) -> Iterator[FlawedClip]:
    """New clips, then the old ones that none of them replaces; one after the other, so that no two are in memory."""
    new = set()
    for clip, flaws in clips:
        new.add(spoken_key(clip.text))
        yield clip, flaws
    for key, entry in kept.items():
        if key not in new:
            yield Clip(entry.text, read_clip(folder, entry)), entry.flaws


def _fill(beside: Path, folder: Path, clips: Iterable[FlawedClip]) -> None:
    import soundfile

    listed = {}
    for number, (clip, flaws) in enumerate(clips, 1):
        name = f"{number:04}.flac"
        try:
            soundfile.write(beside / name, clip.samples, SAMPLE_RATE, subtype="PCM_16")
        except soundfile.SoundFileError as fault:
            raise MachineLacks(f"{folder}: it could not be written whole; the disk may be full.") from fault
        entry = {"text": clip.text, "file": name, "frames": len(clip.samples), "flaws": list(flaws)}
        listed[spoken_key(clip.text)] = entry
    index = json.dumps({"version": VERSION, "phrases": [*listed.values()]}, ensure_ascii=False, indent=1)
    (beside / INDEX).write_text(index + "\n", encoding="utf-8")
    beside.chmod(0o755)
