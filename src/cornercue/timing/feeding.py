"""What is said about feeding, put together from the rows of the table of feeds."""

from __future__ import annotations

from cornercue.feed.table import FEEDS, Audience
from cornercue.technique.sides import Side, other_side
from cornercue.timing.phrasebook import Phrasebook


def prompt(book: Phrasebook, whom: Audience, defence: str, side: Side | None) -> str:
    """What the feeder does for a defence to this side of the student's, in the feeder's own left and right.

    Partners face each other, so the student's left is the feeder's right. `side` is None for a duck.
    """
    feed, words = FEEDS[whom][defence], book.feeding
    parts = {"action": words["actions"][feed.action][1], "target": words["targets"][feed.target][1]}
    if side is None:
        return str(words["prompt_unsided"].format(**parts))
    return str(words["prompt"].format(side=book.sides[other_side(side)], **parts))


def to_feeder(book: Phrasebook, whom: Audience, defence: str, name: str) -> str:
    """The one sentence to a feeder before a defence is called for the first time: what, where, how near, when.

    `name` is what the script calls it.
    """
    feed, words = FEEDS[whom][defence], book.feeding
    return str(
        words["feeder"].format(
            defence=name,
            action=words["actions"][feed.action][0],
            target=words["targets"][feed.target][0],
            stop=words["stops"][feed.stop],
        )
    )


def to_student(book: Phrasebook, whom: Audience, defence: str, name: str) -> str:
    """The one sentence to a student before a defence is called for the first time: what the hands and feet do."""
    sentence = book.feeding["student"][FEEDS[whom][defence].holds][defence]
    return str(sentence.format(name=name[:1].upper() + name[1:]))


def places(book: Phrasebook, whom: Audience, defence: str) -> tuple[str, ...]:
    """Who is who, where the feeder stands, and how the student stands."""
    words, holds = book.feeding, FEEDS[whom][defence].holds
    return words["people"], words["stand"][holds], words["place"][holds], words["kneel"]
