"""`cornercue partner`: a partner drill for a parent, without a script."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from cornercue.cli.options import captions, overrides, split
from cornercue.cli.partner_options import PartnerOptions, programme
from cornercue.cli.play_options import PlayOptions, Repeatable, playing, refuse
from cornercue.cli.progress import bar
from cornercue.printing import say
from cornercue.session.overrides import Overrides, seeded

if TYPE_CHECKING:
    from cornercue.ladder.rounds import Ladder


@click.command(cls=Repeatable)
@programme
@click.option("--save", metavar="FILE", help="Write the drill as a script, to change and keep.")
@click.option("-o", "--output", "file", metavar="FILE", help="Write a sound file instead of playing.")
@captions
@split
@playing
@overrides
def partner(
    *,
    chosen: PartnerOptions,
    save: str | None,
    file: str | None,
    captions: bool,
    split: bool,
    wanted: PlayOptions,
    asked: Overrides,
) -> None:
    """Feed a student at home: parry, cover and weave, first one by one, then mixed, then with an answer.

    It needs no script and no experience: the voice says what to do, cautions first.

    \b
    Example:
      cornercue partner --minutes 8 --level 2
    """
    from cornercue.cli.playback import play_drill
    from cornercue.cli.render import render_drill
    from cornercue.script.read import parse_drill
    from cornercue.session.partner_programme import NAME, programme_text
    from cornercue.track.sound_files import format_of
    from cornercue.whole_files import write_new

    for name, given in (("--captions", captions), ("--split", split)):
        if given and file is None:
            raise click.UsageError(f"`{name}` is for a sound file: name one with `-o`.")
    if file is not None or save is not None:
        refuse("is for playing; a file is written here")
    if file is not None:
        format_of(Path(file))
    asked = seeded(asked)
    with bar("Making the voice") as progress:
        text = programme_text(_ladder(chosen, asked), asked, progress)
    if save is not None:
        write_new(Path(save), text)
        say(f"{save}: change it as you like, then `cornercue play {save}`")
        if file is None:
            return
    drill = parse_drill(text, NAME)
    if file is None:
        play_drill(NAME, drill, wanted, asked)
    else:
        render_drill(NAME, drill, asked, Path(file), split=split, captions=captions)


def _ladder(chosen: PartnerOptions, asked: Overrides) -> Ladder:
    """What was asked for; a defence that juniors are not fed is refused."""
    from cornercue.feed.table import LEFT_OUT
    from cornercue.ladder.rounds import Ladder

    if asked.ages and chosen.adults:
        raise click.UsageError("`--ages` is for juniors: leave it out with `--adults`.")
    for name in chosen.defences:
        if name in LEFT_OUT and not chosen.adults:
            raise click.BadParameter(
                f"`{name}` is not fed to children and teenagers: {LEFT_OUT[name]}; add `--adults` where only adults "
                "train",
                param_hint="--defences",
            )
    return Ladder(
        defences=chosen.defences,
        minutes=chosen.minutes,
        answers=chosen.answers,
        listener=chosen.listener,
        brief=asked.brief,
        swap=chosen.swap,
        level=asked.level or 1,
        stance=asked.stance or "orthodox",
        pace=asked.pace,
        junior=not chosen.adults,
        ages=asked.ages,
    )
