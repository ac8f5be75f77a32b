"""How hard a drill is for an adult, estimated in MET-minutes from a published table.

One MET is the rate at which a body uses energy at rest; MET-minutes are METs times minutes. The values are those of
the 2024 Adult Compendium of Physical Activities (Herrmann et al., Journal of Sport and Health Science 13, 2024, 6-12:
adults of 19 to 59), and of the 2011 Compendium (Ainsworth et al., Medicine & Science in Sports & Exercise 43, 2011,
1575-1581) where `table` says so. They were taken from copies of these tables, not from the papers themselves.

There are none for children here: their energy at rest is another, and these tables are for adults. A table for 6 to
18 years (Butte et al., Medicine & Science in Sports & Exercise 50, 2018, 246-256; abstract) goes by age, which a script
does not tell.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from cornercue.timing.timeline import Timeline
from cornercue.totals.stretches import Stretch, stretches


@dataclass(frozen=True, slots=True)
class Activity:
    """A row of the Compendium: its code, its METs, the edition, and a name of ours for what it stands for."""

    code: str
    met: float
    table: Literal["2024", "2011"]
    name: str


TECHNIQUES = Activity("15425", 5.3, "2024", "techniques")
"""Martial arts, different types, slower pace, novice performers, practice. For all that is called: calls leave pauses
that the rows of boxing and of martial arts at a moderate pace (9.3, 10.3) do not have."""
HOLD = Activity("02024", 2.8, "2024", "holds")
"""Calisthenics (curl-ups, abdominal crunches, plank), light effort."""
STANDING = Activity("07040", 1.3, "2011", "rests and words")
"""Standing quietly."""
OTHER = Activity("02030", 3.5, "2024", "other exercises")
"""Calisthenics, light or moderate effort, general: an exercise whose name tells nothing else."""

BY_NAME: tuple[tuple[tuple[str, ...], Activity], ...] = (
    # Shadow boxing as an exercise, and punches or kicks in the air: as above.
    (("boxing", "punch", "kick", "strike"), TECHNIQUES),
    # Rope jumping, slow pace, under 100 skips a minute.
    (("skipping", "rope"), Activity("15552", 8.3, "2024", "skipping")),
    # Calisthenics, vigorous effort.
    (("jumping jack", "star jump", "burpee"), Activity("02020", 7.5, "2024", "jumps")),
    # Calisthenics (push-ups, sit-ups, pull-ups, lunges), moderate effort.
    (
        ("push-up", "push up", "press-up", "sit-up", "sit up", "pull-up", "lunge", "squat"),
        Activity("02022", 3.8, "2024", "push-ups, sit-ups and their like"),
    ),
    # Jogging in place.
    (("jog", "running", "run on the spot"), Activity("12025", 4.8, "2024", "jogging")),
    # Stretching, mild.
    (("stretch", "breath"), Activity("02101", 2.3, "2024", "stretching")),
)
"""Exercises by a word in their name, the first that fits. The choice of words is our own."""


@dataclass(frozen=True, slots=True)
class Share:
    """So many seconds of one activity."""

    activity: Activity
    seconds: float

    @property
    def met_minutes(self) -> float:
        return self.activity.met * self.seconds / 60


def effort(timeline: Timeline) -> tuple[Share, ...]:
    """The shares of a drill by activity, the longest first; together they are as long as it is."""
    seconds: dict[Activity, float] = {}
    work = stretches(timeline)
    for stretch in work:
        activity = activity_of(stretch)
        seconds[activity] = seconds.get(activity, 0.0) + stretch.seconds
    still = timeline.duration - sum(stretch.seconds for stretch in work)
    shares = [Share(activity, time) for activity, time in {**seconds, STANDING: still}.items() if time > 0]
    return tuple(sorted(shares, key=lambda share: -share.seconds))


def activity_of(stretch: Stretch) -> Activity:
    """The row of the table that comes nearest to a stretch of work."""
    if stretch.kind != "exercise":
        return HOLD if stretch.kind == "hold" else TECHNIQUES
    name = stretch.label.lower()
    return next((activity for words, activity in BY_NAME if any(word in name for word in words)), OTHER)


def met_minutes(shares: Iterable[Share]) -> float:
    """The effort as one number."""
    return sum(share.met_minutes for share in shares)
