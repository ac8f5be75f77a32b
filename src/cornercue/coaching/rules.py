"""The rules of the review, what a script silences of them, and their pages.

A rule is a module: its docstring is its rationale, `SOURCE` says where that comes from, and `FAILING` and `PASSING`
are scripts that it finds fault with (at the line marked `# here`) and does not.

A rule about single steps looks at the steps of one file: what is wrong in an included file is told when that file is
checked. A rule about the whole session sees through includes, and tells what it finds at the line of the include.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Protocol

from cornercue.coaching import alike, dose, fit, flow, guard, library, order, plain_words, rest, sides, strings
from cornercue.coaching.problem import Problem
from cornercue.coaching.unsilenced import unsilenced
from cornercue.script.model import Drill
from cornercue.timing.timeline import Timeline


class RulePage(Protocol):
    """What a rule's module says about itself."""

    NAME: str
    SUMMARY: str
    SOURCE: str
    FAILING: str
    PASSING: str
    __doc__: str | None


class Rule(RulePage, Protocol):
    """What the module of a rule about one script has."""

    def review(self, drill: Drill, timeline: Timeline) -> Iterator[Problem]:
        """What it finds in a drill, laid out as its timeline."""


RULES: tuple[Rule, ...] = (flow, sides, fit, rest, dose, order, alike, guard, strings, plain_words)
"""Every rule about a script, in the order of their table in docs/review.md."""

PAGES: tuple[RulePage, ...] = (*RULES, library)
"""All that has a page: those, and the one about a library as a whole."""


def review(drill: Drill, timeline: Timeline) -> tuple[Problem, ...]:
    """What all rules find, in the order of the lines, without what the script silences."""
    found = (problem for rule in RULES for problem in rule.review(drill, timeline))
    return unsilenced(drill, found, [rule.NAME for rule in RULES])


def rule_named(name: str) -> RulePage | None:
    """The rule of this name, however its words are joined."""
    wanted = " ".join(name.lower().replace("-", " ").replace("_", " ").split())
    return next((rule for rule in PAGES if wanted == rule.NAME), None)


def page(rule: RulePage) -> str:
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
    rows = (f"| `{rule.NAME}` | {rule.SUMMARY} | {rule.SOURCE} |" for rule in PAGES)
    return "\n".join(("| rule | what it looks for | source |", "|---|---|---|", *rows))
