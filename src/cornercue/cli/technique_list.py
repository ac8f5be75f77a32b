"""The vocabulary in groups, for a terminal of 80 columns: a line a technique, lead and rear on one line."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Sequence
from types import MappingProxyType

from cornercue.technique.table import PACES, Technique, TechniqueKind

TITLES = MappingProxyType[TechniqueKind, str](
    {
        "strike": "Strikes, by lead or rear: `lead hook`",
        "kick": "Kicks, by lead or rear: `rear side kick`",
        "defence": "Defences, by side: `parry left`",
        "footwork": "Footwork, by side: `step right`",
        "stance": "Stances, by the foot in front: `walking stance left`",
        "ground": "On the ground, by side: `side breakfall left`",
    }
)
"""What each group is called, with how a side is said."""

WIDTH = 80


def listing(found: Sequence[Technique]) -> Iterator[str]:
    """The lines of a list of techniques, a group a kind."""
    for kind, title in TITLES.items():
        group = [one for one in found if one.kind == kind]
        if group:
            yield f"{title:<54}{'learning':>10}{'steady':>8}{'sharp':>8}"
            for pair in _pairs(group):
                yield from _entry(pair)
            yield ""
    yield "Times are in seconds, for adults; common practice, no source."


def _pairs(group: Iterable[Technique]) -> list[list[Technique]]:
    """The lead and the rear technique of one name together, each other one alone."""
    pairs: dict[str, list[Technique]] = {}
    for one in group:
        pairs.setdefault(one.base if one.name == f"{one.limb} {one.base}" else one.name, []).append(one)
    return list(pairs.values())


def _entry(pair: list[Technique]) -> Iterator[str]:
    one = pair[0]
    name = f"{one.base}, lead or rear" if len(pair) > 1 else f"{one.name}, left or right" if one.sided else one.name
    numbers = ", ".join(each.number for each in pair if each.number)
    learning, steady, sharp = (f"{getattr(one.seconds, pace):.2f}" for pace in PACES)
    yield f"  {name:<44}{numbers:<8}{learning:>10}{steady:>8}{sharp:>8}"
    if also := ", ".join(_also(pair)):
        yield from textwrap.wrap(f"also {also}", WIDTH, initial_indent=" " * 6, subsequent_indent=" " * 6)


def _also(pair: list[Technique]) -> Iterator[str]:
    """Other names: those of both without lead and rear, then those of one."""
    bare = [[other.removeprefix(f"{one.limb} ") for other in one.synonyms] for one in pair]
    both = [other for other in bare[0] if len(pair) > 1 and other in bare[1]]
    yield from both
    for one, others in zip(pair, bare, strict=True):
        for other, name in zip(others, one.synonyms, strict=True):
            if other not in both:
                yield f"{name} ({one.limb})" if len(pair) > 1 else name
