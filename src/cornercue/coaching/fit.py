"""Words need their time, and so does the student before the next call.

Where the words do not fit the interval or the rest that a script asks for, even spoken as fast as is still clear, the
drill gives them the time that they need: the interval grows, and the session is longer than it was planned. This rule
tells by how much, and what to ask for instead. It tells what happened to an included script, too: the time is this
session's.
"""

from __future__ import annotations

from collections.abc import Iterator

from cornercue.coaching.problem import Problem
from cornercue.coaching.traversal import place_of
from cornercue.script.model import Drill
from cornercue.timing.timeline import Timeline

NAME = "fit"
SUMMARY = "words that do not fit their interval or rest, with what would"
SOURCE = "the times of the drill itself; how fast speech may be is measured (docs/measured.md)"
FAILING = """\
drill: Too fast to say
steps:
- combination: [jab, cross, lead hook]  # here
  every: 1.5 s
"""
PASSING = """\
drill: Time to say it
steps:
- combination: [jab, cross, lead hook]
  every: 4.5 s
"""


def review(drill: Drill, timeline: Timeline) -> Iterator[Problem]:
    for advice in timeline.advice:
        yield Problem(place_of(drill, advice.line), NAME, "warning", advice.text, advice.remedy)
