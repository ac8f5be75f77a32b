"""Which of the finest parts each segment of a run lies in.

A rest, with all that is said in it about what comes next, lies in the part that it follows. So a part begins with what
is done in it, or with its own first words, and words that are said in a rest make no part of their own.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from cornercue.timing.parts import Heading
from cornercue.timing.segments import Pause, Segment, Talk, talks_before_work
from cornercue.timing.setting import Setting


def numbered(run: Sequence[Segment]) -> tuple[list[Segment], list[Heading]]:
    """The segments with the numbers (from 0) of their parts, and the headings of these."""
    headings: list[Heading] = []
    parts = list(_parts(run, headings))
    settings: dict[tuple[int, int], Setting] = {}
    found: list[Segment] = []
    for segment, part in zip(run, parts, strict=True):
        key = (id(segment.setting), part)
        if key not in settings:
            settings[key] = segment.setting if segment.setting.part == part else replace(segment.setting, part=part)
        same = settings[key] is segment.setting
        found.append(segment if same else replace(segment, setting=settings[key]))
    return found, headings


def _parts(run: Sequence[Segment], headings: list[Heading]) -> Iterator[int]:
    """The number of each segment's part; `headings` is filled on the way."""
    rest_until, announced = 0, False
    for index, segment in enumerate(run):
        if isinstance(segment, Pause):
            rest_until = index + 1 + len(talks_before_work(run, index + 1))
            opens = announced or not headings
            announced = False
        elif index < rest_until:
            opens = False
        else:
            belongs = segment.belongs if isinstance(segment, Talk) else None
            announced = belongs == "next"
            opens = belongs is None
        heading = segment.setting.heading
        if opens and heading and (not headings or headings[-1] is not heading):
            headings.append(heading)
        yield len(headings) - (0 if announced else 1)
