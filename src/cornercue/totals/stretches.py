"""The work of a timeline cut into stretches: what it is, which side does it, and in which stance."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

from cornercue.timing.parts import finest
from cornercue.timing.timeline import Cue, Span, Timeline

Worker = Literal["left", "right", "both", "neither"]
WORKERS: tuple[Worker, ...] = ("left", "right", "both", "neither")

WorkKind = Literal["techniques", "hold", "exercise"]
_KINDS: dict[str, WorkKind] = {"hold": "hold", "exercise": "exercise"}
"""What is done in steps of these kinds; in all others techniques are."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of one span of work, in seconds. `stance` is None where none is asked for, as in an exercise."""

    start: float
    end: float
    kind: WorkKind
    side: Worker
    stance: Literal["orthodox", "southpaw"] | None
    label: str

    @property
    def seconds(self) -> float:
        return self.end - self.start


def stretches(timeline: Timeline) -> tuple[Stretch, ...]:
    """All work, in order and without a gap inside a span: together as long as `timeline.total("work")`.

    What kind of work it is, its part tells. A call rules until the next one; before the first call of a span, what was
    announced for it does (the side of a hold), or else that first call. Neighbours that are alike are one.
    """
    kinds = [leaf.work for leaf in finest(timeline.parts)]
    asking = [cue for cue in timeline.cues if cue.moves or cue.kind == "call"]
    starts = [cue.start for cue in asking]
    found: list[Stretch] = []
    since = 0
    for span in timeline.spans:
        if span.kind == "work":
            first, last = bisect_left(starts, span.start), bisect_left(starts, span.end)
            kind = _KINDS.get(kinds[span.part], "techniques")
            found += _joined(_cut(span, kind, asking[since:first], asking[first:last]))
            since = last
    return tuple(found)


def _cut(span: Span, kind: WorkKind, announced: Sequence[Cue], calls: Sequence[Cue]) -> Iterator[Stretch]:
    ruling = [*announced[-1:], *calls]
    if not ruling:
        yield Stretch(span.start, span.end, kind, side="neither", stance=None, label=span.label)
        return
    starts = [span.start, *(cue.start for cue in ruling[1:]), span.end]
    for cue, (start, end) in zip(ruling, pairwise(starts), strict=True):
        yield Stretch(start, end, kind, side=side_of(cue), stance=cue.stance, label=span.label)


def side_of(cue: Cue) -> Worker:
    """The side of the room that does what a cue asks for."""
    sides = {side for move in cue.moves if (side := move.hand or move.side)}
    return "both" if len(sides) == 2 else sides.pop() if sides else "neither"


def _joined(parts: Iterator[Stretch]) -> Iterator[Stretch]:
    held = next(parts)
    for part in parts:
        if (part.side, part.stance) == (held.side, held.stance):
            held = replace(held, end=part.end)
        else:
            yield held
            held = part
    yield held
