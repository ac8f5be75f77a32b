"""What is heard while moving has to be short.

Nobody can look it up, and the next call comes. An adult speaks about 3.9 syllables a second and a nine-year-old 2.9
(Block and Killen 1996, abstract), so that twenty words take six seconds to say, and longer to take in. Guides to plain
English ask for sentences of 15 to 20 words for readers, who have it easier. A coaching cue is a handful of words, and
what is said between two repetitions one or two.

Three to five things, about four, can be kept in mind at once (Cowan 2001, from memory). Three is our choice, at the
careful end, for people who move meanwhile: the next ones wait for the next set. One `check` list, one cue or one `say`
holds no more.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from cornercue.coaching.problem import Problem, Severity
from cornercue.coaching.traversal import own
from cornercue.script.model import Drill, Step
from cornercue.script.random_calls import Partner, Shadow
from cornercue.script.solo import Combination, Exercise, Hold, Say
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.timeline import Timeline

NAME = "plain words"
SUMMARY = "sentences too long to follow while moving; more than three coaching points at once"
SOURCE = (
    "speech rates: Block and Killen 1996 (abstract); 15 to 20 words: plain-English guides (from memory); three to five "
    "points, about four: Cowan 2001 (from memory), of which three is our choice; the rest is common practice, no source"
)
FAILING = """\
drill: A lecture
steps:
- exercise: push-ups  # here
  reps: 6
  check: [hands under your shoulders, body in one line, elbows bend fully, eyes on the floor, breathe out as you push]
"""
PASSING = """\
drill: Three points
steps:
- exercise: push-ups
  reps: 6
  check: [hands under your shoulders, body in one line, elbows bend fully]
"""

MOST_WORDS = {"sentence": 20, "check point": 12, "coaching cue": 12, "text of `between`": 6}
"""Words that each may have. The first after the guides to plain English, the others common practice, no source."""

MOST_POINTS = 3
"""Coaching points at once: our choice, at the careful end of Cowan's three to five."""


def review(drill: Drill, timeline: Timeline) -> Iterator[Problem]:
    for step in own(drill):
        for kind, text in _said(step):
            for sentence in sentences(text):
                count = len(sentence.split())
                if count > MOST_WORDS[kind]:
                    yield Problem(*step.at, NAME, _severity(kind), *_too_long(kind, sentence, count))
            points = sentences(text) if kind == "sentence" else [part for part in text.split(",") if part.strip()]
            if len(points) > MOST_POINTS:
                yield Problem(*step.at, NAME, _severity(kind), *_too_many(len(points), f"in «{_shortened(text)}»"))
        if isinstance(step, Exercise | Hold) and len(step.check) > MOST_POINTS:
            yield Problem(*step.at, NAME, "warning", *_too_many(len(step.check), "in `check`"))


def _severity(kind: str) -> Severity:
    """A hint for what is said while the student stands and listens, a warning for what is said in the work."""
    return "hint" if kind in ("sentence", "check point") else "warning"


def _said(step: Step) -> Iterator[tuple[str, str]]:
    """What the instructor has the voice say in a step, by the kind of text that it is."""
    match step:
        case Say():
            yield "sentence", step.say
        case Combination():
            yield from (("coaching cue", taught.cue) for taught in step.combination if taught.cue)
        case Exercise() | Hold():
            yield from (("check point", point) for point in step.check)
    if isinstance(step, Combination | Shadow | Partner) and step.between:
        yield "text of `between`", step.between


def sentences(text: str) -> list[str]:
    """The sentences of a text: what ends in a full stop, a question mark or an exclamation mark."""
    return [one for one in re.split(r"(?<=[.!?])\s+", text) if one]


def _too_long(kind: str, sentence: str, count: int) -> tuple[str, str]:
    seconds = estimated_seconds(sentence)
    return (
        f"a {kind} of {count} words takes about {seconds:.0f} s to say: «{_shortened(sentence)}»",
        f"say it in {MOST_WORDS[kind]} words or fewer, or make two of it",
    )


def _too_many(count: int, where: str) -> tuple[str, str]:
    return f"{count} points at once are many to keep in mind, {where}", "keep the three that matter most today"


def _shortened(text: str) -> str:
    return text if len(text) <= 40 else text[:39].rstrip() + "…"
