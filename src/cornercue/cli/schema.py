"""`cornercue schema`: the script language for editors."""

from __future__ import annotations

from pathlib import Path

import click

from cornercue.printing import say_data


@click.command()
@click.argument("folder", type=click.Path(path_type=Path), required=False, metavar="[FOLDER]")
def schema(folder: Path | None) -> None:
    """Print the script language as a JSON Schema (2020-12), for an editor to complete and check scripts with.

    With a FOLDER, the words of the club's file that holds there are known, too: club.yaml in it or above.

    \b
    Example:
      cornercue schema > cornercue.schema.json
      cornercue schema . > cornercue.schema.json
    """
    from cornercue.script.club import vocabulary_of
    from cornercue.script.schema import script_schema
    from cornercue.technique.vocabulary import USUAL

    say_data(script_schema(vocabulary_of(folder) if folder else USUAL), indent=2)
