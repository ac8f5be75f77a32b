"""`cornercue render`: a script to a sound file."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from cornercue.cli.options import SCRIPT, captions, overrides, split


@click.command(no_args_is_help=True)
@SCRIPT
@click.option("-o", "--output", required=True, metavar="FILE", help="A .wav, .flac, .ogg or .mp3 file.")
@captions
@split
@overrides
def render(script: str, output: str, captions: bool, split: bool, **asked: Any) -> None:
    """Write the drill as a sound file: WAV, FLAC, Ogg or MP3, by the file's suffix.

    \b
    Example:
      cornercue render drills/first-combination.yaml -o evening.mp3
    """
    from cornercue.cli.session import read, session
    from cornercue.track.sound_files import format_of

    format_of(Path(output))
    with session(script, read(script), asked) as ready:
        ready.render(Path(output), "split" if split else "mono", captions)
