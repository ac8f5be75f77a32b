"""`cornercue play`: a drill through the speakers."""

from __future__ import annotations

from typing import Any

import click

from cornercue.cli.options import SCRIPT, overrides


@click.command(no_args_is_help=True)
@SCRIPT
@click.option(
    "--output",
    type=click.Choice(["auto", "miniaudio", "simpleaudio", "silent"]),
    default="auto",
    show_default=True,
    help="What makes the sound.",
)
@overrides
def play(script: str, output: str, **asked: Any) -> None:
    """Play the drill through the speakers. Ctrl-C stops it.

    \b
    Example:
      cornercue play drills/first-combination.yaml --stance southpaw
    """
    from cornercue.cli.session import session
    from cornercue.cli.show import heading, totals
    from cornercue.player.choose import choose
    from cornercue.track.mix import blocks

    chosen = choose(output).output
    with session(script, asked) as ready:
        click.echo(heading(ready.timeline))
        chosen.play(blocks(ready.timeline, ready.speech.clip))
        click.echo(totals(ready.timeline))
