"""`cornercue new`: a commented script to start from."""

from __future__ import annotations

from pathlib import Path

import click

from cornercue.printing import say


@click.command(no_args_is_help=True)
@click.argument("file", type=click.Path(), metavar="FILE")
def new(file: str) -> None:
    """Write a commented starter script. A file that is there already is left alone.

    \b
    Example:
      cornercue new my-drill.yaml
    """
    from importlib import resources

    from cornercue.whole_files import write_new

    text = resources.files("cornercue.cli").joinpath("starter.yaml").read_text(encoding="utf-8")
    write_new(Path(file), text)
    say(f"{file}: edit it, then `cornercue check {file}` and `cornercue play {file}`")
