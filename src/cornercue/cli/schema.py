"""`cornercue schema`: the script language for editors."""

from __future__ import annotations

import click

from cornercue.printing import say_data


@click.command()
def schema() -> None:
    """Print the script language as a JSON Schema (2020-12), for an editor to complete and check scripts with.

    \b
    Example:
      cornercue schema > cornercue.schema.json
    """
    from cornercue.script.schema import script_schema

    say_data(script_schema(), indent=2)
