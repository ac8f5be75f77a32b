"""The review behind `cornercue check`: its findings as lines, and the page of a rule."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from cornercue.script.model import Drill
    from cornercue.timing.timeline import Timeline


def reviewed(path: str, drill: Drill, timeline: Timeline) -> tuple[int, int]:
    """Prints what the review finds in a drill; how many warnings and how many hints there were."""
    from cornercue.coaching.rules import review

    problems = review(drill, timeline)
    for problem in problems:
        click.echo(problem.told(path))
    warnings = sum(problem.severity == "warning" for problem in problems)
    return warnings, len(problems) - warnings


def _page(ctx: click.Context, param: click.Parameter, name: str | None) -> None:
    """Prints the page of the rule named and ends: no script is needed for it."""
    if name is None:
        return
    from cornercue.coaching.rules import RULES, page, rule_named
    from cornercue.spelling import offer

    rule = rule_named(name)
    if rule is None:
        raise click.BadParameter(f"there is no rule `{name}`; {offer(name, [one.NAME for one in RULES])}")
    click.echo(page(rule))
    ctx.exit()


def explain(command: Any) -> Any:
    """The option `--explain RULE` for a command."""
    return click.option(
        "--explain",
        metavar="RULE",
        callback=_page,
        is_eager=True,
        expose_value=False,
        help="Print the page of one rule: why, where it comes from, examples, how to silence it.",
    )(command)
