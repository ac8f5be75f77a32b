"""Chapters in an MP3 file, one a part, so that a podcast player can go to a part of the drill."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from cornercue.timing.parts import no_more_than
from cornercue.timing.timeline import Timeline
from cornercue.track import id3

MOST = id3.MOST_CHILDREN
"""Chapters of a file. Beyond that, rounds or whole steps are the chapters, and what is still too much stays in the last
one."""

ELEMENT = "part{}"
"""What a chapter is called in the table of contents, by its number."""


def add_chapters(path: Path, timeline: Timeline) -> None:
    """Put the drill's title and its chapters before the sound of a finished MP3 file.

    They follow each other without a gap from 0 to the end, and stand in the tag by time, for players that show them as
    they come. The same timeline gives the same bytes. Raises InputFault for titles beyond a tag's size, and OSError.
    """
    id3.put_before(path, id3.tag([*_frames(timeline)]))


def _frames(timeline: Timeline) -> Iterator[bytes]:
    """The tag's frames in order: the drill's title, the table of contents, the chapters."""
    yield id3.title(timeline.drill)
    found = spans(timeline)
    names = [ELEMENT.format(number) for number in range(1, len(found) + 1)]
    if names:
        yield id3.contents(names)
    for name, (start, end, told) in zip(names, found, strict=True):
        yield id3.chapter(name, start, end, told)


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
