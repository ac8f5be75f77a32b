"""`cornercue show`: the timeline as a table for people, or as JSON for programs."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

from cornercue.cli.heading import heading
from cornercue.cli.options import SCRIPT, overrides
from cornercue.printing import say, say_data

if TYPE_CHECKING:
    from cornercue.session.overrides import Overrides
    from cornercue.timing.timeline import Cue, Timeline

TONE_WORDS = {"start": "(start tone)", "warning": "(warning tone)", "end": "(closing tone)"}


@click.command(no_args_is_help=True)
@SCRIPT
@overrides
@click.option("--json", "as_json", is_flag=True, help="Print the timeline as data.")
@click.option("--picture", metavar="FILE", help="Draw it instead of the table: a .svg or .png file.")
def show(script: str, as_json: bool, picture: str | None, asked: Overrides) -> None:
    """Print what will be heard, and when. `--voice none` estimates the times without a voice.

    \b
    Example:
      cornercue show drills/first-combination.yaml --level 2
    """
    from cornercue.cli.drill_in_voice import timeline_for_showing
    from cornercue.picture.drawing_files import check_suffix, write_picture
    from cornercue.session.opening import read
    from cornercue.totals.summary import lines, summarised
    from cornercue.totals.tally import sentences, tally

    if picture is not None:
        check_suffix(Path(picture))
    drill = read(script)
    timeline = timeline_for_showing(script, drill, asked)
    summary = summarised(timeline)
    if picture is not None:
        write_picture(Path(picture), timeline)
        say(f"{picture}: the drill as a picture", err=as_json)
    if as_json:
        data = timeline.as_data() | {"summary": summary.as_data()}
        say_data(data)
    else:
        told = [heading(timeline)] if picture else [*table(timeline), ""]
        say("\n".join([*told, *lines(summary), *sentences(tally(timeline))]))


def table(timeline: Timeline) -> Iterator[str]:
    """The timeline as lines, part by part: time, what it is, the words, and how the student stands."""
    from cornercue.timing.parts import finest

    yield heading(timeline)
    parts, told = finest(timeline.parts), 0
    for cue in timeline.cues:
        if cue.part >= told:
            told, one = cue.part + 1, parts[cue.part]
            yield f"\nPart {told} · {one.told} (line {one.part.line})"
        yield row(cue)


def row(cue: Cue) -> str:
    """One cue as a line of the table."""
    minutes, seconds = divmod(cue.start, 60)
    words = TONE_WORDS[cue.tone] if cue.tone else cue.text
    return f"{minutes:4.0f}:{seconds:05.2f}  {cue.kind:<5}  {words:<44}  {' '.join(_standing(cue))}".rstrip()


def _standing(cue: Cue) -> Iterator[str]:
    if cue.rep:
        yield f"rep {cue.rep}"
    if cue.stance and cue.kind == "call":
        yield cue.stance
    if cue.angle:
        yield f"{'left' if cue.angle > 0 else 'right'} {abs(cue.angle)}°"
    if cue.rate != 1.0:
        yield f"spoken ×{cue.rate:g}"
