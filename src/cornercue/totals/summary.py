"""What a drill comes to: its time, its repetitions, what each side does, and the effort."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from cornercue.ages import Ages
from cornercue.durations import clock
from cornercue.timing.timeline import Action, Cue, Timeline
from cornercue.totals.activities import NO_ROW
from cornercue.totals.effort import Share, effort, met_minutes
from cornercue.totals.stretches import WORKERS, stretches

LIMBS = ("left hand", "right hand", "left leg", "right leg")
KINDS = ("strikes", "kicks", "defences", "steps", "stances", "on the ground", "positions", "counts", "sentences")
_KIND_WORDS = {
    "strike": "strikes",
    "kick": "kicks",
    "defence": "defences",
    "footwork": "steps",
    "stance": "stances",
    "ground": "on the ground",
    "position": "positions",
}


@dataclass(frozen=True)
class Summary:
    """The sums of a timeline. Times in seconds.

    `limbs` counts strikes and kicks by the limb that does them, a knee as a leg; `defences` by the side of the room;
    `called` counts techniques by kind, and what else is said by `counts` and `sentences`. `by_side` is the time of work
    by the side that does it; `effort` is for juniors of these ages, or for an adult where they are None.
    """

    duration: float
    work: float
    rest: float
    repetitions: int
    limbs: Mapping[str, int]
    defences: Mapping[str, int]
    called: Mapping[str, int]
    by_side: Mapping[str, float]
    effort: tuple[Share, ...]
    ages: Ages | None

    def as_data(self) -> dict[str, Any]:
        """Plain values for JSON."""
        return {
            "duration": round(self.duration, 3),
            "work": round(self.work, 3),
            "rest": round(self.rest, 3),
            "repetitions": self.repetitions,
            "limbs": dict(self.limbs),
            "defences": dict(self.defences),
            "called": dict(self.called),
            "by_side": {side: round(seconds, 3) for side, seconds in self.by_side.items()},
            "effort": _effort_data(self.effort, self.ages),
        }


def summarised(timeline: Timeline) -> Summary:
    """The summary of a timeline."""
    calls = [cue for cue in timeline.cues if cue.kind == "call"]
    moves = [move for cue in calls for move in cue.moves]
    kinds = Counter(_KIND_WORDS[move.kind] for move in moves)
    kinds["counts"] = sum(cue.kind == "count" for cue in timeline.cues)
    kinds["sentences"] = sum(cue.kind in ("say", "rest") for cue in timeline.cues)
    limbs = Counter(limb for move in moves if (limb := _limb(move)))
    sides = Counter(move.side for move in moves if move.side and move.kind == "defence")
    by_side = dict.fromkeys(WORKERS, 0.0)
    for stretch in stretches(timeline):
        by_side[stretch.side] += stretch.seconds
    return Summary(
        timeline.duration,
        timeline.total("work"),
        timeline.total("rest"),
        repetitions=_repetitions(timeline.cues),
        limbs={limb: limbs[limb] for limb in LIMBS},
        defences={"left": sides["left"], "right": sides["right"]},
        called={kind: kinds[kind] for kind in KINDS},
        by_side={str(side): seconds for side, seconds in by_side.items()},
        effort=effort(timeline),
        ages=timeline.ages,
    )


def _limb(move: Action) -> str | None:
    side = move.hand or move.side
    if side is None or move.kind not in ("strike", "kick"):
        return None
    return f"{side} {'leg' if move.with_the_leg else 'hand'}"


def _repetitions(cues: Iterable[Cue]) -> int:
    """Counted repetitions and calls; a combination taught technique by technique is one, and so is a feed answered."""
    heard = (
        None if cue.rep is None else (cue.kind, cue.stance, cue.angle, cue.set, cue.rep)
        for cue in cues
        if cue.tone in ("start", "end")
        or cue.kind == "count"
        or (cue.kind == "call" and (cue.listener is None or cue.due is not None))
    )
    return sum(repetition is not None for repetition, _ in groupby(heard))


def _effort_data(shares: tuple[Share, ...], ages: Ages | None) -> dict[str, Any]:
    rows = [
        {
            "code": share.code,
            "table": share.table,
            "met": share.met,
            "name": share.name,
            "seconds": round(share.seconds, 3),
        }
        for share in shares
    ]
    whom = str(ages) if ages else None
    return {"ages": whom, "met_minutes": round(met_minutes(shares), 1), "parts": rows}


def lines(summary: Summary) -> Iterator[str]:
    """The summary in sentences, beside those of the tally, which tell the times."""
    if any(summary.limbs.values()):
        yield f"Techniques: {_listed(summary.limbs)}."
    if summary.repetitions:
        yield f"Repetitions: {summary.repetitions}."
    parts = "; ".join(f"{part.name} {clock(part.seconds)} × {part.met}" for part in summary.effort)
    codes = ", ".join(dict.fromkeys(part.code for part in summary.effort if part.code != NO_ROW))
    yield f"Effort, for {_whom(summary.ages)}: about {_met_minutes(summary)} ({parts})."
    edition = "Youth Compendium" if summary.ages else "Compendium"
    yield f"  From the {edition} of Physical Activities, codes {codes}; an estimate, and no medical advice."


def _whom(ages: Ages | None) -> str:
    return f"juniors of {ages}" if ages else "an adult"


def _met_minutes(summary: Summary) -> str:
    unit = "youth MET-minutes" if summary.ages else "MET-minutes"
    return f"{met_minutes(summary.effort):.0f} {unit}"


def short(summary: Summary) -> str:
    """The summary in a line."""
    parts = [f"work {clock(summary.work)}, rest {clock(summary.rest)}"]
    if summary.repetitions:
        parts.append(f"{summary.repetitions} repetitions")
    if any(summary.limbs.values()):
        parts.append(_listed(summary.limbs))
    parts.append(f"about {_met_minutes(summary)} for {_whom(summary.ages)}")
    return "; ".join(parts)


def _listed(counts: Mapping[str, int]) -> str:
    """The limbs that do something, each with its other side: an unused one is worth seeing."""
    used = [name for name in counts if any(counts[other] for other in counts if other.split()[1] == name.split()[1])]
    return ", ".join(f"{name} {counts[name]}" for name in used)
