"""`cornercue render`: a script to a sound file."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from cornercue.cli.heading import heading
from cornercue.cli.options import SCRIPT, captions, overrides, split
from cornercue.cli.progress import bar
from cornercue.printing import say

if TYPE_CHECKING:
    from cornercue.script.model import Drill
    from cornercue.session.overrides import Overrides


@click.command(no_args_is_help=True)
@SCRIPT
@click.option("-o", "--output", required=True, metavar="FILE", help="A .wav, .flac, .ogg or .mp3 file.")
@captions
@split
@overrides
def render(script: str, output: str, captions: bool, split: bool, asked: Overrides) -> None:
    """Write the drill as a sound file: WAV, FLAC, Ogg or MP3, by the file's suffix.

    \b
    Example:
      cornercue render drills/first-combination.yaml -o evening.mp3
    """
    from cornercue.session.opening import read
    from cornercue.track.sound_files import format_of

    format_of(Path(output))
    render_drill(script, read(script), asked, Path(output), split=split, captions=captions)


def render_drill(script: str, drill: Drill, asked: Overrides, output: Path, *, split: bool, captions: bool) -> None:
    """Writes the track, saying first what must be known first and last what it asks of people."""
    from cornercue.cli.drill_in_voice import in_voice
    from cornercue.session.track_file import write_track
    from cornercue.totals.tally import sentences, tally

    with in_voice(script, drill, asked) as opened:
        for caution in opened.cautions:
            say(caution)
        with bar("Writing the track") as progress:
            written = write_track(opened, output, "split" if split else "mono", captions, progress)
        say(f"{output}: {heading(opened.timeline)}")
        for line in sentences(tally(opened.timeline)):
            say(line)
        if written:
            say(f"{written}: its captions")
