"""`cornercue page`: the drill as one file for a phone."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from cornercue.cli.options import SCRIPT, overrides
from cornercue.errors import InputFault

if TYPE_CHECKING:
    from cornercue.script.model import Drill


@click.command(no_args_is_help=True)
@SCRIPT
@click.option("-o", "--output", required=True, metavar="FILE", help="The .html file to write.")
@click.option(
    "--draws", type=click.IntRange(1, 26), default=4, show_default=True, help="So many versions of what is random."
)
@overrides
def page(script: str, output: str, draws: int, **asked: Any) -> None:
    """Write the drill as one offline page, with sound and large words, for a phone, a tablet or a television.

    \b
    Example:
      cornercue page drills/three-defences.yaml -o three-defences.html
    """
    from cornercue.cli.session import read
    from cornercue.whole_files import written_whole

    path = Path(output)
    if path.suffix.lower() not in (".html", ".htm"):
        raise InputFault(f"{output}: the name of a page must end in .html")
    text = built(script, read(script), draws, asked)
    with written_whole(path) as part:
        part.write_text(text, encoding="utf-8")
    click.echo(f"{output}: {len(text.encode()) / 1e6:.2f} MB. Open it in any browser; it needs no network.")


def built(script: str, drill: Drill, draws: int, asked: dict[str, Any], full_screen: bool = False) -> str:
    """The page as text; with `full_screen` its Start button fills the screen."""
    from dataclasses import replace

    from cornercue.cli.session import request_for, voiced
    from cornercue.page.build import page_html
    from cornercue.page.data import unlike
    from cornercue.timing.phrasebook import phrasebook
    from cornercue.voice.voices import open_voice

    request = request_for(drill, asked)
    with open_voice(request.voice) as speech:
        request = replace(request, voice=speech.name)
        seeds = [(request.seed + 7919 * n) % 1_000_000_000 for n in range(draws)]
        timelines = [voiced(script, drill, replace(request, seed=seed), speech) for seed in seeds]
        return page_html(drill, unlike(timelines), speech.clip, phrasebook(), full_screen)
