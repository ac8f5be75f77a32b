"""The command `cornercue`: reads the arguments, calls one function, prints. Slow imports wait in the commands."""

from __future__ import annotations

import io
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import click

from cornercue.cli.check import check
from cornercue.cli.new import new
from cornercue.cli.page import page
from cornercue.cli.partner import partner
from cornercue.cli.play import play
from cornercue.cli.render import render
from cornercue.cli.schema import schema
from cornercue.cli.show import show
from cornercue.cli.techniques import techniques
from cornercue.cli.voice import voice
from cornercue.errors import CornercueError
from cornercue.printing import end_of, say


class _Commands(click.Group):
    """Lists the commands in the order of a first evening, and explains every error of ours in one place."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(self.commands)

    def make_context(self, *arguments: Any, **more: Any) -> click.Context:
        with _explained():
            return super().make_context(*arguments, **more)

    def invoke(self, ctx: click.Context) -> Any:
        with _explained():
            return super().invoke(ctx)


@contextmanager
def _explained() -> Iterator[None]:
    """Ends the program with a sentence and an exit code for an error of ours, or one of the system's that is left."""
    try:
        yield
    except CornercueError as error:
        say(error, err=True)
        sys.exit(error.exit_code)
    except OSError as fault:  # of the help, which click prints, or of what no sentence was written for
        sys.exit(end_of(fault))


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="cornercue")
def commands() -> None:
    """Calls your drill while your hands are busy.

    A drill script becomes a spoken, exactly timed cue track.

    \b
    Example:
      cornercue new evening.yaml && cornercue play evening.yaml
    """


for _command in (new, check, show, play, render, page, partner, voice, techniques, schema):
    commands.add_command(_command)


def main() -> None:
    """Run the command line; exit code 130 where somebody pressed Ctrl-C."""
    if isinstance(sys.stdout, io.TextIOWrapper):
        sys.stdout.reconfigure(errors="replace")  # for the help, which click prints
    try:
        sys.exit(commands(standalone_mode=False))
    except click.exceptions.Exit as end:
        sys.exit(end.exit_code)
    except click.ClickException as error:
        told = io.StringIO()
        error.show(told)
        say(told.getvalue(), err=True, end="")
        sys.exit(error.exit_code)
    except (click.Abort, KeyboardInterrupt):
        say("Stopped.", err=True)
        sys.exit(130)
