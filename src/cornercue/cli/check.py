"""`cornercue check`: every fault of every script."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from cornercue.cli.explain import explain
from cornercue.durations import clock
from cornercue.errors import InputFault
from cornercue.printing import say

if TYPE_CHECKING:
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
    from cornercue.session.checking import scripts_in

    pack = _pack(voice) if voice else None
    bad = [path for path in scripts_in(paths) if not _check_one(path, pack, strict)]
    if bad:
        sys.exit(InputFault.exit_code)


def _pack(folder: str) -> Pack:
    from cornercue.voice.pack import Pack

    return Pack(Path(folder))


def _check_one(path: Path, pack: Pack | None, strict: bool) -> bool:
    """Prints what is to be said about one script; True where it has no fault, and no warning if that is strict."""
    from cornercue.script.faults import ScriptFaults
    from cornercue.session.checking import check_script
    from cornercue.totals.summary import short

    try:
        report = check_script(path, pack)
    except ScriptFaults as faults:
        say(faults)
        return False
    for problem in report.problems:
        say(problem.told(str(path)))
    say(f"{path}: {'no fault' if report.problems else 'fine'}, about {clock(report.seconds)}")
    say(f"  {short(report.summary)}")
    for text in report.lacking:
        say(f"{path}: “{text}” is not in the pack; another voice says it")
    return not (strict and report.warnings)
