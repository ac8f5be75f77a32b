"""`cornercue page`: the drill as one file for a phone, or a folder of scripts as a folder of pages."""

from __future__ import annotations

from os.path import isdir
from pathlib import Path
from typing import TYPE_CHECKING

import click

from cornercue.cli.each_script import each_script
from cornercue.cli.options import SCRIPT_OR_FOLDER, overrides
from cornercue.cli.progress import bar
from cornercue.errors import InputFault
from cornercue.printing import say

if TYPE_CHECKING:
    from cornercue.script.model import Drill
    from cornercue.session.overrides import Overrides


@click.command(no_args_is_help=True)
@SCRIPT_OR_FOLDER
@click.option("-o", "--output", required=True, metavar="FILE", help="The .html file to write; for a folder, a folder.")
@click.option(
    "--draws", type=click.IntRange(1, 26), default=4, show_default=True, help="So many versions of what is random."
)
@overrides
def page(script: str, output: str, draws: int, asked: Overrides) -> None:
    """Write the drill as one offline page, with sound and large words, for a phone, a tablet or a television.

    Of a folder, every script in it and in the folders below: one page a script, in a folder with the same folders.

    \b
    Example:
      cornercue page drills/three-defences.yaml -o three-defences.html
      cornercue page drills -o pages
    """
    from cornercue.session.folders import file_named, files_for
    from cornercue.session.opening import read
    from cornercue.session.page_text import page_text
    from cornercue.whole_files import write_whole

    def write(name: str, drill: Drill, file: Path) -> str:
        with bar("Making the voice") as progress:
            text = page_text(name, drill, asked, draws=draws, progress=progress)
        write_whole(file, text)
        return f"{file}: {len(text.encode()) / 1e6:.2f} MB"

    if isdir(script):
        each_script(files_for(script, output, ".html"), output, asked, "page", write)
        return
    path = file_named(output, script, ".html")
    if path.suffix.lower() not in (".html", ".htm"):
        raise InputFault(f"{output}: the name of a page must end in .html")
    say(f"{write(script, read(script), path)}. Open it in any browser; it needs no network.")
