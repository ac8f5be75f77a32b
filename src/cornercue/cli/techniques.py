"""`cornercue techniques`: the vocabulary, to look things up in."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from cornercue.errors import InputFault

if TYPE_CHECKING:
    from cornercue.technique.table import Technique


@click.command()
@click.argument("word", required=False)
def techniques(word: str | None) -> None:
    """List the techniques that a script can name, or those that match WORD.

    Defences and steps take a side: `parry left`, `slip rear`. Times are common practice, no source.

    \b
    Example:
      cornercue techniques hook
    """
    from cornercue.technique.lookup import normalise
    from cornercue.technique.table import TECHNIQUES

    wanted = normalise(word or "")
    found = [one for one in TECHNIQUES if any(wanted in name for name in names(one))]
    if not found:
        raise InputFault(f"no technique matches `{word}`; `cornercue techniques` lists them all")
    click.echo(f"{'technique':<28}{'number':<8}{'seconds (learning, steady, sharp)':<36}also called")
    for one in found:
        seconds = ", ".join(f"{value:.2f}" for value in one.seconds)
        click.echo(f"{one.name:<28}{one.number or '':<8}{seconds:<36}{', '.join(one.synonyms)}".rstrip())


def names(technique: Technique) -> tuple[str, ...]:
    """Everything that a technique can be found by."""
    return (technique.name, technique.kind, technique.base, technique.number or "", *technique.synonyms)
