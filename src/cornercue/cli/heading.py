"""The line by which a session is known."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cornercue.durations import clock

if TYPE_CHECKING:
    from cornercue.timing.timeline import Timeline


def heading(timeline: Timeline) -> str:
    """One line that says which session this is: enough to repeat it."""
    return (
        f"{timeline.drill} · {timeline.level_words} · {clock(timeline.duration)} · "
        f"seed {timeline.seed} · voice {timeline.voice}"
    )
