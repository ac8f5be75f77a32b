"""The parts of a drill as a tree, and the finest of them in order, with the words by which people know them."""

from __future__ import annotations

from collections.abc import Generator, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from cornercue.timing.timeline import Part, PartKind

LONGEST = 60
"""Characters of a title: what a phone shows in a line or two. Own choice."""


@dataclass(frozen=True, slots=True, eq=False)
class Heading:
    """A part that has no time yet, and the one that it lies in. Two are the same only if they are one object."""

    part: Part
    above: Heading | None = None

    def path(self) -> tuple[Heading, ...]:
        """From the outermost to this one."""
        return (*(self.above.path() if self.above else ()), self)


@dataclass(frozen=True, slots=True)
class Finest:
    """A part with those in which it lies, the outermost first. It is a finest one if it falls into no others."""

    part: Part
    above: tuple[Part, ...]

    @property
    def of(self) -> str:
        """Which of several it is: "Round 2 of 3"; empty where it is the only one."""
        return " · ".join(words for part in (*self.above, self.part) if (words := turn_of(part)))

    @property
    def work(self) -> PartKind:
        """What kind of step it belongs to, also where it is a set or a stance of one."""
        return next(part.kind for part in (self.part, *reversed(self.above)) if part.kind not in ("set", "stance"))

    @property
    def told(self) -> str:
        """Its name with that: "Round 2 of 3 · Skipping". Several rounds are told with what is done in them."""
        own = "" if turn_of(self.part) == self.part.title else self.part.title
        inside = _done_in(self.part) if self.part.kind == "repeat" else ""
        return " · ".join(filter(None, (self.of, own, inside)))


def finest(parts: Sequence[Part]) -> tuple[Finest, ...]:
    """The finest parts in order; a cue's `part` is an index of these."""
    return tuple(_leaves(parts, ()))


def _done_in(part: Part) -> str:
    """The titles of what is done in a part, each once."""
    titles = (leaf.part.title for leaf in finest(part.parts) if leaf.part.kind not in ("say", "rest"))
    return shortened(", ".join(dict.fromkeys(titles)))


def _leaves(parts: Sequence[Part], above: tuple[Part, ...]) -> Iterator[Finest]:
    for part in parts:
        if part.parts:
            yield from _leaves(part.parts, (*above, part))
        else:
            yield Finest(part, above)


def no_more_than(most: int, parts: Sequence[Part]) -> tuple[tuple[int, Finest], ...]:
    """Parts that cover all the time, as fine as no more than `most` allow: the deepest are left out first.

    Each has the index of its first finest part. Of top-level parts none is left out.
    """
    depths = range(_depth(parts), 0, -1)
    cuts = (tuple(_cut(parts, depth, (), 0)) for depth in depths)
    return next((cut for cut in cuts if len(cut) <= most), tuple(_cut(parts, 0, (), 0)))


def _depth(parts: Sequence[Part]) -> int:
    """How many levels lie below the top one."""
    return max((1 + _depth(part.parts) for part in parts if part.parts), default=0)


def _cut(
    parts: Sequence[Part], depth: int, above: tuple[Part, ...], first: int
) -> Generator[tuple[int, Finest], None, int]:
    """The parts down to a depth; `first` is the index of the first finest part. Returns the index after the last."""
    for part in parts:
        if not part.parts or not depth:
            yield first, Finest(part, above)
            first += len(finest((part,)))
        else:
            first = yield from _cut(part.parts, depth - 1, (*above, part), first)
    return first


def turn(kind: PartKind, number: int, count: int) -> str:
    """ "Round 2 of 3"."""
    return f"{kind.capitalize()} {number} of {count}"


def turn_of(part: Part) -> str:
    """Which of several a part itself is; a stance is told by its name. Empty where it is the only one."""
    if part.stance:
        return part.stance.capitalize()
    return turn(part.kind, part.number, part.count) if part.number and part.count else ""


def shortened(title: str) -> str:
    """A title with a large first letter, cut where it is too long."""
    title = title[:1].upper() + title[1:]
    return title if len(title) <= LONGEST else title[: LONGEST - 1].rstrip() + "…"


def tree(headings: Sequence[Heading], starts: Mapping[int, float], end: float) -> tuple[Part, ...]:
    """The parts, from the headings of the finest and when these start (s): the first `len(starts)` of them.

    The first one starts at 0, each ends where the next one starts, and the last one at `end`.
    """
    paths = [headings[number].path() for number in range(len(starts))]
    times = [0.0, *(starts[number] for number in range(1, len(starts))), end]
    return _grown(paths, times, 0)


def _grown(paths: Sequence[tuple[Heading, ...]], times: Sequence[float], depth: int) -> tuple[Part, ...]:
    """The parts at one depth; `times` has one more than `paths`."""
    parts: list[Part] = []
    first = 0
    while first < len(paths):
        heading = paths[first][depth]
        last = first + 1
        while last < len(paths) and paths[last][depth] is heading:
            last += 1
        inner = _grown(paths[first:last], times[first : last + 1], depth + 1) if heading is not paths[first][-1] else ()
        parts.append(replace(heading.part, start=times[first], end=times[last], parts=inner))
        first = last
    return tuple(parts)
