"""What a timeline asks of people, counted: calls by defence and side, answers, work and rest."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from cornercue.durations import clock
from cornercue.technique.sides import SIDES
from cornercue.timing.timeline import Action, Timeline


@dataclass(frozen=True)
class Tally:
    """Counts by what was called ("parry left"; "jab, cross"), and seconds of work and rest."""

    defences: Mapping[str, int]
    answers: Mapping[str, int]
    combinations: Mapping[str, int]
    work: float
    rest: float


def tally(timeline: Timeline) -> Tally:
    """Counts the calls of a timeline. A call to a partner's defence is no combination; what follows it is an answer."""
    defences: Counter[str] = Counter()
    answers: Counter[str] = Counter()
    combinations: Counter[str] = Counter()
    for cue in timeline.cues:
        if cue.kind != "call":
            continue
        if cue.listener in (None, "holder"):
            combinations[_named(cue.moves) or cue.text] += 1  # free words have no moves
            continue
        answer = cue.moves
        if cue.due is not None:  # a feed is on its way: the first move meets it
            defences[answer[0].words] += 1
            answer = answer[1:]
        if answer:
            answers[_named(answer)] += 1
    return Tally(defences, answers, combinations, timeline.total("work"), timeline.total("rest"))


def _named(moves: tuple[Action, ...]) -> str:
    return ", ".join(move.words for move in moves)


def sentences(counted: Tally) -> Iterator[str]:
    """The tally in words, a line a subject."""
    for title, counts in (
        ("Defences", counted.defences),
        ("Answers", counted.answers),
        ("Calls", counted.combinations),
    ):
        if counts:
            listed = "; ".join(f"{name} {count}" for name, count in sorted(counts.items()))
            yield f"{title}: {listed}{_sides(counts) if title == 'Defences' else ''}."
    yield f"Work {clock(counted.work)}, rest {clock(counted.rest)}."


def _sides(counts: Mapping[str, int]) -> str:
    left, right = (sum(n for name, n in counts.items() if side in name.split()) for side in SIDES)
    return f" (left {left}, right {right})"
