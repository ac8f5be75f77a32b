"""`cornercue check --explain RULE`: the page of a rule."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

import click

from cornercue.printing import say

F = TypeVar("F", bound=Callable[..., object])


def _page(ctx: click.Context, param: click.Parameter, name: str | None) -> None:
    """Prints the page of the rule named and ends: no script is needed for it."""
    if name is None:
        return
    from cornercue.coaching.rules import PAGES, page, rule_named
    from cornercue.spelling import offer

    rule = rule_named(name)
    if rule is None:
        raise click.BadParameter(f"there is no rule `{name}`; {offer(name, [one.NAME for one in PAGES])}")
    say(page(rule))
    ctx.exit()


def explain(command: F) -> F:
    """The option `--explain RULE` for a command."""
    return click.option(
        "--explain",
        metavar="RULE",
        callback=_page,
        is_eager=True,
        expose_value=False,
        help="Print the page of one rule: why, where it comes from, examples, how to silence it.",
    )(command)
