"""How hard a drill is, estimated in MET-minutes from published tables: METs times minutes, by what is done."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from cornercue.timing.timeline import Timeline
from cornercue.totals.activities import BY_NAME, HOLD, OTHER, STANDING, STRETCHING, TECHNIQUES, Activity, Table
from cornercue.totals.stretches import Stretch, stretches


@dataclass(frozen=True, slots=True)
class Share:
    """So many seconds of one activity, with the row of the table that holds for whoever does it."""

    name: str
    seconds: float
    code: str
    met: float
    table: Table

    @property
    def met_minutes(self) -> float:
        return self.met * self.seconds / 60


def effort(timeline: Timeline) -> tuple[Share, ...]:
    """The shares of a drill by activity, the longest first; together they are as long as it is."""
    seconds: dict[Activity, float] = {}
    work = stretches(timeline)
    for stretch in work:
        activity = activity_of(stretch)
        seconds[activity] = seconds.get(activity, 0.0) + stretch.seconds
    still = timeline.duration - sum(stretch.seconds for stretch in work)
    shares = [
        Share(activity.name, time, *activity.row_for(timeline.ages))
        for activity, time in {**seconds, STANDING: still}.items()
        if time > 0
    ]
    return tuple(sorted(shares, key=lambda share: -share.seconds))


def activity_of(stretch: Stretch) -> Activity:
    """The activity that comes nearest to a stretch of work."""
    name = stretch.label.lower()
    if stretch.kind == "hold":
        return STRETCHING if "stretch" in name else HOLD
    if stretch.kind != "exercise":
        return TECHNIQUES
    return next((activity for words, activity in BY_NAME if any(word in name for word in words)), OTHER)


def met_minutes(shares: Iterable[Share]) -> float:
    """The effort as one number."""
    return sum(share.met_minutes for share in shares)
