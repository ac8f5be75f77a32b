"""Where a passage of a track begins, and what is heard before it."""

from __future__ import annotations

from dataclasses import dataclass

from cornercue.player.view import Moments, State
from cornercue.sound import SAMPLE_RATE
from cornercue.timing.timeline import Timeline
from cornercue.track.mix import total_frames

PAUSE = 0.3
"""Seconds between what is said of a part and the count-in, where the rest between is left out."""

AT_ONCE = 0.01
"""Seconds of silence before the first sound, for a device that clicks as it starts."""


@dataclass(frozen=True, slots=True)
class Lead:
    """What is heard before the track goes on: so many `frames` of a timeline, from its frame `start` on."""

    moments: Moments
    frames: int
    state: State
    start: int = 0


@dataclass(frozen=True, slots=True)
class Place:
    """A frame of the track to go on from, after its leads."""

    frame: int
    leads: tuple[Lead, ...] = ()

    def locate(self, out: int) -> tuple[Lead | None, int]:
        """What sounds after `out` frames: a lead and the frame of its timeline, or None and the frame of the track."""
        for lead in self.leads:
            if out < lead.frames:
                return lead, lead.start + out
            out -= lead.frames
        return None, self.frame + out

    def after(self, out: int) -> Place:
        """The place to go on from after `out` frames. A lead that was broken off is heard from its beginning."""
        lead, at = self.locate(out)
        return Place(at) if lead is None else Place(self.frame, self.leads[self.leads.index(lead) :])


def opening(moments: Moments) -> Place:
    """Where a drill begins to sound: the silence before is for files, and nobody waits for it here."""
    first = moments.timeline.cues[0].start if moments.timeline.cues else 0.0
    return Place(round(max(first - AT_ONCE, 0.0) * SAMPLE_RATE))


def count_in_lead(line: Timeline) -> Lead:
    """A count-in to be heard first."""
    return Lead(Moments(line, ("",)), total_frames(line), "counting in")


def first_cues(moments: Moments, number: int) -> Lead:
    """The first `number` cues of a drill, to be heard wherever it begins: its cautions."""
    cues = moments.timeline.cues
    end = cues[number].start if number < len(cues) else moments.timeline.duration
    return Lead(moments, round(end * SAMPLE_RATE), "playing")


def counted_in(place: Place, moments: Moments, lead: Lead) -> Place:
    """The same place with a count-in before it. Words that it lies within are heard again from their beginning.

    Within the drill's own count-in, that one is heard again.
    """
    kept = tuple(one for one in place.leads if one.state != "counting in")
    work = moments.work_after(place.frame / SAMPLE_RATE)
    if work is not None and (own := round(work * SAMPLE_RATE) - lead.frames) < place.frame:
        return Place(own, kept)
    cue = moments.sounding(place.frame / SAMPLE_RATE)
    return Place(round(cue.start * SAMPLE_RATE) if cue else place.frame, (*kept, lead))


def part_place(moments: Moments, part: int, count_in: Lead) -> Place:
    """The start of a finest part (from 0). Where that is work at once, what is said of it in the rest before is heard
    first, and the student is counted in."""
    part = min(part, len(moments.starts) - 1)
    start = moments.starts[part]
    span = moments.span_at(start)
    leads = (*said_ahead(moments, part), count_in) if span and span.kind == "work" else ()
    return Place(round(start * SAMPLE_RATE), leads)


def said_ahead(moments: Moments, part: int) -> tuple[Lead, ...]:
    """What is said of a part (from 0) in the rest before it; nothing where it has words of its own."""
    cues = moments.said_ahead(part)
    if not cues:
        return ()
    first, last = round(cues[0].start * SAMPLE_RATE), round((cues[-1].end + PAUSE) * SAMPLE_RATE)
    return (Lead(moments, last - first, "playing", first),)
