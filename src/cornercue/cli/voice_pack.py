"""`cornercue voice sheet` and `cornercue voice import`: the coach's own voice, from the reading sheet to the pack."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from cornercue.cli.options import overrides
from cornercue.cli.progress import bar
from cornercue.errors import InputFault
from cornercue.printing import say, say_exactly

if TYPE_CHECKING:
    from cornercue.session.overrides import Overrides


@click.command(no_args_is_help=True)
@click.argument("scripts", nargs=-1, required=True, type=click.Path(), metavar="DRILL...")
@click.option("-o", "--output", metavar="FILE", help="Write the sheet to a file instead of printing it.")
@click.option("--lacking", "pack_folder", metavar="PACK", help="Only what this pack lacks, or has with a flaw.")
@overrides
def sheet(scripts: tuple[str, ...], output: str | None, pack_folder: str | None, asked: Overrides) -> None:
    """Write what must be read aloud so that these drills speak in your own voice: every phrase once, in reading order.

    A folder stands for all scripts in it and in the folders below.

    \b
    Example:
      cornercue voice sheet drills/first-combination.yaml -o sheet.txt
      cornercue voice sheet drills -o whole-library.txt
    """
    from cornercue.session.sheet_needs import sheet_text
    from cornercue.voice.pack import Pack
    from cornercue.whole_files import write_whole

    pack = Pack(Path(pack_folder)) if pack_folder else None
    text = sheet_text(scripts, asked, pack)
    if output is None:
        say_exactly(text, "write the sheet to a file with `-o`")
        return
    write_whole(Path(output), text)
    say(f"{output}: {sum(line[:1].isdigit() for line in text.splitlines())} phrases to read")


@click.command("import", no_args_is_help=True)
@click.argument("recording", type=click.Path(), metavar="RECORDING")
@click.option("--sheet", "sheet_file", required=True, metavar="SHEET", help="The sheet that was read.")
@click.option("-o", "--output", required=True, metavar="PACK", help="The folder to make.")
@click.option("--replace", is_flag=True, help="Make a pack that is there already anew.")
@click.option("--add", is_flag=True, help="Add to a pack only what it lacks, or has with a flaw.")
@click.option("--sure", is_flag=True, help="Every line was read: leave none out for doubt.")
@click.option("--voice", default="auto", show_default=True, metavar="VOICE", help="The voice to compare yours with.")
def import_(*, recording: str, sheet_file: str, output: str, replace: bool, add: bool, sure: bool, voice: str) -> None:
    """Make a voice from the recording of a sheet, and tell every line that is missing, double or badly recorded.

    Ends with code 1 where a line must be said again; the others are in the pack all the same.

    \b
    Example:
      cornercue voice import evening.wav --sheet sheet.txt -o my-voice
    """
    from cornercue.session.pack_making import make_pack

    if replace and add:
        raise click.UsageError("--replace and --add exclude each other")
    with bar("Listening") as progress:
        made = make_pack(
            Path(recording),
            Path(sheet_file),
            Path(output),
            if_there="add" if add else "replace" if replace else "keep",
            sure=sure,
            voice=voice,
            progress=progress,
        )
    for sentence in made.report:
        say(sentence)
    say(f"{output}: {made.phrases} phrases, {made.new} of them new")
    if made.faults:
        sys.exit(InputFault.exit_code)
