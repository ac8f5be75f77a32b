"""From a script's path to a timeline and the voice that speaks it: what the commands share."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager, nullcontext, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from cornercue.cli.heading import heading
from cornercue.cli.options import drawn_seed
from cornercue.cli.progress import bar
from cornercue.errors import MachineLacks
from cornercue.script.faults import Fault, ScriptFaults
from cornercue.totals.tally import sentences, tally

if TYPE_CHECKING:
    from cornercue.script.model import Drill
    from cornercue.timing.setting import Beats, Request, Seconds
    from cornercue.timing.timeline import Timeline
    from cornercue.track.mix import Channels
    from cornercue.voice.speech import Speech

NO_VOICE = "none"
"""The voice of a timeline whose speech lengths were estimated."""


@dataclass(frozen=True)
class Session:
    """One drill, ready to sound."""

    timeline: Timeline
    speech: Speech
    cautions: tuple[str, ...]

    def render(self, output: Path, channels: Channels = "mono", captions: bool = False) -> None:
        """Writes the track, saying first what must be known first and last what it asks of people."""
        from cornercue.track.captions import captioned
        from cornercue.track.sound_files import write

        for caution in self.cautions:
            click.echo(caution)
        beside = captioned(output, self.timeline) if captions else nullcontext()
        with beside as written, bar("Writing the track") as progress:
            write(output, self.timeline, self.speech.clip, progress, channels)
        click.echo(f"{output}: {heading(self.timeline)}")
        for line in sentences(tally(self.timeline)):
            click.echo(line)
        if written:
            click.echo(f"{written}: its captions")


def read(script: str) -> Drill:
    """The drill of a file."""
    from cornercue.script.read import read_drill

    return read_drill(Path(script))


def request_for(drill: Drill, asked: dict[str, Any]) -> Request:
    """What is asked of a drill: the command line first, then the script; a new seed where neither names one."""
    from cornercue.timing.setting import Request

    seed = next((seed for seed in (asked["seed"], drill.seed) if seed is not None), None)
    return Request(
        seed=drawn_seed() if seed is None else seed,
        level=asked["level"],
        stance=asked["stance"],
        pace=asked["pace"],
        voice=asked["voice"] or drill.voice or "auto",
    )


@contextmanager
def session(script: str, drill: Drill, asked: dict[str, Any]) -> Iterator[Session]:
    """Warms the voice and lays the drill out with the voice's own lengths. `script` names it in messages."""
    from dataclasses import replace

    from cornercue.timing.phrasebook import phrasebook
    from cornercue.timing.safety import written_cautions
    from cornercue.voice.voices import open_voice

    request = request_for(drill, asked)
    with open_voice(request.voice) as speech:
        request = replace(request, voice=speech.name)
        timeline = voiced(script, drill, request, speech)
        for advice in timeline.advice:
            click.echo(f"{script}:{advice.line}: {advice.told}", err=True)
        yield Session(timeline, speech, written_cautions(drill, phrasebook()))


def voiced(script: str, drill: Drill, request: Request, speech: Speech) -> Timeline:
    """The timeline in a voice. A first laying-out with estimated lengths tells which phrases to make."""
    from cornercue.timing.estimate import estimated_seconds

    # What only just fits may fail by the estimate: the voice's own lengths decide.
    with suppress(ScriptFaults), bar("Making the voice") as progress:
        needed = phrases(laid_out(script, drill, request, estimated_seconds))
        speech.warm(needed, lambda done, total: progress(done / total))
    return laid_out(script, drill, request, speech.seconds, speech.beat)


def phrases(timeline: Timeline) -> Iterable[tuple[str, float]]:
    """What a timeline says, with the rate of each phrase, each once."""
    return dict.fromkeys((cue.text, cue.rate) for cue in timeline.spoken())


def laid_out(script: str, drill: Drill, request: Request, seconds: Seconds, beat: Beats | None = None) -> Timeline:
    """Expands a drill; a fault that only time shows is reported at its line like any other."""
    from cornercue.timing.expand import expand
    from cornercue.timing.setting import no_beat

    with told_by_line(script):
        return expand(drill, request, seconds, beat or no_beat)


@contextmanager
def told_by_line(script: str) -> Iterator[None]:
    """Makes a fault of timing one of the script, at its line."""
    from cornercue.timing.faults import TimingFault

    try:
        yield
    except TimingFault as error:
        raise ScriptFaults([Fault(script, error.line, 1, str(error))]) from None


def estimated(script: str, drill: Drill, asked: dict[str, Any]) -> Timeline:
    """The timeline with estimated speech lengths, for a machine without a voice."""
    from dataclasses import replace

    from cornercue.timing.estimate import estimated_seconds

    return laid_out(script, drill, replace(request_for(drill, asked), voice=NO_VOICE), estimated_seconds)


def timeline_for_showing(script: str, drill: Drill, asked: dict[str, Any]) -> Timeline:
    """The timeline in the voice asked for, or with estimated lengths (and a word about it) where there is none."""
    if asked["voice"] == NO_VOICE:
        return estimated(script, drill, asked)
    try:
        with session(script, drill, asked) as ready:
            return ready.timeline
    except MachineLacks as lack:
        click.echo(f"{lack}\nThe times below are estimated.", err=True)
        return estimated(script, drill, asked)
