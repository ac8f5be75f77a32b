"""What somebody asks of a drill beside its script, and the request that comes of both."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from cornercue.ages import Ages
    from cornercue.script.model import Drill
    from cornercue.technique.sides import Stance
    from cornercue.technique.table import PaceName
    from cornercue.timing.setting import Request

SEEDS = 1_000_000
"""Seeds are drawn below this, so that people can type them."""


@dataclass(frozen=True, slots=True)
class Overrides:
    """What takes the place of what the script says; None leaves it to the script.

    `seed` is where random calls start, `pace` a word or seconds a technique, `voice` a name, the path of a voice file
    or of a recorded pack, `ages` those of the juniors who train; `brief` leaves out what is explained and taught. Where
    the script names neither seed nor voice, a seed is drawn and `auto` speaks.
    """

    seed: int | None = None
    level: int | None = None
    stance: Stance | None = None
    pace: PaceName | float | None = None
    voice: str | None = None
    ages: Ages | None = None
    brief: bool = False


AS_WRITTEN = Overrides()
"""Nothing but what the script says."""


def request_for(drill: Drill, asked: Overrides) -> Request:
    """What is asked of a drill: the overrides first, then the script; a new seed where neither names one."""
    from cornercue.timing.setting import Request

    seed = drill.seed if asked.seed is None else asked.seed
    return Request(
        seed=drawn_seed() if seed is None else seed,
        level=asked.level,
        stance=asked.stance,
        pace=asked.pace,
        voice=asked.voice or drill.voice or "auto",
        ages=asked.ages,
        brief=asked.brief,
    )


def seeded(asked: Overrides) -> Overrides:
    """The same with a seed, drawn where there is none: for what is laid out several times."""
    return asked if asked.seed is not None else replace(asked, seed=drawn_seed())


def drawn_seed() -> int:
    """A new seed, for a session that asked for none."""
    import random

    return random.SystemRandom().randrange(SEEDS)
