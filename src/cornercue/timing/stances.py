"""The stances of a step: with `stance: both` each is a part of its own."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from cornercue.technique.sides import Stance
from cornercue.timing.setting import Setting
from cornercue.timing.timeline import PartKind


def in_stances(
    setting: Setting, kind: PartKind, titles: Mapping[Stance, str], points: tuple[str, ...] = ()
) -> Iterator[tuple[Stance, Setting]]:
    """Each stance in turn, with the setting of its part; `titles` has what the step is called in each."""
    if len(titles) == 1:
        ((stance, title),) = titles.items()
        yield stance, setting.opened(title, kind, points)
        return
    whole = setting.opened(next(iter(titles.values())), kind, points)
    for number, (stance, title) in enumerate(titles.items(), start=1):
        yield stance, whole.divided("stance", number, len(titles), title, stance)
