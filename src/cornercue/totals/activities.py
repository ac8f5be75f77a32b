"""How much energy activities take, by published tables for adults and for juniors, and which row stands for what.

*Adults*: METs, of which one is the rate at which a body uses energy at rest, of the 2024 Adult Compendium of Physical
Activities (Herrmann et al., Journal of Sport and Health Science 13, 2024, 6-12: adults of 19 to 59), and of the 2011
Compendium (Ainsworth et al., Medicine & Science in Sports & Exercise 43, 2011, 1575-1581) where `table` says so. They
were taken from copies of these tables, not from the papers themselves.

*Juniors*: youth METs, multiples of the basal metabolic rate at an age, of the Youth Compendium of Physical Activities
(Butte et al., Medicine & Science in Sports & Exercise 50, 2018, 246-256; abstract read): smoothed values for 6-9,
10-12, 13-15 and 16-18 years. They were taken from copies in others' public code (jump rope from three that agree,
jogging from two, the other rows from one), since the table itself was not at hand. No row for martial arts was in them,
so that techniques count as calisthenics, which is rather too little.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from cornercue.ages import Ages

Table = Literal["2024", "2011", "youth 2018"]

YOUTH_GROUPS = (9, 12, 15)
"""The oldest of each age group of the Youth Compendium but the last."""


@dataclass(frozen=True, slots=True)
class Youth:
    """A row of the Youth Compendium: its code and its youth METs at 6-9, 10-12, 13-15 and 16-18 years."""

    code: str
    mets: tuple[float, float, float, float]


CALISTHENICS = Youth("30200X", (4.0, 4.1, 4.1, 4.2))
PUSH_UPS = Youth("30300X", (3.9, 4.0, 4.0, 4.1))
JUMP_ROPE = Youth("10260X", (6.9, 7.1, 7.2, 7.4))
JOGGING = Youth("60140X", (6.8, 7.4, 7.9, 8.4))
NO_ROW = "none"
AT_EASE = Youth(NO_ROW, (1.4, 1.4, 1.4, 1.4))
"""No row for standing or stretching was in the copies read: doing homework takes as much at 16 to 18 years in one."""


@dataclass(frozen=True, slots=True)
class Activity:
    """What is done, with a name of ours: the row of an adults' table with its METs, and the one for juniors."""

    code: str
    met: float
    table: Table
    name: str
    youth: Youth

    def row_for(self, ages: Ages | None) -> tuple[str, float, Table]:
        """Code, METs and table for the youngest of an age band, or for an adult where there is none."""
        if ages is None:
            return self.code, self.met, self.table
        group = sum(ages.youngest > oldest for oldest in YOUTH_GROUPS)
        return self.youth.code, self.youth.mets[group], "youth 2018"


TECHNIQUES = Activity("15425", 5.3, "2024", "techniques", CALISTHENICS)
"""Martial arts, different types, slower pace, novice performers, practice. For all that is called: calls leave pauses
that the rows of boxing and of martial arts at a moderate pace (9.3, 10.3) do not have."""
STRETCHING = Activity("02101", 2.3, "2024", "stretching", AT_EASE)
"""Stretching, mild: exercises and what is held."""
HOLD = Activity("02024", 2.8, "2024", "holds", CALISTHENICS)
"""Calisthenics (curl-ups, abdominal crunches, plank), light effort."""
STANDING = Activity("07040", 1.3, "2011", "rests and words", AT_EASE)
"""Standing quietly."""
OTHER = Activity("02030", 3.5, "2024", "other exercises", CALISTHENICS)
"""Calisthenics, light or moderate effort, general: an exercise whose name tells nothing else."""

BY_NAME: tuple[tuple[tuple[str, ...], Activity], ...] = (
    # Shadow boxing as an exercise, and punches or kicks in the air: as above.
    (("boxing", "punch", "kick", "strike"), TECHNIQUES),
    # Rope jumping, slow pace, under 100 skips a minute.
    (("skipping", "rope"), Activity("15552", 8.3, "2024", "skipping", JUMP_ROPE)),
    # Calisthenics, vigorous effort.
    (("jumping jack", "star jump", "burpee"), Activity("02020", 7.5, "2024", "jumps", JUMP_ROPE)),
    # Calisthenics (push-ups, sit-ups, pull-ups, lunges), moderate effort.
    (
        ("push-up", "push up", "press-up", "sit-up", "sit up", "pull-up", "lunge", "squat"),
        Activity("02022", 3.8, "2024", "push-ups, sit-ups and their like", PUSH_UPS),
    ),
    # Jogging in place.
    (("jog", "running", "run on the spot"), Activity("12025", 4.8, "2024", "jogging", JOGGING)),
    (("stretch", "breath"), STRETCHING),
)
"""Exercises by a word in their name, the first that fits. The choice of words, and of rows for them, is our own."""
