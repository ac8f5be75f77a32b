"""`cornercue page`: the drill as one file for a phone."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from cornercue.cli.options import SCRIPT, overrides
from cornercue.cli.progress import bar
from cornercue.errors import InputFault
from cornercue.printing import say

if TYPE_CHECKING:
    from cornercue.session.overrides import Overrides


@click.command(no_args_is_help=True)
@SCRIPT
@click.option("-o", "--output", required=True, metavar="FILE", help="The .html file to write.")
@click.option(
    "--draws", type=click.IntRange(1, 26), default=4, show_default=True, help="So many versions of what is random."
)
@overrides
def page(script: str, output: str, draws: int, asked: Overrides) -> None:
    """Write the drill as one offline page, with sound and large words, for a phone, a tablet or a television.

    \b
    Example:
      cornercue page drills/three-defences.yaml -o three-defences.html
    """
    from cornercue.session.opening import read
    from cornercue.session.page_text import page_text
    from cornercue.whole_files import write_whole

    path = Path(output)
    if path.suffix.lower() not in (".html", ".htm"):
        raise InputFault(f"{output}: the name of a page must end in .html")
    drill = read(script)
    with bar("Making the voice") as progress:
        text = page_text(script, drill, asked, draws=draws, progress=progress)
    write_whole(path, text)
    say(f"{output}: {len(text.encode()) / 1e6:.2f} MB. Open it in any browser; it needs no network.")
