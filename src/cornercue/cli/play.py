"""`cornercue play`: a drill through the speakers."""

from __future__ import annotations

from typing import Any

import click

from cornercue.cli.options import SCRIPT, overrides
from cornercue.cli.play_options import PlayOptions, Repeatable, playing


@click.command(cls=Repeatable, no_args_is_help=True)
@SCRIPT
@playing
@overrides
def play(script: str, wanted: PlayOptions, **asked: Any) -> None:
    """Play the drill through the speakers.

    Space pauses and goes on, the arrows go a part back or on and make it louder or softer, R repeats the part, Q
    quits.

    \b
    Example:
      cornercue play drills/first-combination.yaml --stance southpaw
    """
    from cornercue.cli.playback import play_drill
    from cornercue.cli.session import read

    play_drill(script, read(script), wanted, asked)
