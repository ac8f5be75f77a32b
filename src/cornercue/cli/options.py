"""Options that several commands share: who plays, how fast, and where random calls start."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TYPE_CHECKING, TypeVar

import click

from cornercue.ages import OLDEST, YOUNGEST, ages_in
from cornercue.player.choose import output_names
from cornercue.script.amount import MAX_LEVEL
from cornercue.session.overrides import Overrides
from cornercue.voice.voices import MODEL, voice_names

if TYPE_CHECKING:
    from cornercue.ages import Ages
    from cornercue.technique.sides import Stance
    from cornercue.technique.table import PaceName

R = TypeVar("R")


def _pace(ctx: click.Context, param: click.Parameter, value: str | None) -> PaceName | float | None:
    """`learning`, `steady`, `sharp` or seconds per technique, as in a script."""
    from pydantic_core import PydanticCustomError

    from cornercue.script.fields import pace_of

    try:
        return None if value is None else pace_of(value)
    except PydanticCustomError as error:
        raise click.BadParameter(error.message()) from None


def _ages(ctx: click.Context, param: click.Parameter, value: str | None) -> Ages | None:
    """An age band of juniors, as in a script."""
    found = ages_in(value or "")
    if value is not None and found is None:
        raise click.BadParameter(f"write for example 7-9, from {YOUNGEST} to {OLDEST} years")
    return found


SCRIPT = click.argument("script", type=click.Path(), metavar="SCRIPT")
SCRIPT_OR_FOLDER = click.argument("script", type=click.Path(), metavar="SCRIPT")
"""The same, where a folder of scripts may stand, too."""

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
split = click.option("--split", is_flag=True, help="Stereo: the helper's prompts left, everything else right.")

VOICE_HELP = f"The voice that speaks: {', '.join(voice_names())}, or the path of a {MODEL} file or a recorded pack."

_OVERRIDES = (
    click.option("--level", type=click.IntRange(1, MAX_LEVEL), help="Play it at this level instead of the script's."),
    click.option("--stance", type=click.Choice(["orthodox", "southpaw"]), help="Stand this way throughout."),
    click.option("--pace", callback=_pace, metavar="PACE", help="learning, steady, sharp, or seconds a technique."),
    click.option("--ages", callback=_ages, metavar="AGES", help="How old the juniors are: 7-9. Times are theirs."),
    click.option("--brief", is_flag=True, help="For who did it before: no teaching, but the cautions stay."),
    click.option("--seed", type=click.IntRange(0, 999_999_999), help="Repeat the session that printed this number."),
    click.option("--voice", metavar="VOICE", help=f"{VOICE_HELP}  [default: the script's, else auto]"),
)


def overrides(command: Callable[..., R]) -> Callable[..., R]:
    """Gives a command level, stance, pace, ages, brief, seed and voice, as one argument `asked`."""

    @wraps(command)
    def with_asked(
        *,
        seed: int | None,
        level: int | None,
        stance: Stance | None,
        pace: PaceName | float | None,
        voice: str | None,
        ages: Ages | None,
        brief: bool,
        **others: object,
    ) -> R:
        asked = Overrides(seed=seed, level=level, stance=stance, pace=pace, voice=voice, ages=ages, brief=brief)
        return command(asked=asked, **others)

    for option in reversed(_OVERRIDES):
        with_asked = option(with_asked)
    return with_asked
