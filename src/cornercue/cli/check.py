"""`cornercue check`: every fault of every script."""

from __future__ import annotations

import sys
from dataclasses import dataclass
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
    found = [_check_one(path, pack) for path in scripts_in(paths)]
    if len(found) > 1:
        say(_total(found))
    if any(one.faulty or (strict and one.warnings) for one in found):
        sys.exit(InputFault.exit_code)


@dataclass(frozen=True, slots=True)
class _Outcome:
    """What came of checking one script; seconds are about how long it lasts."""

    faulty: bool
    warnings: int = 0
    hints: int = 0
    seconds: float = 0.0


def _total(found: list[_Outcome]) -> str:
    """All scripts in one line: "31 scripts: 29 fine, 1 with warnings, 1 with faults; about 273:02 in all"."""
    faulty = sum(one.faulty for one in found)
    warned = sum(bool(one.warnings) for one in found)
    hinted = sum(bool(one.hints) and not one.warnings for one in found)
    kinds = (("fine", len(found) - faulty - warned - hinted), ("with hints", hinted), ("with warnings", warned))
    counts = [f"{count} {words}" for words, count in (*kinds, ("with faults", faulty)) if count]
    return f"{len(found)} scripts: {', '.join(counts)}; about {clock(sum(one.seconds for one in found))} in all"


def _pack(folder: str) -> Pack:
    from cornercue.voice.pack import Pack

    return Pack(Path(folder))


def _check_one(path: Path, pack: Pack | None) -> _Outcome:
    """Prints what is to be said about one script."""
    from cornercue.script.faults import ScriptFaults
    from cornercue.session.checking import check_script
    from cornercue.totals.summary import short

    try:
        report = check_script(path, pack)
    except ScriptFaults as faults:
        say(faults)
        return _Outcome(faulty=True)
    for problem in report.problems:
        say(problem.told(str(path)))
    say(f"{path}: {'no fault' if report.problems else 'fine'}, about {clock(report.seconds)}")
    say(f"  {short(report.summary)}")
    for text in report.lacking:
        say(f"{path}: “{text}” is not in the pack; another voice says it")
    return _Outcome(False, report.warnings, len(report.problems) - report.warnings, report.seconds)
