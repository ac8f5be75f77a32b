"""A partner drill for a parent who writes no script: a ladder from one defence to all of them with answers."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from cornercue.script.moves import looks_numbered
from cornercue.technique.table import PaceName

REST = 30.0
"""Least seconds of rest between rounds; longer rounds get half their own length, as in the rounds of boxing."""
TALK = 75.0
"""Seconds to allow for the cautions and instructions, of the time asked for."""
LEAST_ROUND, MOST_ROUND = 20.0, 120.0
WARM_UP = 60.0
"""Seconds of easy exercise before a ladder at a sharp pace."""

_HEAD = """\
# Made by `cornercue partner`. Change anything, then `cornercue check` and `cornercue play` it.
drill: "Partner ladder: {title}"
about: One defence at a time, then mixed{then}.
level: {level}
stance: {stance}
pace: {pace}
junior: {junior}
gear: [soft stick, gloves, clear floor]
steps:
{steps}"""


@dataclass(frozen=True, slots=True)
class Ladder:
    """What the parent may choose; everything has a default."""

    defences: tuple[str, ...] = ("parry", "cover", "weave")
    minutes: float = 10.0
    level: int = 1
    stance: Literal["orthodox", "southpaw", "both"] = "orthodox"
    pace: PaceName | float | None = None
    answers: tuple[str, ...] = ("jab, cross", "jab, cross, lead hook")
    listener: Literal["student", "feeder"] = "student"
    junior: bool = True


def ladder_script(ladder: Ladder) -> str:
    """The drill as the text of a script: each defence alone, left and right in turn; then mixed; then with answers.

    The rounds share the time that is left after the talk and the rests, at least 20 s and at most 2 min each;
    where there is more time, the mixed rounds come again.
    """
    rounds = list(_rounds(ladder))
    stances = 2 if ladder.stance == "both" else 1
    pace = ladder.pace or pace_for(ladder.level)
    free = ladder.minutes * 60 - TALK - (WARM_UP if pace == "sharp" else 0)
    while _share(free, len(rounds), stances) > MOST_ROUND:
        rounds.append(rounds[-1])
    seconds = round(min(MOST_ROUND, max(LEAST_ROUND, _share(free, len(rounds), stances))))
    rest = f"- rest: {max(round(REST), round(seconds / 2))} s\n"
    return _HEAD.format(
        title=", ".join(ladder.defences),
        then=", then with an answer" if ladder.answers else "",
        level=ladder.level,
        stance=ladder.stance,
        pace=pace,
        junior="yes" if ladder.junior else "no",
        steps=(f"- exercise: easy shadow boxing\n  for: {WARM_UP:g} s\n" if pace == "sharp" else "")
        + rest.join(_step(one, seconds, ladder) for one in rounds),
    )


def _share(free: float, count: int, stances: int) -> float:
    """Seconds of one round, where so many of them and the rests between fill the time that is free."""
    share = (free - REST * (count - 1)) / (count * stances)
    return share if share <= 2 * REST else free / (count * stances + (count - 1) / 2)


@dataclass(frozen=True, slots=True)
class _Round:
    defences: tuple[str, ...]
    order: Literal["alternate", "random"] = "random"
    answers: tuple[str, ...] = ()


def _rounds(ladder: Ladder) -> Iterator[_Round]:
    for defence in ladder.defences:
        yield _Round((defence,), "alternate")
    yield _Round(ladder.defences)
    if ladder.answers:
        yield _Round(ladder.defences, answers=ladder.answers)


def _step(one: _Round, seconds: int, ladder: Ladder) -> str:
    answers = ", ".join(f"[{', '.join(techniques_of(answer))}]" for answer in one.answers)
    away = "- say: Feeder, one step back after each attack. The answer goes into the air.\n"
    return (
        f"{away if answers else ''}- partner: [{', '.join(one.defences)}]\n"
        f"  for: {seconds} s\n"
        f"  order: {one.order}\n"
        f"  listener: {ladder.listener}\n" + (f"  answers: [{answers}]\n" if answers else "")
    )


def techniques_of(answer: str) -> list[str]:
    """`jab, cross` or `1-2` as the names or numbers in it."""
    return [name.strip() for name in answer.split("-" if looks_numbered(answer) else ",")]


def pace_for(level: int) -> PaceName:
    """The pace that suits a level: slow while it is new. Common practice, no source."""
    return "learning" if level <= 3 else "steady" if level <= 7 else "sharp"
