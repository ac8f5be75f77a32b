"""Chapters in an MP3 file, one a part, so that a podcast player can go to a part of the drill.

ID3v2 Chapter Frame Addendum 1.0 (C. Newell, 2005): CHAP and CTOC frames, times in milliseconds.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType
from typing import TYPE_CHECKING

from cornercue.timing.parts import no_more_than
from cornercue.timing.timeline import Timeline

if TYPE_CHECKING:
    from mutagen.id3 import CHAP, ID3, TIT2, Frame

MOST = 255
"""Chapters of a table of contents: its count is one byte. Beyond that, rounds or whole steps are the chapters, and what
is still too much stays in the last one."""

IGNORED = 0xFFFFFFFF
"""A byte offset that tells the reader to go by the time."""

ELEMENT = "part{}"
"""What a chapter is called in the table of contents, by its number."""

HEADER = 10
"""Bytes before a tag's first frame."""

def add_chapters(path: Path, timeline: Timeline) -> None:
    """Put the drill's title and its chapters before the sound of a finished MP3 file.

    They follow each other without a gap from 0 to the end. The same timeline gives the same bytes. The tag is
    ID3v2.3, which older players know as well. Raises `mutagen.MutagenError` where the file cannot take it.
    """
    from mutagen import id3 as library

    id3: ModuleType = library  # mutagen's types stop short of what its frames hold.
    tag = id3.ID3()
    frames = list(_frames(id3, timeline))
    for frame in frames:
        tag.add(frame)
    _save(tag, path)
    # mutagen writes frames by their size; some players show chapters as they come, so they go in by time.
    with path.open("r+b") as file:
        file.seek(HEADER)
        file.writelines(_bytes(id3, frame) for frame in frames)


def _save(tag: ID3, target: Path | io.BytesIO) -> None:
    tag.save(target, v1=0, v2_version=3, padding=lambda info: 0)


def _frames(id3: ModuleType, timeline: Timeline) -> Iterator[Frame]:
    """The tag's frames in order: the drill's title, the table of contents, the chapters."""
    chapters = [_chapter(id3, number, *chapter) for number, chapter in enumerate(spans(timeline), start=1)]
    yield _title(id3, timeline.drill)
    if chapters:
        flags = id3.CTOCFlags.TOP_LEVEL | id3.CTOCFlags.ORDERED
        names = [ELEMENT.format(number) for number in range(1, len(chapters) + 1)]
        yield id3.CTOC(element_id="toc", flags=flags, child_element_ids=names, sub_frames=[])
    yield from chapters


def _chapter(id3: ModuleType, number: int, start: int, end: int, title: str) -> CHAP:
    chapter: CHAP = id3.CHAP(
        element_id=ELEMENT.format(number),
        start_time=start,
        end_time=end,
        start_offset=IGNORED,
        end_offset=IGNORED,
        sub_frames=[_title(id3, title)],
    )
    return chapter


def _title(id3: ModuleType, text: str) -> TIT2:
    title: TIT2 = id3.TIT2(encoding=id3.Encoding.UTF16, text=[text])
    return title


def _bytes(id3: ModuleType, frame: Frame) -> bytes:
    """One frame as it stands in a tag."""
    alone, target = id3.ID3(), io.BytesIO()
    alone.add(frame)
    _save(alone, target)
    return target.getvalue()[HEADER:]


def spans(timeline: Timeline) -> list[tuple[int, int, str]]:
    """Each chapter's start and end in milliseconds from the start of the file, and its title; at most `MOST`.

    A part too short for a millisecond of its own has no chapter.
    """
    parts = [one for _, one in no_more_than(MOST, timeline.parts)]
    times = [(round(one.part.start * 1000), round(one.part.end * 1000), one.told) for one in parts]
    found = [(start, end, title) for start, end, title in times if end > start]
    if len(found) > MOST:
        start, _, title = found[MOST - 1]
        found[MOST - 1 :] = [(start, found[-1][1], title)]
    return found
