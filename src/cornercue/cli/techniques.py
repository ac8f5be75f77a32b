"""`cornercue techniques`: the vocabulary, to look things up in, and pictures of how defences are fed."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from cornercue.errors import InputFault
from cornercue.printing import say

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from cornercue.technique.sides import Side
    from cornercue.technique.table import Technique


@click.command()
@click.argument("word", required=False)
@click.option("--picture", metavar="FILE", help="Draw how the defence WORD is fed: a .svg or .png file.")
@click.option("--adults", is_flag=True, help="With --picture: for adults, instead of children and teenagers.")
@click.option(
    "--side", type=click.Choice(["left", "right"]), help="With --picture: the student's side.  [default: left]"
)
def techniques(word: str | None, picture: str | None, adults: bool, side: Side | None) -> None:
    """List the techniques that a script can name, or those that match WORD.

    A WORD may be a kind, too: strike, kick, defence, footwork, stance, ground. With it you also read how a defence is
    done and fed. Times are common practice, no source.

    \b
    Example:
      cornercue techniques hook
      cornercue techniques parry --picture parry.png
    """
    from cornercue.cli.technique_list import listing
    from cornercue.technique.table import TECHNIQUES
    from cornercue.technique.vocabulary import normalise

    if picture is not None and not word:
        raise click.UsageError("--picture needs the name of a defence: cornercue techniques parry --picture parry.png")
    if (adults or side) and picture is None:
        raise click.UsageError("--adults and --side go with --picture")
    wanted = normalise(word or "")
    found = [one for one in TECHNIQUES if any(wanted in name for name in names(one))]
    if not found:
        raise InputFault(f"no technique matches `{word}`; `cornercue techniques` lists them all")
    if picture is not None:
        draw(one_of(found, wanted), Path(picture), adults, side or "left")
        return
    for line in listing(found):
        say(line)
    if word:
        for one in found:
            for line in (*how_fed(one), *how_held(one)):
                say(line)


def names(technique: Technique) -> tuple[str, ...]:
    """Everything that a technique can be found by."""
    return (technique.name, technique.kind, technique.base, technique.number or "", *technique.synonyms)


def how_fed(technique: Technique) -> Iterator[str]:
    """How a defence is done and fed, for whom; nothing for what is no defence."""
    from cornercue.feed.table import AUDIENCES, FED, FEEDS, LEFT_OUT, WHOM
    from cornercue.timing.feeding import to_feeder, to_student
    from cornercue.timing.phrasebook import phrasebook

    if technique.name not in FED:
        if technique.kind == "defence":
            yield f"\n{technique.name}\n  Not fed: no feed is described for it."
        return
    for audience in AUDIENCES:
        yield f"\n{technique.name}, for {WHOM[audience]}"
        if technique.name in FEEDS[audience]:
            yield f"  {to_student(phrasebook(), audience, technique.name, technique.name)}"
            yield f"  {to_feeder(phrasebook(), audience, technique.name, technique.name)}"
        else:
            yield f"  Not fed: {LEFT_OUT[technique.name]}."


def how_held(technique: Technique) -> Iterator[str]:
    """What a holder of pads or a shield holds for it; nothing where nobody does."""
    from cornercue.pads.table import ADULTS_ONLY, held_for
    from cornercue.technique.move import Move
    from cornercue.timing.holding import to_holder
    from cornercue.timing.phrasebook import phrasebook

    if held_for(technique):
        whom = ", for adults only" if technique.base in ADULTS_ONLY else ""
        yield f"\n{technique.name}, orthodox, at what a helper holds{whom}"
        yield f"  {to_holder(phrasebook(), Move(technique, technique.limb), 'orthodox')}"


def one_of(found: Sequence[Technique], wanted: str) -> Technique:
    """The one technique that is meant: called just so, or the only one that matches. Raises `InputFault`."""
    exact = [one for one in found if wanted in (one.name, one.number, *one.synonyms)]
    chosen = exact if len(exact) == 1 else list(found)
    if len(chosen) > 1:
        raise InputFault(f"`{wanted}` matches {', '.join(one.name for one in chosen)}; name one of them")
    return chosen[0]


def draw(technique: Technique, path: Path, adults: bool, side: Side) -> None:
    """Writes the picture of how a defence is fed. Raises `InputFault` or `MachineLacks`."""
    from cornercue.feed.table import FED
    from cornercue.picture.drawing_files import check_suffix, write_drawing
    from cornercue.picture.feed_picture import feed_svg, titled

    check_suffix(path)
    if technique.name not in FED:
        raise InputFault(f"`{technique.name}` is nothing that a feeder feeds; there are pictures of {', '.join(FED)}")
    write_drawing(path, feed_svg("adult" if adults else "junior", technique.name, side))
    say(f"{path}: how to feed {titled(technique.name, side)}")
