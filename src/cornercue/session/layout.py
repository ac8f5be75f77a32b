"""A drill laid out: with estimated lengths of speech, or in a voice."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import replace
from typing import TYPE_CHECKING

from cornercue.coaching.traversal import place_of
from cornercue.script.faults import Fault, ScriptFaults
from cornercue.script.model import Drill
from cornercue.session.overrides import AS_WRITTEN, Overrides, request_for
from cornercue.session.progress import Progress, unheard
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.faults import TimingFault
from cornercue.timing.setting import BeatSeconds, Request, SpokenSeconds, no_beat
from cornercue.timing.timeline import Timeline

if TYPE_CHECKING:
    from cornercue.voice.speech import Phrase, Speech

NO_VOICE = "none"
"""The voice of a timeline whose speech lengths were estimated."""


def estimated(name: str, drill: Drill, asked: Overrides = AS_WRITTEN) -> Timeline:
    """The timeline with estimated speech lengths, for a machine without a voice. Raises `ScriptFaults`.

    `name` is what the script is called in these, as everywhere here.
    """
    return laid_out(name, drill, replace(request_for(drill, asked), voice=NO_VOICE), estimated_seconds)


def voiced(name: str, drill: Drill, request: Request, speech: Speech, progress: Progress = unheard) -> Timeline:
    """The timeline in a voice. A first laying-out with estimated lengths tells which phrases to make.

    `progress` hears how many of them are made. Raises `ScriptFaults`, and what `speech` raises.
    """
    with suppress(ScriptFaults):  # What only just fits may fail by the estimate: the voice's own lengths decide.
        needed = phrases(laid_out(name, drill, request, estimated_seconds))
        speech.warm(needed, lambda done, total: progress(done / total))
    return laid_out(name, drill, request, speech.seconds, speech.beat)


def phrases(timeline: Timeline) -> Iterable[Phrase]:
    """What a timeline says, with the rate of each phrase, each once."""
    return dict.fromkeys((cue.text, cue.rate) for cue in timeline.spoken())


def laid_out(
    name: str, drill: Drill, request: Request, seconds: SpokenSeconds, beat: BeatSeconds = no_beat
) -> Timeline:
    """Expands a drill; a fault that only time shows is reported at its line like any other. Raises `ScriptFaults`."""
    with told_by_line(name, drill):
        return expand(drill, request, seconds, beat)


@contextmanager
def told_by_line(name: str, drill: Drill) -> Iterator[None]:
    """Makes a fault of timing one of the script, at its step."""
    try:
        yield
    except TimingFault as error:
        raise ScriptFaults([Fault(name, *place_of(drill, error.line), str(error))]) from None
