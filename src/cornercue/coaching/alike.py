"""Calls that may come at any moment must not be taken for one another.

A room is noisy, a loudspeaker small, and the student is out of breath. In order, a call that was half heard can be
guessed; drawn at random it cannot. So two calls of the same random round should differ in at least three sounds: no two
words of the alphabet that NATO and aviation chose by listening trials are closer than that. "Four" and "five" differ in
two, and so do "step" and "slip", "duck" and "hook", "high" and "low".

Sounds are the phones of the CMU Pronouncing Dictionary. A word that is not in the vocabulary is compared as espeak-ng
says it, or where there is none by its letters, and that is told. Calls with the same number of words are compared word
by word; a whole word more or less is heard. Left and right are three sounds apart, so both sides of one defence pass.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

from cornercue.coaching.phones import by_spelling, distance, phones, spoken_where_needed
from cornercue.coaching.problem import Problem
from cornercue.coaching.traversal import own, written_stance
from cornercue.script.model import Drill
from cornercue.script.pads import Pads
from cornercue.script.partner import Partner
from cornercue.script.react import React
from cornercue.script.step import StepNode
from cornercue.timing.feeding import prompt
from cornercue.timing.holding import prompt as to_show
from cornercue.timing.phrasebook import phrasebook
from cornercue.timing.safety import audience
from cornercue.timing.setting import called
from cornercue.timing.timeline import Timeline

NAME = "alike"
SUMMARY = "two calls of one random round that differ in fewer than three sounds"
SOURCE = (
    "phones: CMU Pronouncing Dictionary; three apart: the NATO spelling alphabet, chosen by trials in noise (secondary "
    "copy; distances computed)"
)
FAILING = """\
drill: Four or five
level: 4
calls: numbers
steps:
- shadow: [[1, 4], [1, 5]]  # here
  for: 1 min
"""
PASSING = """\
drill: Two or three
level: 4
calls: numbers
steps:
- shadow: [[1, 2], [1, 3]]
  for: 1 min
"""

APART = 3
"""Sounds in which two calls differ at least: the least distance within the NATO alphabet (computed)."""


@dataclass(frozen=True, slots=True)
class Near:
    """Where two calls differ: the words of each, in how many sounds or, where `spelt` is a word that nobody has sounds
    for, in how many letters."""

    first: str
    second: str
    apart: int
    spelt: str | None = None

    def told(self) -> str:
        unit = ("sound" if self.spelt is None else "letter") + "s" * (self.apart != 1)
        why = f" (“{self.spelt}” is compared by its spelling: nothing here knows its sounds)" if self.spelt else ""
        return f"“{self.first}” and “{self.second}” differ in {self.apart} {unit} only{why}"


def review(drill: Drill, timeline: Timeline) -> Iterator[Problem]:
    for step in own(drill):
        for near in dict.fromkeys(near for calls in _calls(step, drill) for near in alike(calls)):
            yield Problem(
                step.at, NAME, "warning",
                f"{near.told()}, and either may come",
                "put them into different rounds, or call one of them by another name",
            )  # fmt: skip


def _calls(step: StepNode, drill: Drill) -> Iterator[list[str]]:
    """What is drawn against each other in a step: calls, or defences and then answers."""
    if isinstance(step, Partner) and step.order == "random":
        names = [weighted.technique.name for weighted in step.partner]
        book, whom = phrasebook(), audience(drill)
        yield names if step.listener == "student" else [prompt(book, whom, name, None) for name in names]
    stance, numbers = written_stance(drill), drill.calls == "numbers"
    if isinstance(step, React):
        yield [call.words(stance, numbers) for call in step.react]
        return
    if isinstance(step, Pads) and step.listener == "holder":
        yield [to_show(phrasebook(), moves, stance) for moves in step.drawn()]
        return
    yield [called(moves, stance, numbers) for moves in step.drawn()]


def alike(calls: Sequence[str]) -> Iterator[Near]:
    """Where two calls differ in less than `APART` sounds; each pair of words once."""
    split = [call.lower().replace(",", " ").replace(".", " ").split() for call in dict.fromkeys(calls)]
    spoken = spoken_where_needed(word for words in split for word in words)
    for one, other in combinations(split, 2):
        if len(one) == len(other):
            differing = [(a, b) for a, b in zip(one, other, strict=True) if a != b]
            apart = sum(distance(a, b, spoken) for a, b in differing)
            if differing and apart < APART:
                first, second = sorted((" ".join(a for a, _ in differing), " ".join(b for _, b in differing)))
                spelt = [word for pair in differing if by_spelling(*pair, spoken) for word in pair if not phones(word)]
                yield Near(first, second, apart, min(spelt, default=None))
