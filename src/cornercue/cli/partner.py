"""`cornercue partner`: a partner drill for a parent, without a script."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from cornercue.cli.new import write_new
from cornercue.cli.options import captions, drawn_seed, overrides, split
from cornercue.cli.play_options import PlayOptions, Repeatable, playing, refuse
from cornercue.errors import InputFault, MachineLacks

if TYPE_CHECKING:
    from cornercue.ladder.rounds import Ladder

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


@click.command(cls=Repeatable)
@click.option(
    "--defences",
    default="parry,cover,weave",
    show_default=True,
    callback=_defences,
    help="What the student does.",
)
@click.option("--minutes", type=click.FloatRange(3, 60), default=10, show_default=True, help="How long it lasts.")
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
@click.option("--brief", is_flag=True, help="For who did it before: no teaching, but the cautions stay.")
@click.option("--swap", is_flag=True, help="Two children take turns: a change of roles is called.")
@click.option("--adults", is_flag=True, help="Both are adults: attacks go to head height and stop short of it.")
@click.option("--save", metavar="FILE", help="Write the drill as a script, to change and keep.")
@click.option("-o", "--output", "file", metavar="FILE", help="Write a sound file instead of playing.")
@captions
@split
@playing
@overrides
def partner(
    save: str | None, file: str | None, captions: bool, split: bool, wanted: PlayOptions, adults: bool, **asked: Any
) -> None:
    """Feed a student at home: parry, cover and weave, first one by one, then mixed, then with an answer.

    It needs no script and no experience: the voice says what to do, cautions first.

    \b
    Example:
      cornercue partner --minutes 8 --level 2
    """
    from cornercue.cli.playback import play_drill
    from cornercue.cli.session import session
    from cornercue.script.read import parse_drill
    from cornercue.track.sound_files import format_of

    for name, given in (("--captions", captions), ("--split", split)):
        if given and not file:
            raise click.UsageError(f"`{name}` is for a sound file: name one with `-o`.")
    if file or save:
        refuse("is for playing; a file is written here")
    if file:
        format_of(Path(file))
    if asked["seed"] is None:
        asked["seed"] = drawn_seed()
    text = _fitted(_ladder(asked, adults), asked)
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


def _ladder(asked: dict[str, Any], adults: bool) -> Ladder:
    """What was asked for; a defence that juniors are not fed is refused."""
    from cornercue.feed.table import LEFT_OUT
    from cornercue.ladder.rounds import Ladder

    for name in asked["defences"]:
        if name in LEFT_OUT and not adults:
            raise click.BadParameter(
                f"`{name}` is not fed to children and teenagers: {LEFT_OUT[name]}; add `--adults` where only adults "
                "train",
                param_hint="--defences",
            )
    names = ("defences", "minutes", "answers", "listener", "brief", "swap")
    return Ladder(
        **{name: asked.pop(name) for name in names},
        level=asked["level"] or 1,
        stance=asked["stance"] or "orthodox",
        pace=asked["pace"],
        junior=not adults,
    )


def _fitted(ladder: Ladder, asked: dict[str, Any]) -> str:
    """The session's script, as long as asked for in the voice that will speak; estimated where there is none."""
    from dataclasses import replace

    from cornercue.cli.session import NO_VOICE, request_for, voiced
    from cornercue.ladder.fitting import fitted
    from cornercue.script.model import Drill
    from cornercue.timing.estimate import estimated_seconds
    from cornercue.timing.expand import expand
    from cornercue.timing.timeline import Timeline
    from cornercue.voice.voices import open_voice

    def estimate(drill: Drill) -> Timeline:
        return expand(drill, replace(request_for(drill, asked), voice=NO_VOICE), estimated_seconds)

    try:
        with open_voice(asked["voice"] or "auto") as speech:

            def spoken(drill: Drill) -> Timeline:
                request = replace(request_for(drill, asked), voice=speech.name)
                return voiced("partner ladder", drill, request, speech)

            return fitted(ladder, estimate, spoken)
    except MachineLacks:
        return fitted(ladder, estimate, estimate)
