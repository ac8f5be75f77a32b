"""A partner programme as the text of a drill script, to play at once or to keep and change."""

from __future__ import annotations

from collections.abc import Iterator

from cornercue.ladder.rounds import FULL_CAUTIONS_FROM, Ladder, Programme, Round
from cornercue.script.moves import looks_numbered

REST, CHANGE_OVER = 20, 20
"""Least seconds of rest between rounds, and where the two change over; longer rounds get half their own length. Common
practice, no source."""

_HEAD = """\
# Made by `cornercue partner`. Change anything, then `cornercue check` and `cornercue play` it.
drill: "Partner work: {title}"
about: {about}
level: {level}
stance: {stance}
pace: {pace}
junior: {junior}
{ages}safety: {safety}
brief: {brief}
gear: [a soft foam stick, gloves or open hands, a clear dry floor, water]
steps:
"""

WARM_UP = (("marching, arms swinging", 1), ("easy arm circles", 1), ("easy shadow boxing", 1))
COOL_DOWN = (("walking and slow breathing", 2), ("slow shoulder stretch, one arm then the other", 1))
"""Exercises with their shares of the time."""


def programme_script(programme: Programme, seconds: int) -> str:
    """The script of a programme whose rounds last so many seconds."""
    ladder = programme.ladder
    taught = [name for name in ladder.defences if name not in programme.later]
    head = _HEAD.format(
        title=", ".join(taught),
        about="For people who did this before." if ladder.brief else "One thing at a time, then mixed.",
        level=ladder.level,
        stance=ladder.stance,
        pace=programme.pace,
        junior="yes" if ladder.junior else "no",
        ages=f"ages: {ladder.ages}\n" if ladder.ages else "",
        safety="full" if ladder.minutes >= FULL_CAUTIONS_FROM else "short",
        brief="yes" if ladder.brief else "no",
    )
    return head + "".join(_steps(programme, seconds))


def _steps(programme: Programme, seconds: int) -> Iterator[str]:
    yield from _exercises(WARM_UP, programme.warm_up)
    for n, one in enumerate(programme.rounds):
        again = programme.ladder.swap and n % 2 == 1
        if n and (again or not one.teach):  # What is taught first is a rest of its own.
            yield f"- rest: {rest_after(seconds, programme.ladder)} s\n"
        if again:
            yield "- say: Change over. Give the stick to your partner.\n"
        elif programme.ladder.swap and n:
            yield "- say: Change over again. The stick goes back.\n"
        yield _round(one, round(seconds * one.share), programme)
    if programme.later:
        *some, last = programme.later
        yield f"- say: For another day, {', '.join(some) + ' and ' if some else ''}{last}.\n"
    yield from _exercises(COOL_DOWN, programme.cool_down)


def rest_after(seconds: int, ladder: Ladder) -> int:
    """Seconds of rest after a round of so many seconds."""
    return max(CHANGE_OVER if ladder.swap else REST, -(-seconds // 2))


def _exercises(table: tuple[tuple[str, int], ...], seconds: int) -> Iterator[str]:
    """As many of the exercises as there is time for: half a minute each at least, or the first one alone."""
    chosen = table[: max(1, min(len(table), seconds // 30))]
    whole = sum(share for _, share in chosen)
    for name, share in chosen:
        yield f"- exercise: {name}\n  for: {round(seconds * share / whole)} s\n"


def _round(one: Round, seconds: int, programme: Programme) -> str:
    answers = ", ".join(f"[{', '.join(techniques_of(answer))}]" for answer in one.answers)
    return (
        f"- partner: [{', '.join(one.defences)}]\n"
        f"  for: {seconds} s\n"
        f"  order: {one.order}\n"
        f"  listener: {programme.ladder.listener}\n"
        + ("  teach: yes\n" if one.teach else "")
        + (f"  answers: [{answers}]\n" if answers else "")
    )


def techniques_of(answer: str) -> list[str]:
    """`jab, cross` or `1-2` as the names or numbers in it."""
    return [name.strip() for name in answer.split("-" if looks_numbered(answer) else ",")]
