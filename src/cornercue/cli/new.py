"""`cornercue new`: a commented script to start from."""

from __future__ import annotations

from pathlib import Path

import click

from cornercue.errors import InputFault


@click.command(no_args_is_help=True)
@click.argument("file", type=click.Path(), metavar="FILE")
def new(file: str) -> None:
    """Write a commented starter script. A file that is there already is left alone.

    \b
    Example:
      cornercue new my-drill.yaml
    """
    from importlib import resources

    text = resources.files("cornercue.cli").joinpath("starter.yaml").read_text(encoding="utf-8")
    write_new(Path(file), text)
    click.echo(f"{file}: edit it, then `cornercue check {file}` and `cornercue play {file}`")


def write_new(path: Path, text: str) -> None:
    """Write a script that is not there yet; raises `InputFault` where there is a file or it cannot be written."""
    try:
        with path.open("x", encoding="utf-8") as script:
            script.write(text)
    except FileExistsError:
        raise InputFault(f"{path} is there already; name another file") from None
    except OSError as error:
        raise InputFault(f"{path}: it cannot be written here: {error.strerror or error}") from None
