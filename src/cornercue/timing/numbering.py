"""Which of the finest parts each segment of a run lies in.

A rest, with all that is said in it about what comes next, lies in the part that it follows. So a part begins with what
is done in it, or with its own first words, and words that are said in a rest make no part of their own.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from cornercue.timing.parts import Heading
from cornercue.timing.segments import Pause, Segment, Talk, talks_before_work


def numbered(run: Sequence[Segment]) -> tuple[list[Segment], list[Heading]]:
    """The segments with the numbers (from 0) of their parts, and the headings of these."""
    found: list[Segment] = []
    headings: list[Heading] = []
    said_in_rest = 0
    for index, segment in enumerate(run):
        waiting = bool(found) and found[-1].setting.part == len(headings)
        if isinstance(segment, Pause):
            said_in_rest = index + 1 + len(talks_before_work(run, index + 1))
            opens = waiting or not headings
        else:
            opens = index >= said_in_rest and not (isinstance(segment, Talk) and segment.belongs)
        heading = segment.setting.heading
        if opens and heading and (not headings or headings[-1] is not heading):
            headings.append(heading)
        announced = index >= said_in_rest and isinstance(segment, Talk) and segment.belongs == "next"
        part = len(headings) - (0 if announced else 1)
        found.append(replace(segment, setting=replace(segment.setting, part=part)))
    return found, headings
