"""The blocks of a timeline, one a top-level step, each with a title that a person knows it by and its start."""

from __future__ import annotations

from collections.abc import Sequence

from cornercue.timing.phrasebook import Phrasebook, phrasebook
from cornercue.timing.timeline import Cue, Timeline

LONGEST = 60
"""Characters of a title: what a phone shows in a line or two. Own choice."""


def block_titles(timeline: Timeline) -> tuple[str, ...]:
    """A plain title for each block, in order: what is said first in it ("Jab, cross", "Rest, thirty seconds").

    A block of several rounds is named by the work in it, an included drill by its title. Texts of a script
    are passed on as they are: whoever shows them escapes them. Empty for a timeline without cues.
    """
    book = phrasebook()
    return tuple(_shortened(_title(timeline, block, book)) for block in range(len(block_starts(timeline))))


def block_starts(timeline: Timeline) -> tuple[float, ...]:
    """Where each block starts, in seconds: 0, then each block's first cue.

    Words that explain a block count as its own, also where they are said in the rest before it.
    """
    first: dict[int, float] = {}
    for cue in timeline.cues:
        first.setdefault(cue.block, cue.start)
    starts = [0.0] if first else []
    for block in range(1, 1 + max(first, default=0)):
        starts.append(max(starts[-1], first.get(block, starts[-1])))
    return tuple(starts)


def _title(timeline: Timeline, block: int, book: Phrasebook) -> str:
    labels = tuple(dict.fromkeys(span.label for span in timeline.spans if span.block == block and span.kind == "work"))
    cues = [cue for cue in timeline.cues if cue.block == block and cue.text]
    if block == 0:
        cues = _after_opening(cues, timeline, book)
    cues = [cue for cue in cues if cue.text not in (book.phrases["orthodox"], book.phrases["southpaw"])]
    opener = next((cue for cue in cues if cue.kind in ("say", "rest")), None)
    if opener is None or (labels and _first_round(opener.text, book)):
        return ", ".join(labels) or next((cue.text for cue in cues), timeline.drill)
    sentence = opener.text.partition(". ")[0].removesuffix(".")
    # A hold's sentence goes on to the first of its sides; the title is for both.
    return sentence.partition(", ")[0] if opener.moves else sentence


def _after_opening(cues: Sequence[Cue], timeline: Timeline, book: Phrasebook) -> list[Cue]:
    """The first block's own cues: without the cautions, the drill's title and what to fetch."""
    opening = book.say("opening", title=timeline.drill, level=book.number(timeline.level))
    at = next((n for n, cue in enumerate(cues) if cue.text == opening), None)
    if at is None:
        return list(cues)
    after = list(cues[at + 1 :])
    gear = str(book.phrases["gear"]).partition("{")[0]
    fetch = bool(after) and after[0].line == cues[at].line and after[0].text.startswith(gear)
    return after[1:] if fetch else after


def _first_round(text: str, book: Phrasebook) -> bool:
    """Whether these words announce the first round of a `repeat`, of however many."""
    before, after = book.say("round", n=book.number(1), rounds="\0").split("\0")
    return text.startswith(before) and text.endswith(after)


def _shortened(title: str) -> str:
    title = title[:1].upper() + title[1:]
    return title if len(title) <= LONGEST else title[: LONGEST - 1].rstrip() + "…"
