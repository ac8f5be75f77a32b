"""The options of playing: how the sound comes out, what is seen, and where the drill begins."""

from __future__ import annotations

import shlex
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import wraps
from typing import Any

import click
from click.core import ParameterSource

from cornercue.cli.options import device

_OPTIONS = (
    click.option(
        "--from",
        "start",
        type=click.IntRange(min=1),
        default=1,
        metavar="PART",
        help="Start at this part of the drill, counted as `show` does.",
    ),
    click.option("--plain", is_flag=True, help="Print one line a cue, as into a pipe, instead of the full screen."),
    click.option("--screen", is_flag=True, help="Open the drill's page in the browser, full screen, instead."),
    click.option("-v", "--verbose", is_flag=True, help="Tell why this device was chosen."),
    device,
)
_NAMES = ("start", "plain", "screen", "verbose", "device")


@dataclass(frozen=True, slots=True)
class PlayOptions:
    """How a drill is to be played; `start` is a part, from 1."""

    start: int
    plain: bool
    screen: bool
    verbose: bool
    device: str


def playing(command: Callable[..., Any]) -> Callable[..., Any]:
    """Gives a command the options of playing, as one argument `wanted`."""

    @wraps(command)
    def with_wanted(**given: Any) -> Any:
        wanted = PlayOptions(*(given.pop(name) for name in _NAMES))
        if wanted.screen:
            refuse("has no meaning beside `--screen`: the page has its own buttons for it", set(_NAMES) - {"screen"})
        return command(wanted=wanted, **given)

    for option in reversed(_OPTIONS):
        with_wanted = option(with_wanted)
    return with_wanted


def refuse(why: str, names: Iterable[str] = _NAMES) -> None:
    """Raises `UsageError` where one of these options was given."""
    ctx = click.get_current_context()
    for param in ctx.command.params:
        if param.name in names and ctx.get_parameter_source(param.name) is ParameterSource.COMMANDLINE:
            raise click.UsageError(f"`{param.opts[-1]}` {why}.")


class Repeatable(click.Command):
    """A command that remembers how it was called."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        ctx.meta[__name__] = tuple(args)
        return super().parse_args(ctx, args)


def command_line(start: int, seed: int) -> str:
    """What to type to play the same session from a part: the command as it was called, but for these two."""
    ctx = click.get_current_context()
    words = ["cornercue", ctx.command.name or "", *_without(("--from", "--seed"), ctx.meta[__name__])]
    return f"{shlex.join(words)} --from {start} --seed {seed}"


def _without(names: tuple[str, ...], args: Iterable[str]) -> Iterator[str]:
    rest = iter(args)
    for arg in rest:
        if arg.partition("=")[0] not in names:
            yield arg
        elif "=" not in arg:
            next(rest, None)
