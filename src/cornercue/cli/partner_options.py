"""The options of a partner programme: what is defended and answered, for how long, by whom."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import wraps
from typing import Literal, TypeVar

import click

from cornercue.errors import InputFault

R = TypeVar("R")

MOST = 16
"""Answers of a step, and techniques of an answer: what a script may hold."""


def _defences(ctx: click.Context, param: click.Parameter, value: str) -> tuple[str, ...]:
    from pydantic_core import PydanticCustomError

    from cornercue.script.partner import defence_of

    try:
        names = tuple(defence_of(name).name for name in value.split(","))
    except PydanticCustomError as error:
        raise click.BadParameter(error.message()) from None
    return tuple(dict.fromkeys(names))


def _answers(ctx: click.Context, param: click.Parameter, value: tuple[str, ...]) -> tuple[str, ...]:
    from cornercue.ladder.script_text import techniques_of
    from cornercue.technique.lookup import resolve

    if value == ("none",):
        return ()
    if max(len(value), *(len(techniques_of(answer)) for answer in value)) > MOST:
        raise click.BadParameter(f"there are at most {MOST} answers of at most {MOST} techniques each")
    try:
        for answer in value:
            for name in techniques_of(answer):
                resolve(name)
    except InputFault as fault:
        raise click.BadParameter(str(fault)) from None
    return value


_OPTIONS = (
    click.option(
        "--defences",
        default="parry,cover,weave",
        show_default=True,
        callback=_defences,
        help="What the student does.",
    ),
    click.option("--minutes", type=click.FloatRange(3, 60), default=10, show_default=True, help="How long it lasts."),
    click.option(
        "--answer",
        "answers",
        multiple=True,
        default=("jab, cross", "jab, cross, lead hook"),
        show_default=True,
        callback=_answers,
        help="What is thrown back; repeat it for several, or `none`.",
    ),
    click.option(
        "--listener",
        type=click.Choice(["student", "feeder"]),
        default="student",
        show_default=True,
        help="Whom the voice speaks to: the student, or the feeder alone.",
    ),
    click.option("--swap", is_flag=True, help="Two children take turns: a change of roles is called."),
    click.option("--adults", is_flag=True, help="Both are adults: attacks go to head height and stop short of it."),
)


@dataclass(frozen=True, slots=True)
class PartnerOptions:
    """What somebody asks of a partner programme, beside what may be asked of any drill."""

    defences: tuple[str, ...]
    minutes: float
    answers: tuple[str, ...]
    listener: Literal["student", "feeder"]
    swap: bool
    adults: bool


def programme(command: Callable[..., R]) -> Callable[..., R]:
    """Gives a command the options of a partner programme, as one argument `chosen`."""

    @wraps(command)
    def with_chosen(
        *,
        defences: tuple[str, ...],
        minutes: float,
        answers: tuple[str, ...],
        listener: Literal["student", "feeder"],
        swap: bool,
        adults: bool,
        **others: object,
    ) -> R:
        chosen = PartnerOptions(
            defences=defences,
            minutes=minutes,
            answers=answers,
            listener=listener,
            swap=swap,
            adults=adults,
        )
        return command(chosen=chosen, **others)

    for option in reversed(_OPTIONS):
        with_chosen = option(with_chosen)
    return with_chosen
