"""What a drill came to, in a few sentences for whoever has just done it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping

from cornercue.durations import lasting
from cornercue.timing.timeline import Timeline
from cornercue.totals.summary import summarised
from cornercue.totals.tally import tally


def done(timeline: Timeline) -> Iterator[str]:
    """Work, rest and repetitions, then calls by defence and techniques by kind, a sentence each."""
    summary = summarised(timeline)
    rest = f", {_unbroken(lasting(summary.rest))} of rest" if summary.rest else ""
    yield f"{_unbroken(lasting(summary.work))} of work{rest}."
    if summary.repetitions:
        yield f"{summary.repetitions} {'repetition' if summary.repetitions == 1 else 'repetitions'}."
    if defences := tally(timeline).defences:
        yield f"{_by_defence(defences)}."
    struck = [f"{count} {kind}" for kind in ("strikes", "kicks") if (count := summary.called[kind])]
    if struck:
        yield f"{' and '.join(struck)}."


def _unbroken(words: str) -> str:
    """Words that no line ends in: a number stays with what it counts."""
    return words.replace(" ", "\N{NO-BREAK SPACE}")


def _by_defence(defences: Mapping[str, int]) -> str:
    """Counts by defence, both sides together, the most frequent first: "Parry 12, cover 11"."""
    total: Counter[str] = Counter()
    for name, count in defences.items():
        total[name.removesuffix(" left").removesuffix(" right")] += count
    listed = ", ".join(_unbroken(f"{name} {count}") for name, count in total.most_common())
    return listed[:1].upper() + listed[1:]
