"""`cornercue render`: a script to a sound file, or a folder of scripts to a folder of them."""

from __future__ import annotations

from os.path import isdir
from pathlib import Path
from typing import TYPE_CHECKING

import click

from cornercue.cli.each_script import each_script
from cornercue.cli.heading import heading
from cornercue.cli.options import SCRIPT_OR_FOLDER, captions, overrides, split
from cornercue.cli.progress import bar
from cornercue.printing import say

if TYPE_CHECKING:
    from cornercue.script.model import Drill
    from cornercue.session.overrides import Overrides


@click.command(no_args_is_help=True)
@SCRIPT_OR_FOLDER
@click.option(
    "-o", "--output", required=True, metavar="FILE", help="A .wav, .flac, .ogg or .mp3 file; for a folder, a folder."
)
@click.option(
    "--format",
    "ending",
    type=click.Choice(["wav", "flac", "ogg", "mp3"]),
    help="What the files of a folder are.  [default: mp3]",
)
@captions
@split
@overrides
def render(*, script: str, output: str, ending: str | None, captions: bool, split: bool, asked: Overrides) -> None:
    """Write the drill as a sound file: WAV, FLAC, Ogg or MP3, by the file's suffix.

    Of a folder, every script in it and in the folders below: one file a script, in a folder with the same folders.

    \b
    Example:
      cornercue render drills/first-combination.yaml -o evening.mp3
      cornercue render drills -o tracks --format mp3
    """
    from cornercue.session.folders import file_named
    from cornercue.session.opening import read
    from cornercue.track.sound_files import format_of

    if isdir(script):
        _render_folder(script, output, f".{ending or 'mp3'}", asked, split=split, captions=captions)
        return
    if ending:
        raise click.UsageError("--format is for a folder of scripts; the ending of a file's name tells its format")
    format_of(file_named(output, script, ".mp3"))
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


def _render_folder(folder: str, output: str, ending: str, asked: Overrides, *, split: bool, captions: bool) -> None:
    """Writes a track a script; each caution is said once, before the first drill that it is for."""
    from cornercue.cli.drill_in_voice import in_voice
    from cornercue.session.folders import files_for
    from cornercue.session.track_file import write_track

    cautioned = set[str]()

    def track(name: str, drill: Drill, file: Path) -> str:
        with in_voice(name, drill, asked) as opened:
            for caution in opened.cautions:
                if caution not in cautioned:
                    cautioned.add(caution)
                    say(caution)
            with bar("Writing the track") as progress:
                written = write_track(opened, file, "split" if split else "mono", captions, progress)
            return f"{file}: {heading(opened.timeline)}{'; with captions' if written else ''}"

    each_script(files_for(folder, output, ending), output, asked, "track", track)
