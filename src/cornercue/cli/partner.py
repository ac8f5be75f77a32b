"""`cornercue partner`: a partner drill for a parent, without a script."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from cornercue.cli.new import write_new
from cornercue.cli.options import captions, overrides, split
from cornercue.cli.playing import Repeatable, Wanted, playing, refuse
from cornercue.errors import InputFault

MOST = 16
"""Answers of a step, and techniques of an answer: what a script may hold."""


def _defences(ctx: click.Context, param: click.Parameter, value: str) -> tuple[str, ...]:
    from pydantic_core import PydanticCustomError

    from cornercue.script.drawn import defence_of

    try:
        names = tuple(defence_of(name).name for name in value.split(","))
    except PydanticCustomError as error:
        raise click.BadParameter(error.message()) from None
    return tuple(dict.fromkeys(names))


def _answers(ctx: click.Context, param: click.Parameter, value: tuple[str, ...]) -> tuple[str, ...]:
    from cornercue.script.ladder import techniques_of
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


@click.command(cls=Repeatable)
@click.option(
    "--defences",
    default="parry,cover,weave",
    show_default=True,
    callback=_defences,
    help="What the student does.",
)
@click.option("--minutes", type=click.FloatRange(3, 60), default=10, show_default=True, help="About how long.")
@click.option(
    "--answer",
    "answers",
    multiple=True,
    default=("jab, cross", "jab, cross, lead hook"),
    show_default=True,
    callback=_answers,
    help="What is thrown back; repeat it for several, or `none`.",
)
@click.option(
    "--listener",
    type=click.Choice(["student", "feeder"]),
    default="student",
    show_default=True,
    help="Whom the voice speaks to: the student, or the feeder alone.",
)
@click.option("--adults", is_flag=True, help="Both are adults: the level swing may pass at the brow line.")
@click.option("--save", metavar="FILE", help="Write the drill as a script, to change and keep.")
@click.option("-o", "--output", "file", metavar="FILE", help="Write a sound file instead of playing.")
@captions
@split
@playing
@overrides
def partner(
    save: str | None, file: str | None, captions: bool, split: bool, wanted: Wanted, adults: bool, **asked: Any
) -> None:
    """Feed a student at home: parry, cover and weave, first one by one, then mixed, then with an answer.

    It needs no script and no experience: the voice says what to do, cautions first.

    \b
    Example:
      cornercue partner --minutes 8 --level 2
    """
    from cornercue.cli.live import play_drill
    from cornercue.cli.session import session
    from cornercue.script.read import parse_drill
    from cornercue.track.files import format_of

    for name, given in (("--captions", captions), ("--split", split)):
        if given and not file:
            raise click.UsageError(f"`{name}` is for a sound file: name one with `-o`.")
    if file or save:
        refuse("is for playing; a file is written here")
    if file:
        format_of(Path(file))
    text = _script(asked, adults)
    if save:
        write_new(Path(save), text)
        click.echo(f"{save}: change it as you like, then `cornercue play {save}`")
        if not file:
            return
    drill = parse_drill(text, "partner ladder")
    if not file:
        play_drill("partner ladder", drill, wanted, asked)
        return
    with session("partner ladder", drill, asked) as ready:
        ready.render(Path(file), "split" if split else "mono", captions)


def _script(asked: dict[str, Any], adults: bool) -> str:
    from cornercue.script.ladder import Ladder, ladder_script

    return ladder_script(
        Ladder(
            defences=asked.pop("defences"),
            minutes=asked.pop("minutes"),
            answers=asked.pop("answers"),
            listener=asked.pop("listener"),
            level=asked["level"] or 1,
            stance=asked["stance"] or "orthodox",
            pace=asked["pace"],
            junior=not adults,
        )
    )
