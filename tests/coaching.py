"""Scripts as the review sees them: read, laid out with estimated speech lengths, looked at."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path

from cornercue.coaching.problem import Problem
from cornercue.coaching.rules import review
from cornercue.script.model import Drill
from cornercue.script.read import parse_drill, read_drill
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.setting import Request
from cornercue.timing.timeline import Timeline


def timeline_of(drill: Drill) -> Timeline:
    """The timeline that `cornercue check` reviews."""
    return expand(drill, Request(seed=drill.seed or 0), estimated_seconds)


def found_by(rule: Callable[[Drill, Timeline], Iterable[Problem]], text: str) -> list[Problem]:
    """What one rule finds in a script."""
    drill = parse_drill(text)
    return list(rule(drill, timeline_of(drill)))


def reviewed(text: str) -> list[Problem]:
    """What the whole review finds in a script."""
    return found_by(review, text)


def reviewed_file(path: Path) -> list[Problem]:
    """What the whole review finds in a script file and what it includes."""
    drill = read_drill(path)
    return list(review(drill, timeline_of(drill)))
