"""`cornercue check`: every fault of every script."""

from __future__ import annotations

import sys
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

import click

from cornercue.cli.explain import explain
from cornercue.cli.told import say_new
from cornercue.durations import clock
from cornercue.errors import InputFault
from cornercue.printing import say

if TYPE_CHECKING:
    from cornercue.script.club import Clubs
    from cornercue.script.faults import Fault
    from cornercue.session.checking import ScriptReport
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
    from cornercue.script.club import Clubs
    from cornercue.session.folders import scripts_in

    run = _Run(Clubs(), _pack(voice) if voice else None)
    found = [_check_one(path, run) for path in scripts_in(paths)]
    warned = _check_as_a_whole(run) if len(found) > 1 else 0
    if len(found) > 1:
        say(_total(found))
    if any(one.faulty or (strict and one.warnings) for one in found) or (strict and warned):
        sys.exit(InputFault.exit_code)


@dataclass(frozen=True, slots=True)
class _Run:
    """What holds for all scripts of one run: their clubs, the pack to look into, the faults told and the reports made
    so far."""

    clubs: Clubs
    pack: Pack | None
    told: set[Fault] = field(default_factory=set)
    reports: dict[Path, ScriptReport] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class _Outcome:
    """What came of checking one script; seconds are about how long it lasts.

    `waiting` is one whose club's file is at fault.
    """

    faulty: bool
    waiting: bool = False
    warnings: int = 0
    hints: int = 0
    seconds: float = 0.0


def _check_as_a_whole(run: _Run) -> int:
    """Prints what is found in all scripts together; returns the number of warnings."""
    from cornercue.coaching.problem import told
    from cornercue.session.checking import check_libraries

    found = check_libraries(run.reports, run.clubs)
    for line in told(found):
        say(line)
    return sum(problem.severity == "warning" for _, problem in found)


def _total(found: list[_Outcome]) -> str:
    """All scripts in one line: "31 scripts: 29 fine, 1 with warnings, 1 with faults; about 273:02 in all"."""
    waiting = sum(one.waiting for one in found)
    faulty = sum(one.faulty for one in found) - waiting
    warned = sum(bool(one.warnings) for one in found)
    hinted = sum(bool(one.hints) and not one.warnings for one in found)
    fine = len(found) - faulty - waiting - warned - hinted
    kinds = [("fine", fine), ("with hints", hinted), ("with warnings", warned), ("with faults", faulty)]
    kinds += [("not read before club.yaml is mended", waiting)]
    counts = [f"{count} {words}" for words, count in kinds if count]
    return f"{len(found)} scripts: {', '.join(counts)}; about {clock(sum(one.seconds for one in found))} in all"


def _pack(folder: str) -> Pack:
    from cornercue.voice.pack import Pack

    return Pack(Path(folder))


def _check_one(path: Path, run: _Run) -> _Outcome:
    """Prints what is to be said about one script."""
    from cornercue.coaching.problem import told
    from cornercue.script.faults import ClubFaults, ScriptFaults
    from cornercue.session.checking import check_script
    from cornercue.totals.summary import short

    try:
        report = check_script(path, run.pack, run.clubs)
    except ScriptFaults as faults:
        say_new(faults, run.told)
        return _Outcome(faulty=True, waiting=isinstance(faults, ClubFaults))
    run.reports[path] = report
    for line in told((str(path), problem) for problem in report.problems):
        say(line)
    say(f"{path}: {'no fault' if report.problems else 'fine'}, about {clock(report.seconds)}")
    say(f"  {short(report.summary)}")
    for text in report.lacking:
        say(f"{path}: “{text}” is not in the pack; another voice says it")
    hints = len(report.problems) - report.warnings
    return _Outcome(faulty=False, warnings=report.warnings, hints=hints, seconds=report.seconds)
