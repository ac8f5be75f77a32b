"""Chapters in an MP3 file, one a block, so that a podcast player can go to a part of the drill.

ID3v2 Chapter Frame Addendum 1.0 (C. Newell, 2005): CHAP and CTOC frames, times in milliseconds.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from cornercue.timing.blocks import block_starts, block_titles
from cornercue.timing.timeline import Timeline

MOST = 255
"""Chapters of a table of contents: its count is one byte. Further blocks stay in the last chapter."""

IGNORED = 0xFFFFFFFF
"""A byte offset that tells the reader to go by the time."""


def add_chapters(path: Path, timeline: Timeline) -> None:
    """Put the drill's title and its chapters before the sound of a finished MP3 file.

    They follow each other without a gap from 0 to the end. The same timeline gives the same bytes. The tag is
    ID3v2.3, which older players know as well. Raises `mutagen.MutagenError` or `OSError` where the file
    cannot take it.
    """
    from mutagen import id3

    frames: Any = id3  # mutagen's types stop short of its frames.
    chapters = [_chapter(frames, number, *chapter) for number, chapter in enumerate(spans(timeline), start=1)]
    tag = frames.ID3()
    tag.add(frames.TIT2(encoding=frames.Encoding.UTF8, text=[timeline.drill]))
    for chapter in chapters:
        tag.add(chapter)
    if chapters:
        contents = [chapter.element_id for chapter in chapters]
        flags = frames.CTOCFlags.TOP_LEVEL | frames.CTOCFlags.ORDERED
        tag.add(frames.CTOC(element_id="toc", flags=flags, child_element_ids=contents, sub_frames=[]))
    tag.save(path, v1=0, v2_version=3, padding=lambda info: 0)


def spans(timeline: Timeline) -> list[tuple[int, int, str]]:
    """Each chapter's start and end in milliseconds from the start of the file, and its title; at most `MOST`.

    A block too short for a millisecond of its own has no chapter.
    """
    starts = [round(start * 1000) for start in block_starts(timeline)]
    ends = [*starts[1:], round(timeline.duration * 1000)]
    found = [
        (start, end, title)
        for start, end, title in zip(starts, ends, block_titles(timeline), strict=True)
        if end > start
    ]
    if len(found) > MOST:
        start, _, title = found[MOST - 1]
        found[MOST - 1 :] = [(start, found[-1][1], title)]
    return found


def _chapter(frames: Any, number: int, start: int, end: int, title: str) -> Any:
    return frames.CHAP(
        element_id=f"block{number}",
        start_time=start,
        end_time=end,
        start_offset=IGNORED,
        end_offset=IGNORED,
        sub_frames=[frames.TIT2(encoding=frames.Encoding.UTF8, text=[title])],
    )
