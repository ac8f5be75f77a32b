"""Options that several commands share: who plays, how fast, and where random calls start."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any, TypeVar

import click

from cornercue.player.choose import output_names
from cornercue.voice.voices import MODEL, voice_names

if TYPE_CHECKING:
    from cornercue.technique.table import PaceName

F = TypeVar("F", bound=Callable[..., Any])


def _pace(ctx: click.Context, param: click.Parameter, value: str | None) -> PaceName | float | None:
    """`learning`, `steady`, `sharp` or seconds per technique, as in a script."""
    from pydantic_core import PydanticCustomError

    from cornercue.script.fields import pace_of

    try:
        return None if value is None else pace_of(value)
    except PydanticCustomError as error:
        raise click.BadParameter(error.message()) from None


SCRIPT = click.argument("script", type=click.Path(), metavar="SCRIPT")

device = click.option(
    "--device",
    type=click.Choice(output_names()),
    default="auto",
    show_default=True,
    help="What makes the sound.",
)
captions = click.option(
    "--captions", is_flag=True, help="Write captions beside the sound file too: the same name, ending in .vtt."
)
split = click.option("--split", is_flag=True, help="Stereo: the feeder's prompts left, everything else right.")

VOICE_HELP = f"The voice that speaks: {', '.join(voice_names())}, or the path of a {MODEL} file or a recorded pack."

_OVERRIDES = (
    click.option("--level", type=click.IntRange(1, 20), help="Play it at this level instead of the script's."),
    click.option("--stance", type=click.Choice(["orthodox", "southpaw"]), help="Stand this way throughout."),
    click.option("--pace", callback=_pace, metavar="PACE", help="learning, steady, sharp, or seconds a technique."),
    click.option("--seed", type=click.IntRange(0, 999_999_999), help="Repeat the session that printed this number."),
    click.option("--voice", metavar="VOICE", help=f"{VOICE_HELP}  [default: the script's, else auto]"),
)


def overrides(command: F) -> F:
    """Adds level, stance, pace, seed and voice to a command, as keyword arguments."""
    for option in reversed(_OVERRIDES):
        command = option(command)
    return command


def drawn_seed() -> int:
    """A new seed, for a session that asked for none."""
    import random

    return random.SystemRandom().randrange(1_000_000)
