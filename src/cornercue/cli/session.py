"""From a script's path to a timeline and the voice that speaks it: what `show`, `render` and `play` share."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from cornercue.cli.options import drawn_seed
from cornercue.cli.progress import bar
from cornercue.errors import MachineLacks
from cornercue.script.faults import Fault, ScriptFaults

if TYPE_CHECKING:
    from cornercue.script.model import Drill
    from cornercue.timing.setting import Request, Seconds
    from cornercue.timing.timeline import Timeline
    from cornercue.voice.speech import Speech

NO_VOICE = "none"
"""The voice of a timeline whose speech lengths were estimated."""


@dataclass(frozen=True)
class Session:
    """One drill, ready to sound."""

    timeline: Timeline
    speech: Speech


def read(script: str, asked: dict[str, Any]) -> tuple[Drill, Request]:
    """The drill of a file and what the command line asks of it."""
    from cornercue.script.read import read_drill
    from cornercue.timing.setting import Request

    drill = read_drill(Path(script))
    seed = next((seed for seed in (asked["seed"], drill.seed) if seed is not None), None)
    return drill, Request(
        seed=drawn_seed() if seed is None else seed,
        level=asked["level"],
        stance=asked["stance"],
        pace=asked["pace"],
        voice=asked["voice"] or drill.voice or "auto",
    )


@contextmanager
def session(script: str, asked: dict[str, Any]) -> Iterator[Session]:
    """Reads the script, warms the voice and lays the drill out with the voice's own lengths."""
    from dataclasses import replace

    from cornercue.voice.speech import open_voice

    drill, request = read(script, asked)
    with open_voice(request.voice) as speech:
        request = replace(request, voice=speech.name)
        timeline = voiced(script, drill, request, speech)
        tell_advice(script, timeline)
        yield Session(timeline, speech)


def voiced(script: str, drill: Drill, request: Request, speech: Speech) -> Timeline:
    """The timeline in a voice. A first laying-out with estimated lengths tells which phrases to make."""
    from cornercue.timing.estimate import estimated_seconds

    draft = laid_out(script, drill, request, estimated_seconds)
    with bar("Making the voice") as progress:
        speech.warm(phrases(draft), lambda done, total: progress(done / total))
    return laid_out(script, drill, request, speech.seconds)


def phrases(timeline: Timeline) -> Iterable[tuple[str, float]]:
    """What a timeline says, with the rate of each phrase, each once."""
    return dict.fromkeys((cue.text, cue.rate) for cue in timeline.spoken())


def laid_out(script: str, drill: Drill, request: Request, seconds: Seconds) -> Timeline:
    """Expands a drill; a fault that only time shows is reported at its line like any other."""
    from cornercue.timing.expand import TooLong, expand

    try:
        return expand(drill, request, seconds)
    except TooLong as error:
        raise ScriptFaults([Fault(script, error.line, 1, str(error))]) from None


def estimated(script: str, asked: dict[str, Any]) -> Timeline:
    """The timeline with estimated speech lengths, for a machine without a voice."""
    from dataclasses import replace

    from cornercue.timing.estimate import estimated_seconds

    drill, request = read(script, asked)
    return laid_out(script, drill, replace(request, voice=NO_VOICE), estimated_seconds)


def timeline_for_showing(script: str, asked: dict[str, Any]) -> Timeline:
    """The timeline in the voice asked for, or with estimated lengths (and a word about it) where there is none."""
    if asked["voice"] == NO_VOICE:
        return estimated(script, asked)
    try:
        with session(script, asked) as ready:
            return ready.timeline
    except MachineLacks as lack:
        click.echo(f"{lack}\nThe times below are estimated.", err=True)
        return estimated(script, asked)


def tell_advice(script: str, timeline: Timeline) -> None:
    """Prints what the engine had to change, where the instructor sees it and a pipe does not."""
    for advice in timeline.advice:
        click.echo(f"{script}:{advice.line}: {advice.text}", err=True)
