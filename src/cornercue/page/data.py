"""What the page knows, as plain values: each sound once, and for every draw its cues, spans and parts."""

from __future__ import annotations

import base64
import io
from collections.abc import Iterable, Sequence
from typing import Any, Literal

from cornercue.feed.table import FEEDS, Audience
from cornercue.page.ending import done
from cornercue.page.photos import shown_in
from cornercue.picture.feed_picture import name_of
from cornercue.script.model import Drill
from cornercue.sound import SAMPLE_RATE, Samples
from cornercue.technique.sides import Side
from cornercue.timing.feeding import prompt
from cornercue.timing.parts import finest
from cornercue.timing.phrasebook import Phrasebook
from cornercue.timing.timeline import Cue, Timeline
from cornercue.track.mix import ClipOf
from cornercue.track.tone_samples import tone_samples

SMALL = 0.9
"""libsndfile's compression, 0 to 1: about 38 kbit/s for speech, where its default takes 71 (measured). A recogniser
hears calls in noise as well as before it (38 of 38, both voices)."""

NAMES = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


def page_data(
    drill: Drill,
    draws: Sequence[Timeline],
    clip_of: ClipOf,
    *,
    book: Phrasebook,
    whom: Audience,
    helper: Literal["Feeder", "Holder"] | None,
    pictured: Sequence[str] = (),
) -> dict[str, Any]:
    """The page's data; `draws` are the same drill with different seeds, at most 26.

    `helper` is who helps the student, if somebody does. `pictured` are the words that have a picture.
    """
    keys = dict.fromkeys(key for draw in draws for cue in draw.cues if (key := _key(cue)))
    index = {key: at for at, key in enumerate(keys)}
    return {
        "title": drill.drill,
        "partner": helper is not None,
        "idle": "Hold nothing now" if helper == "Holder" else "No feed now",
        "sounds": [_sound(_samples(key, clip_of)) for key in keys],
        "parts": parts_of(draws[0]),
        "draws": [
            {
                "name": NAMES[at],
                "seed": draw.seed,
                "done": list(done(draw)),
                "duration": round(draw.duration, 4),
                "parts": [leaf.part.start for leaf in finest(draw.parts)],
                "spans": [{"start": s.start, "end": s.end, "kind": s.kind} for s in draw.spans],
                "cues": [
                    _cue(cue, index, book, whom) | ({} if photo is None else {"photo": photo})
                    for cue, photo in zip(draw.cues, shown_in(draw, pictured), strict=True)
                ],
            }
            for at, draw in enumerate(draws)
        ],
    }


def parts_of(draw: Timeline) -> list[dict[str, Any]]:
    """What the finest parts are called, which of several each is ("Round 2 of 3"), and what to look for in it.

    They are the same in every draw.
    """
    return [{"title": leaf.part.title, "of": leaf.of, "points": list(leaf.part.points)} for leaf in finest(draw.parts)]


def _key(cue: Cue) -> tuple[str, float] | None:
    """What sounds: a tone by its name, words with their rate."""
    return (cue.tone, 0.0) if cue.tone else (cue.text, cue.rate) if cue.text else None


def _samples(key: tuple[str, float], clip_of: ClipOf) -> Samples:
    name, rate = key
    return clip_of(name, rate).samples if rate else tone_samples(name)


def _sound(samples: Samples) -> dict[str, Any]:
    import soundfile

    target = io.BytesIO()
    soundfile.write(
        target, samples, SAMPLE_RATE, format="MP3", subtype="MPEG_LAYER_III",
        bitrate_mode="VARIABLE", compression_level=SMALL,
    )  # fmt: skip
    return {
        "mp3": base64.b64encode(target.getvalue()).decode("ascii"),
        "seconds": round(len(samples) / SAMPLE_RATE, 5),
    }


def _cue(cue: Cue, index: dict[tuple[str, float], int], book: Phrasebook, whom: Audience) -> dict[str, Any]:
    key = _key(cue)
    data: dict[str, Any] = {"start": round(cue.start, 4), "end": round(cue.end, 4), "kind": cue.kind}
    if key:
        data["sound"] = index[key]
    if cue.text:
        data["text"] = cue.text
    if cue.kind == "call" and any(move.hand or move.side for move in cue.moves):
        data["hands"] = cue.hands
    if cue.listener:
        data["listener"] = cue.listener
    if cue.drawn:
        data["drawn"] = True
    if cue.due is not None:
        data |= {"due": round(cue.due, 4), "feed": feed_of(cue, book, whom)}
        if fed := fed_in(cue, whom):
            data["picture"] = name_of(*fed)
    return data


def feeds_of(draws: Iterable[Timeline], whom: Audience) -> list[tuple[str, Side]]:
    """Every defence that is fed, with the student's side, as they come; one without sides is fed to the left."""
    return list(dict.fromkeys(fed for draw in draws for cue in draw.cues if (fed := fed_in(cue, whom))))


def fed_in(cue: Cue, whom: Audience) -> tuple[str, Side] | None:
    """The defence that a cue lets the feeder feed, if there is a picture of it."""
    if cue.due is None or not cue.moves or cue.moves[0].technique not in FEEDS[whom]:
        return None
    return cue.moves[0].technique, cue.moves[0].side or "left"


def feed_of(cue: Cue, book: Phrasebook, whom: Audience) -> str:
    """What the feeder does for a called defence, or the holder shows for a combination, in their own left and right."""
    if cue.shows is not None:
        return cue.shows
    if cue.listener == "feeder":
        return cue.text
    move = cue.moves[0]
    return prompt(book, whom, move.technique, move.side)


def unlike(draws: Iterable[Timeline]) -> list[Timeline]:
    """The draws that differ; one is left of a drill in which nothing is drawn."""
    kept: list[Timeline] = []
    for draw in draws:
        if all(draw.cues != other.cues for other in kept):
            kept.append(draw)
    return kept
