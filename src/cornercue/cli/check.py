"""`cornercue check`: every fault of every script."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

from cornercue.cli.review import explain, reviewed
from cornercue.cli.voice_pack import lacking, opened
from cornercue.errors import InputFault
from cornercue.script.faults import Fault, ScriptFaults

if TYPE_CHECKING:
    from cornercue.script.model import Drill
    from cornercue.voice.pack import Pack


@click.command(no_args_is_help=True)
@click.argument("paths", nargs=-1, type=click.Path(), metavar="PATH...")
@click.option("--voice", metavar="PACK", help="List what this recorded pack lacks, rather than the scripts' own.")
@click.option("--strict", is_flag=True, help="Let warnings of the review count as faults; hints never do.")
@explain
def check(paths: tuple[str, ...], voice: str | None, strict: bool) -> None:
    """Read scripts (files or whole folders) and tell every fault in them, then what a head coach would see.

    Ends with code 1 where a script has a fault. What the review finds, and what a pack lacks, do not count as one.

    \b
    Example:
      cornercue check drills
      cornercue check --explain flow
    """
    pack = opened(voice) if voice else None
    bad = [path for path in _scripts(paths) if not _check_one(path, pack, strict)]
    if bad:
        sys.exit(InputFault.exit_code)


def _scripts(paths: tuple[str, ...]) -> Iterator[Path]:
    """The files named, and every .yaml or .yml file of the folders named."""
    for path in map(Path, paths):
        if path.is_dir():
            found = sorted(file for suffix in ("*.yaml", "*.yml") for file in path.rglob(suffix))
            if not found:
                raise InputFault(f"{path}: there is no script in this folder; `cornercue new FILE` writes one")
            yield from found
        else:
            yield path


def _own_pack(path: Path, drill: Drill) -> Pack | None:
    """The recorded pack that a script names as its voice."""
    if drill.voice is None or not Path(drill.voice).is_dir():
        return None
    try:
        return opened(drill.voice)
    except InputFault as fault:
        raise ScriptFaults([Fault(str(path), 1, 1, f"`voice: {drill.voice}`: {fault}")]) from None


def _check_one(path: Path, pack: Pack | None, strict: bool) -> bool:
    """Prints what is to be said about one script; True where it has no fault, and no warning if that is strict."""
    from cornercue.cli.session import laid_out
    from cornercue.durations import clock
    from cornercue.script.read import read_drill
    from cornercue.timing.estimate import estimated_seconds
    from cornercue.timing.setting import Request
    from cornercue.totals.summary import short, summarised

    try:
        drill = read_drill(path)
        pack = pack or _own_pack(path, drill)
        timeline = laid_out(str(path), drill, Request(seed=drill.seed or 0, voice="none"), estimated_seconds)
    except ScriptFaults as faults:
        click.echo(faults)
        return False
    warnings, hints = reviewed(str(path), drill, timeline)
    click.echo(f"{path}: {'no fault' if warnings or hints else 'fine'}, about {clock(timeline.duration)}")
    click.echo(f"  {short(summarised(timeline, drill.junior))}")
    for text in lacking(str(path), pack) if pack else ():
        click.echo(f"{path}: “{text}” is not in the pack; another voice says it")
    return not (strict and warnings)
