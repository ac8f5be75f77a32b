"""The tables of docs/partner.md, made from the table of feeds, the sweep and the engine's own words."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from cornercue.feed.sweep import SUNK, Pair, clearance, heads, path, target
from cornercue.feed.table import AUDIENCES, FED, FEEDS, Audience
from cornercue.timing.feeding import to_feeder, to_student
from cornercue.timing.phrasebook import phrasebook

HEIGHTS = (1.1, 1.3, 1.5, 1.7, 1.9)
STICKS = (0.4, 0.6, 1.0)
"""Metres: heights of student and feeder, and stick in front of the hand."""


def pairs(audience: Audience) -> list[Pair]:
    """Everybody opposite everybody; adults from 1.5 m."""
    heights = [height for height in HEIGHTS if audience == "junior" or height >= 1.5]
    return [Pair(*three, audience) for three in itertools.product(heights, heights, STICKS)]


def nearest(audience: Audience, defence: str, reaction: str) -> tuple[float, Pair, str]:
    """The nearest that the tip of a feed to the left comes to the head of a student who does `reaction`: metres, who,
    and to which side the reaction goes."""
    feed = FEEDS[audience][defence]
    found = [
        (clearance(path(feed, "left", pair), heads(reaction, side, pair.student)), pair, side)
        for pair in pairs(audience)
        for side in (("left", "right") if reaction in SUNK else ("left",))
    ]
    return min(found, key=lambda one: one[0])


def words_table(audience: Audience) -> Iterator[str]:
    """What each of the two is told, a row a defence."""
    yield "| defence | the student is told | the feeder is told | height of the tip | from the body's axis |"
    yield "|---|---|---|---|---|"
    book = phrasebook()
    for defence, feed in FEEDS[audience].items():
        ahead = target(feed, "left", Pair(1.0, 1.0, 0.4, audience)).x if audience == "junior" else None
        far = f"{ahead:.2f}" if ahead else "a hand's breadth before the head or the arm"
        student, feeder = (told(book, audience, defence, defence) for told in (to_student, to_feeder))
        yield (
            f"| {defence} | {student} | {feeder} "
            f"| {feed.height:.2f} | {far} |"
        )


def sweep_table(audience: Audience) -> Iterator[str]:
    """The nearest that each feed comes to the head, in centimetres."""
    yield "| fed for | right defence, or none | wrong defence | the nearest of all |"
    yield "|---|---|---|---|"
    for defence in FEEDS[audience]:
        right = min(nearest(audience, defence, reaction)[0] for reaction in ("", defence))
        wrong = [(*nearest(audience, defence, reaction), reaction) for reaction in FED if reaction != defence]
        near, pair, side, reaction = min(wrong, key=lambda one: one[0])
        who = f"{reaction} {side}" if reaction in SUNK else reaction
        fed = f"{defence} left" if defence != "duck" else defence
        yield (
            f"| {fed} | {100 * right:.0f} cm | {100 * near:.0f} cm "
            f"| {who}, student {pair.student} m, feeder {pair.feeder} m, stick {pair.stick} m |"
        )


if __name__ == "__main__":
    for audience in AUDIENCES:
        print("\n".join((audience, *words_table(audience), "", *sweep_table(audience), "")))
