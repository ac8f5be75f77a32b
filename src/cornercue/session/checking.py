"""A script checked: its faults, and what a head coach would see in it, as values."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from cornercue.coaching.library import Shelved, review_library
from cornercue.coaching.problem import Problem
from cornercue.coaching.rules import review
from cornercue.errors import InputFault
from cornercue.page.photos import pictures_of
from cornercue.script.club import NAME as CLUB_FILE
from cornercue.script.club import Clubs, root_of
from cornercue.script.faults import Fault, ScriptFaults
from cornercue.script.model import Drill
from cornercue.script.read import read_drill
from cornercue.session.layout import NO_VOICE, laid_out
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.setting import Request
from cornercue.totals.summary import Summary, summarised

if TYPE_CHECKING:
    from cornercue.voice.pack import Pack


@dataclass(frozen=True, slots=True)
class ScriptReport:
    """A script without a fault, as a drill: what the review finds, how long it lasts (s) about, what it asks for.

    `lacking` are the phrases that the recorded pack it is spoken with has not.
    """

    drill: Drill
    problems: tuple[Problem, ...]
    seconds: float
    summary: Summary
    lacking: tuple[str, ...] = ()

    @property
    def warnings(self) -> int:
        """How many of the problems are more than a hint."""
        return sum(problem.severity == "warning" for problem in self.problems)


def check_script(path: str | Path, pack: Pack | None = None, clubs: Clubs | None = None) -> ScriptReport:
    """Checks one script file; raises `ScriptFaults`, whose `faults` has every fault as a value.

    `pack` is the recorded pack whose gaps are listed, else the one that the script names; `clubs` keeps the clubs'
    files from script to script.
    """
    name, drill = str(path), read_drill(Path(path), clubs)
    pack = pack or _own_pack(name, drill)
    timeline = laid_out(name, drill, Request(seed=drill.seed or 0, voice=NO_VOICE), estimated_seconds)
    pictures_of(drill.photos, [timeline])  # so that a damaged one is told before the evening
    return ScriptReport(
        drill=drill,
        problems=review(drill, timeline),
        seconds=timeline.duration,
        summary=summarised(timeline),
        lacking=_lacking(name, drill, pack) if pack else (),
    )


def check_libraries(reports: Mapping[Path, ScriptReport], clubs: Clubs) -> tuple[tuple[str, Problem], ...]:
    """What is found in scripts as wholes, each with its file: those of one club are one, and so are all without."""
    shelves: dict[Path | None, list[Shelved]] = {}
    for path, report in reports.items():
        shelves.setdefault(root_of(path.parent), []).append(Shelved(str(path), report.drill))
    return tuple(
        found
        for root, scripts in shelves.items()
        for found in review_library(scripts, {str(root / CLUB_FILE): clubs.of(root)} if root else {})
    )


def faults_of(path: str | Path) -> tuple[Fault, ...]:
    """Every fault of a script file, in the order of its lines; none where it has none."""
    try:
        check_script(path)
    except ScriptFaults as found:
        return found.faults
    return ()


def _own_pack(name: str, drill: Drill) -> Pack | None:
    """The recorded pack that a script names as its voice."""
    if drill.voice is None or not Path(drill.voice).is_dir():
        return None
    from cornercue.voice.pack import Pack

    try:
        return Pack(Path(drill.voice))
    except InputFault as fault:
        raise ScriptFaults([Fault(name, 1, 1, f"`voice: {drill.voice}`: {fault}")]) from None


def _lacking(name: str, drill: Drill, pack: Pack) -> tuple[str, ...]:
    from cornercue.session.sheet_needs import lacking  # with the voices, which a check without a pack does not need

    return tuple(lacking(name, drill, pack))
