"""Calls that may come at any moment must not be taken for one another.

A room is noisy, a loudspeaker small, and the student is out of breath. In order, a call that was half heard can be
guessed; drawn at random it cannot. So two calls of the same random round should differ in at least three sounds: no two
words of the alphabet that NATO and aviation chose by listening trials are closer than that. "Four" and "five" differ in
two, and so do "step" and "slip", "duck" and "hook", "high" and "low".

Sounds are the phones of the CMU Pronouncing Dictionary. A word that is not in the vocabulary is compared as espeak-ng
says it, or where there is none by its letters, and that is told. Calls with the same number of words are compared word
by word; a whole word more or less is heard. Left and right are three sounds apart, so both sides of one defence pass.
A club's own word is compared as it is said aloud, where the script says so in Latin letters. Two words of one table of
a club's own that sound alike are a hint, even where no round draws them against each other: some day one will.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, groupby
from typing import TYPE_CHECKING

from cornercue.coaching.phones import by_spelling, distance, phones, spoken_where_needed
from cornercue.coaching.problem import Problem
from cornercue.coaching.traversal import own, written_stance
from cornercue.languages import Aloud
from cornercue.script.model import Drill
from cornercue.script.pads import Pads
from cornercue.script.partner import Partner
from cornercue.script.react import React
from cornercue.script.step import StepNode
from cornercue.script.words import Words
from cornercue.timing.feeding import prompt
from cornercue.timing.holding import prompt as to_show
from cornercue.timing.phrasebook import phrasebook
from cornercue.timing.safety import audience
from cornercue.timing.setting import called
from cornercue.timing.timeline import Timeline

if TYPE_CHECKING:
    from cornercue.voice.pronunciation import Pronunciation

NAME = "alike"
SUMMARY = "two calls of one random round, or two words of a club's table, that differ in fewer than three sounds"
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
    said = _pronunciation(drill.said_aloud)
    told = set[Near]()
    for step in own(drill):
        for near in dict.fromkeys(near for calls in _calls(step, drill) for near in alike(calls, said)):
            told.add(near)
            yield Problem(
                _place_of(near, step, drill), NAME, "warning",
                f"{near.told()}, and either may come",
                "put them into different rounds, or call one of them by another name",
            )  # fmt: skip
    for at, near in alike_in_table(drill.words):
        if near not in told:
            yield Problem(at, NAME, "hint", f"{near.told()}", "call one of them by another name")


def alike_in_table(words: Words) -> Iterator[tuple[tuple[int, int], Near]]:
    """Words of a table that sound alike, at the later of the two. What the trade calls alike itself is left alone."""
    for near in alike(tuple(words.places), _pronunciation(words.said)):
        if near.apart and not all(phones(word) for word in (*_words(near.first), *_words(near.second))):
            places = [at for name, at in words.places.items() if {near.first, near.second} & {name, *name.split()}]
            yield max(places), near


def _place_of(near: Near, step: StepNode, drill: Drill) -> tuple[int, int]:
    """Where the later of two calls stands in a step."""
    stance, numbers = written_stance(drill), drill.calls == "numbers"
    called = {
        move: _words(move.words(stance, numbers))
        for one in step.practice(drill.level, stance, stance)
        for move in one.moves
    }
    places = [move.at for move, words in called.items() if move.at and {near.first, near.second} & {*words}]
    return max(places, default=step.at)


def _pronunciation(said: Mapping[str, Aloud]) -> Pronunciation | None:
    if not said:
        return None
    from cornercue.voice.pronunciation import Pronunciation  # nothing of a voice where no word needs it

    return Pronunciation(said)


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


@dataclass(frozen=True, slots=True)
class SpokenWord:
    """One word that is heard, and what is written for it; a word of a club's own may be heard as several."""

    word: str
    written: str


def alike(calls: Sequence[str], said: Pronunciation | None = None) -> Iterator[Near]:
    """Where two calls differ in less than `APART` sounds; each pair of words once."""
    split = [list(_heard(call, said)) for call in dict.fromkeys(calls)]
    spoken = spoken_where_needed(one.word for words in split for one in words)
    for one, other in combinations(split, 2):
        if len(one) == len(other):
            differing = [(a, b) for a, b in zip(one, other, strict=True) if a.word != b.word]
            apart = sum(distance(a.word, b.word, spoken) for a, b in differing)
            if differing and apart < APART:
                first, second = sorted((_written(a for a, _ in differing), _written(b for _, b in differing)))
                pairs = [pair for pair in differing if by_spelling(pair[0].word, pair[1].word, spoken)]
                spelt = [one.written for pair in pairs for one in pair if not phones(one.word)]
                yield Near(first, second, apart, min(spelt, default=None))


def _heard(call: str, said: Pronunciation | None) -> Iterator[SpokenWord]:
    """The words of a call as they are heard; those in other letters, which have no phones here, as written."""
    for written, aloud in said.stretches(call) if said else [(call, Aloud(call))]:
        own = written != aloud.text and aloud.text.isascii()
        for word in _words(aloud.text if own else written):
            yield SpokenWord(word, " ".join(_words(written)) if own else word)


def _words(text: str) -> list[str]:
    return text.lower().replace(",", " ").replace(".", " ").split()


def _written(heard: Iterable[SpokenWord]) -> str:
    """What is written for some words, once where several of them are heard of it."""
    return " ".join(written for written, _ in groupby(heard, key=lambda one: one.written))
