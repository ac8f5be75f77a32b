"""The rules of the review, what a script silences of them, and their pages.

A rule is a module: its docstring is its rationale, `SOURCE` says where that comes from, and `FAILING` and `PASSING`
are scripts that it finds fault with (at the line marked `# here`) and does not.

A rule about single steps looks at the steps of one file: what is wrong in an included file is told when that file is
checked. A rule about the whole session sees through includes, and tells what it finds at the line of the include.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator
from typing import Protocol

from cornercue.coaching import alike, dose, fit, flow, guard, order, plain_words, rest, sides, strings
from cornercue.coaching.problem import Problem
from cornercue.coaching.traversal import own_inner
from cornercue.script.model import Drill
from cornercue.script.step import ScriptNode, StepNode
from cornercue.timing.timeline import Timeline

Holders = tuple[ScriptNode, ...]
"""What holds a step: the script, the repeats around it, itself."""


class Rule(Protocol):
    """What a rule's module has."""

    NAME: str
    SUMMARY: str
    SOURCE: str
    FAILING: str
    PASSING: str
    __doc__: str | None

    def review(self, drill: Drill, timeline: Timeline) -> Iterator[Problem]:
        """What it finds in a drill, laid out as its timeline."""


RULES: tuple[Rule, ...] = (flow, sides, fit, rest, dose, order, alike, guard, strings, plain_words)
"""Every rule, in the order of their table in docs/review.md."""


def review(drill: Drill, timeline: Timeline) -> tuple[Problem, ...]:
    """What all rules find, in the order of the lines, without what the script silences.

    A silence that silences nothing is a hint: it would hide what comes later.
    """
    holders = dict(_holders(drill.steps, (drill,)))
    holders[drill.at] = (drill,)
    idle = {(holder.at, rule): None for chain in holders.values() for holder in chain for rule in holder.silence or ()}
    places = sorted(holders)

    def around(at: tuple[int, int]) -> Holders:
        """What holds a place: that of the last step that begins there or before."""
        return holders[places[max(bisect_right(places, at) - 1, 0)]]

    kept = []
    for problem in (problem for rule in RULES for problem in rule.review(drill, timeline)):
        silencing = [
            (holder.at, problem.rule) for holder in around(problem.at) if problem.rule in (holder.silence or ())
        ]
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


def rule_named(name: str) -> Rule | None:
    """The rule of this name, however its words are joined."""
    wanted = " ".join(name.lower().replace("-", " ").replace("_", " ").split())
    return next((rule for rule in RULES if wanted == rule.NAME), None)


def page(rule: Rule) -> str:
    """A rule's page: why, where that comes from, a script that fails and one that passes, how to silence it."""
    silence = f"silence:\n  {rule.NAME}: why it does not apply here, in a few words\n"
    return "\n\n".join(
        (
            f"{rule.NAME}: {rule.SUMMARY}",
            (rule.__doc__ or "").strip(),
            f"Source: {rule.SOURCE}.",
            f"It finds fault with this script:\n\n{_indented(rule.FAILING.replace('  # here', ''))}",
            f"and not with this one:\n\n{_indented(rule.PASSING)}",
            f"To silence it, at the top of a script or in one step:\n\n{_indented(silence)}",
        )
    )


def _indented(text: str) -> str:
    return "\n".join(f"    {line}" for line in text.rstrip().splitlines())


def rules_table() -> str:
    """The rules as a table in Markdown, for docs/review.md."""
    rows = (f"| `{rule.NAME}` | {rule.SUMMARY} | {rule.SOURCE} |" for rule in RULES)
    return "\n".join(("| rule | what it looks for | source |", "|---|---|---|", *rows))
