"""`cornercue render`: a script to a sound file."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from cornercue.cli.options import SCRIPT, overrides


@click.command(no_args_is_help=True)
@SCRIPT
@click.option("-o", "--output", required=True, metavar="FILE", help="A .wav, .flac, .ogg or .mp3 file.")
@overrides
def render(script: str, output: str, **asked: Any) -> None:
    """Write the drill as a sound file: WAV, FLAC, Ogg or MP3, by the file's suffix.

    \b
    Example:
      cornercue render drills/first-combination.yaml -o evening.mp3
    """
    from cornercue.cli.progress import bar
    from cornercue.cli.session import session
    from cornercue.cli.show import heading, totals
    from cornercue.track.files import format_of, write

    format_of(Path(output))
    with session(script, asked) as ready:
        with bar("Writing the track") as progress:
            write(Path(output), ready.timeline, ready.speech.clip, progress)
        click.echo(f"{output}: {heading(ready.timeline)}")
        click.echo(totals(ready.timeline))
