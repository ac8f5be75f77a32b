"""What is left of the problems found in a script once its silences are heard."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Collection, Iterable, Iterator

from cornercue.coaching.problem import Problem
from cornercue.coaching.traversal import own_inner
from cornercue.script.model import Drill
from cornercue.script.step import ScriptNode, StepNode

Holders = tuple[ScriptNode, ...]
"""What holds a step: the script, the repeats around it, itself."""


def unsilenced(drill: Drill, found: Iterable[Problem], rules: Collection[str]) -> tuple[Problem, ...]:
    """The problems that some rules have found, in the order of the lines, without what the script silences.

    A silence of one of these rules that silences nothing is a hint: it would hide what comes later.
    """
    holders = dict(_holders(drill.steps, (drill,)))
    holders[drill.at] = (drill,)
    places = sorted(holders)
    silences = ((holder.at, rule) for chain in holders.values() for holder in chain for rule in holder.silence or ())
    idle = {(at, rule): None for at, rule in silences if rule in rules}
    kept = []
    for problem in found:
        around = holders[places[max(bisect_right(places, problem.at) - 1, 0)]]  # of the last step that begins before it
        silencing = [(holder.at, problem.rule) for holder in around if problem.rule in (holder.silence or ())]
        for one in silencing:
            idle.pop(one, None)
        if not silencing:
            kept.append(problem)
    return tuple(sorted({*kept, *(_idle(*one) for one in idle)}))


def _holders(steps: Iterable[StepNode], above: Holders) -> Iterator[tuple[tuple[int, int], Holders]]:
    """The place of every step of the file, with what holds it."""
    for step in steps:
        yield step.at, (*above, step)
        yield from _holders(own_inner(step), (*above, step))


def _idle(at: tuple[int, int], rule: str) -> Problem:
    return Problem(at, "silence", "hint", f"`{rule}` is silenced here, but it finds nothing", "take the silence out")
