"""What is heard while moving has to be short.

Nobody can look it up, and the next call comes. An adult speaks about 3.9 syllables a second and a nine-year-old 2.9
(Block and Killen 1996, abstract), so that twenty words take six seconds to say, and longer to take in. Guides to plain
English ask for sentences of 15 to 20 words for readers, who have it easier. A coaching cue is a handful of words, and
what is said between two repetitions one or two.

Three to five things, about four, can be kept in mind at once (Cowan 2001, from memory). Three is our choice, at the
careful end, for people who move meanwhile: the next ones wait for the next set. One `check` list, one cue or one `say`
holds no more.

The cues of a combination are said in its slow repetitions. Without `teach` they are only shown.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from cornercue.coaching.problem import Problem, Severity
from cornercue.coaching.traversal import own
from cornercue.script.combination import Combination
from cornercue.script.model import Drill
from cornercue.script.step import Said, SaidAs
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.timeline import Timeline

NAME = "plain words"
SUMMARY = (
    "sentences too long to follow while moving; more than three coaching points at once; cues of a combination that is "
    "not taught, which nobody hears"
)
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

MOST_WORDS: dict[SaidAs, int] = {"sentence": 20, "check point": 12, "coaching cue": 12, "text of `between`": 6}
"""Words that each may have, but for names. The first after the guides to plain English, the others common practice, no
source."""

MOST_POINTS = 3
"""Coaching points at once: our choice, at the careful end of Cowan's three to five."""


def review(drill: Drill, timeline: Timeline) -> Iterator[Problem]:
    for step in own(drill):
        for said in step.said():
            for text, remedy in _of_text(said):
                yield Problem(step.at, NAME, _severity(said.what), text, remedy)
        if isinstance(step, Combination) and not step.teach and any(one.cue for one in step.combination):
            text = "its coaching cues are shown and never said: they belong to slow repetitions"
            yield Problem(step.at, NAME, "hint", text, "add `teach: 1` to have them said")
        count = sum(said.what == "check point" for said in step.said())
        if count > MOST_POINTS:
            yield Problem(step.at, NAME, "warning", *_too_many(count, "in `check`"))


def _of_text(said: Said) -> Iterator[tuple[str, str]]:
    """What is wrong with one text, and the remedy; a name is what it is."""
    if said.what == "name":
        return
    parts = sentences(said.text)
    for sentence in parts:
        count = len(sentence.split())
        if count > MOST_WORDS[said.what]:
            yield _too_long(said.what, sentence, count)
    points = parts if said.what == "sentence" else [part for part in said.text.split(",") if part.strip()]
    if len(points) > MOST_POINTS:
        yield _too_many(len(points), f"in «{_shortened(said.text)}»")


def _severity(what: SaidAs) -> Severity:
    """A hint for what is said while the student stands and listens, a warning for what is said in the work."""
    return "hint" if what in ("sentence", "check point") else "warning"


def sentences(text: str) -> list[str]:
    """The sentences of a text: what ends in a full stop, a question mark or an exclamation mark."""
    return [one for one in re.split(r"(?<=[.!?])\s+", text) if one]


def _too_long(what: SaidAs, sentence: str, count: int) -> tuple[str, str]:
    seconds = estimated_seconds(sentence)
    return (
        f"a {what} of {count} words takes about {seconds:.0f} s to say: «{_shortened(sentence)}»",
        f"say it in {MOST_WORDS[what]} words or fewer, or make two of it",
    )


def _too_many(count: int, where: str) -> tuple[str, str]:
    return f"{count} points at once are many to keep in mind, {where}", "keep the three that matter most today"


def _shortened(text: str) -> str:
    return text if len(text) <= 40 else text[:39].rstrip() + "…"
