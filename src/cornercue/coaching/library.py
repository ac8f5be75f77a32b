"""A library is climbed like a stair: no step twice as high as the one before, and none that is missing.

*Doses.* From one level's drills to those of the next level that asks for the same, the longest round, hold or set of an
exercise grows to twice as much at most. Steps within a level are small; a year lies between two of them. Where a level
lies between that has nothing of the kind, it may double again.

*Taught before used.* What the library teaches, in slow repetitions or by walking through (`teach`), is taught at the
level where it is used for the first time, or below; the other side or another height is nothing new. What it teaches
nowhere is taught by a person, and left alone.

*One drill, one name.* Two drills that differ in their names only are one that is mended in one place and not in the
other.

*Words.* Two words of the club that sound alike are told where the club's file has them, as `alike` does in a script.

All but the names are hints: the library does not know what is done besides.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from os.path import dirname, relpath

from cornercue.coaching.alike import alike_in_table
from cornercue.coaching.doses_asked import Dose, doses_asked
from cornercue.coaching.problem import Problem
from cornercue.coaching.same import content_of
from cornercue.coaching.traversal import Occurrence, own
from cornercue.coaching.unsilenced import unsilenced
from cornercue.script.club import Club
from cornercue.script.combination import Combination
from cornercue.script.model import Drill
from cornercue.script.pads import Pads
from cornercue.script.partner import Partner
from cornercue.script.step import StepNode
from cornercue.technique.move import Move

NAME = "library"
SUMMARY = (
    "in a whole folder: doses that more than double from one level to the next, techniques used below the level that "
    "teaches them, drills that differ in name only, words of the club that sound alike"
)
SOURCE = "common practice, no source; sounds as for `alike`"
FAILING = """\
# first.yaml
drill: Hooks already
level: 1
steps:
- combination: [jab, lead hook]  # here
# second.yaml
drill: The hook
level: 2
steps:
- combination: [lead hook]
  teach: 2
"""
PASSING = """\
# first.yaml
drill: The hook
level: 1
steps:
- combination: [lead hook]
  teach: 2
# second.yaml
drill: Hooks
level: 2
steps:
- combination: [jab, lead hook]
"""

DOUBLE = 2.0
"""How many times as much the next level may ask for. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Shelved:
    """A script of a library: the name of its file, and its drill."""

    file: str
    drill: Drill


def review_library(scripts: Sequence[Shelved], clubs: Mapping[str, Club]) -> Iterator[tuple[str, Problem]]:
    """What is found in scripts as a whole, each with its file, and in the files of their clubs."""
    found: dict[str, list[Problem]] = defaultdict(list)
    for file, problem in (*_doses(scripts), *_untaught(scripts), *_names(scripts)):
        found[file].append(problem)
    for script in scripts:
        for problem in unsilenced(script.drill, found[script.file], (NAME,)):
            yield script.file, problem
    for file, club in clubs.items():
        for at, near in alike_in_table(club.words):
            yield file, Problem(at, NAME, "hint", near.told(), "call one of them by another name")


def _doses(scripts: Sequence[Shelved]) -> Iterator[tuple[str, Problem]]:
    """The most of a kind that each level asks for, against that of the next lower one that asks for it."""
    most: dict[tuple[str, str], dict[int, tuple[Dose, Shelved]]] = defaultdict(dict)
    for script in scripts:
        for dose in doses_asked(script.drill):
            at_level = most[dose.of, dose.unit]
            before = at_level.get(script.drill.level)
            if before is None or dose.amount > before[0].amount:
                at_level[script.drill.level] = dose, script
    for at_levels in most.values():
        for lower, higher in pairwise(sorted(at_levels)):
            (less, there), (more, here) = at_levels[lower], at_levels[higher]
            if more.amount > less.amount * DOUBLE ** (higher - lower):
                yield here.file, Problem(
                    more.at, NAME, "hint",
                    f"{more.told()} at {here.drill.level_words(higher)} after {less.told()} at "
                    f"{here.drill.level_words(lower)} in {_seen_from(here, there)} are more than twice as much a level",
                    "ask for less, or for more below",
                )  # fmt: skip


def _untaught(scripts: Sequence[Shelved]) -> Iterator[tuple[str, Problem]]:
    """The first use of each technique below the level at which the library teaches it."""
    taught: dict[str, int] = {}
    for script in scripts:
        for step in own(script.drill):
            for move in _moves(step, script.drill) if _teaches(step) else ():
                base, level = _at_any_height(move), script.drill.level
                taught[base] = min(level, taught.get(base, level))
    told = set[str]()
    for script in sorted(scripts, key=lambda one: one.drill.level):
        for step in own(script.drill):
            for move in _moves(step, script.drill):
                base = _at_any_height(move)
                if script.drill.level < taught.get(base, 0) and base not in told:
                    told.add(base)
                    yield script.file, Problem(
                        move.at or step.at, NAME, "hint",
                        f"the {base} is used at {script.drill.level_words(script.drill.level)}, and the library "
                        f"teaches it at {script.drill.level_words(taught[base])} only",
                        "teach it here (`teach: 1`), or use it later",
                    )  # fmt: skip


def _seen_from(here: Shelved, there: Shelved) -> str:
    """The other's file, as one would write it here."""
    return relpath(there.file, dirname(here.file)).replace("\\", "/")


def _moves(step: StepNode, drill: Drill) -> Iterator[Move]:
    """What is done in a step; what is held is not done yet."""
    for one in Occurrence(step, drill, step).practice(drill.level):
        yield from () if one.held else one.moves


def _at_any_height(move: Move) -> str:
    """The name of a technique without its side and height: who has the hook has the body hook soon."""
    return re.sub(r"^(?:low|high|body) ", "", move.technique.base)


def _teaches(step: StepNode) -> bool:
    """Whether a step goes through what it asks for slowly first."""
    return isinstance(step, Combination | Pads | Partner) and bool(step.teach)


def _names(scripts: Sequence[Shelved]) -> Iterator[tuple[str, Problem]]:
    """Drills that are the same as one before but for what they are called."""
    first: dict[object, Shelved] = {}
    for script in scripts:
        other = first.setdefault(content_of(script.drill), script)
        if other is not script:
            theirs = f"«{other.drill.drill}» in {_seen_from(script, other)}"
            yield script.file, Problem(
                script.drill.at, NAME, "warning",
                f"«{script.drill.drill}» is the same drill as {theirs}, but for its name",
                "keep one of the two",
            )  # fmt: skip
