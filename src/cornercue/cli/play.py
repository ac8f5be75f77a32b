"""`cornercue play`: a drill through the speakers."""

from __future__ import annotations

from typing import Any

import click

from cornercue.cli.options import SCRIPT, output, overrides


@click.command(no_args_is_help=True)
@SCRIPT
@output
@overrides
def play(script: str, output: str, **asked: Any) -> None:
    """Play the drill through the speakers. Ctrl-C stops it.

    \b
    Example:
      cornercue play drills/first-combination.yaml --stance southpaw
    """
    from cornercue.cli.session import read, session
    from cornercue.player.choose import choose

    choose(output)
    with session(script, read(script), asked) as ready:
        ready.play(output)
