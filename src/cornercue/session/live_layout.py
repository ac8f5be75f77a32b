"""A drill in the voice asked for, laid out and spoken while its beginning already sounds."""

from __future__ import annotations

from collections.abc import Generator, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace

from cornercue.player.timeline_thread import GrowingTimeline
from cornercue.script.faults import ScriptFaults
from cornercue.script.model import Drill
from cornercue.session.layout import laid_out, phrases, told_by_line
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import counted_in, outline, unfold
from cornercue.timing.parts import finest
from cornercue.timing.setting import Request, SpokenSeconds
from cornercue.timing.timeline import Timeline
from cornercue.voice.speech import Phrase, Speech
from cornercue.voice.voices import open_voice

BATCH = 2
"""Phrases made at once while the first ones already sound: few, so that these come soon."""


@dataclass(frozen=True, slots=True)
class Unfolding:
    """What is known of a session by now; `titles` are those of all its finest parts."""

    titles: tuple[str, ...]
    coming: GrowingTimeline
    speech: Speech
    _count_in: list[Timeline]

    def count_in(self) -> Timeline:
        """A count-in alone; it is made soon after the first beginning of the drill."""
        self.coming.when(lambda line: bool(self._count_in))
        return self._count_in[0]


@contextmanager
def unfolding(script: str, drill: Drill, request: Request) -> Iterator[Unfolding]:
    """Lays the drill out on a thread of its own until the end of the `with`. `script` names it in messages."""
    needed = _expected(script, drill, request)
    titles = parts_of(script, drill, request)
    count_in: list[Timeline] = []
    with open_voice(request.voice, said=drill.said_aloud) as speech:
        named = replace(request, voice=speech.name)
        coming = GrowingTimeline(_beginnings(script, drill, named, speech=speech, needed=needed, count_in=count_in))
        try:
            yield Unfolding(titles, coming, speech, count_in)
        finally:
            speech.close()  # first, so that nobody waits for a phrase that is being made
            coming.close()


def parts_of(script: str, drill: Drill, request: Request) -> tuple[str, ...]:
    """What each of the finest parts is called, before anything is laid out."""
    with told_by_line(script, drill):
        return tuple(leaf.told for leaf in finest(outline(drill, request)))


def _expected(script: str, drill: Drill, request: Request) -> list[Phrase]:
    """By the estimate, what will be said, in order."""
    with suppress(ScriptFaults):  # What only just fits may fail by the estimate: the voice's own lengths decide.
        return [*phrases(laid_out(script, drill, request, estimated_seconds))]
    return []


def _beginnings(
    script: str, drill: Drill, request: Request, *, speech: Speech, needed: list[Phrase], count_in: list[Timeline]
) -> Generator[Timeline, None, None]:
    seconds = _made_in_order(speech, needed)
    with told_by_line(script, drill):
        for beginning in unfold(drill, request, seconds, speech.beat):
            yield beginning
            if not count_in:  # nobody needs it before something has sounded
                count_in.append(counted_in(drill, request, seconds, speech.beat))


def _made_in_order(speech: Speech, needed: list[Phrase]) -> SpokenSeconds:
    """The voice's lengths. A phrase that is not made yet is made together with those that are needed next."""
    places = {phrase: at for at, phrase in enumerate(needed)}

    def seconds(text: str, rate: float) -> float:
        at = places.get((text, rate))
        if at is not None:
            batch = [phrase for phrase in needed[at : at + BATCH] if phrase in places]
            speech.warm(batch)
            for phrase in batch:
                places.pop(phrase)
        return speech.seconds(text, rate)

    return seconds
