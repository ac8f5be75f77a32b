"""The line that says which session this is."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cornercue.durations import clock

if TYPE_CHECKING:
    from cornercue.timing.timeline import Timeline


def heading(timeline: Timeline) -> str:
    """One line that says which session this is: enough to repeat it."""
    return (
        f"{timeline.drill} · level {timeline.level} · {clock(timeline.duration)} · "
        f"seed {timeline.seed} · voice {timeline.voice}"
    )
