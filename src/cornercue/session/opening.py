"""A script opened in a voice: from its path to a timeline and the voice that speaks it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from cornercue.script.club import Clubs
from cornercue.script.model import Drill
from cornercue.script.read import read_drill
from cornercue.session.layout import voiced
from cornercue.session.overrides import AS_WRITTEN, Overrides, request_for
from cornercue.session.progress import Progress, unheard
from cornercue.timing.phrasebook import phrasebook
from cornercue.timing.safety import written_cautions
from cornercue.timing.timeline import Timeline

if TYPE_CHECKING:
    from cornercue.voice.speech import Speech


@dataclass(frozen=True, slots=True)
class OpenDrill:
    """One drill, ready to sound: `timeline` has the voice's own lengths; `speech`, while it is open, says its words."""

    drill: Drill
    timeline: Timeline
    speech: Speech

    @property
    def cautions(self) -> tuple[str, ...]:
        """What must be read before anybody begins; nothing for a drill that needs no caution."""
        return written_cautions(self.drill, phrasebook())


def read(script: str | Path, clubs: Clubs | None = None) -> Drill:
    """The drill of a script file; raises `ScriptFaults`, which hold every fault as a value.

    `clubs` keeps the clubs' files from script to script, so that each is read once.
    """
    return read_drill(Path(script), clubs)


@contextmanager
def open_script(script: str | Path, asked: Overrides = AS_WRITTEN, progress: Progress = unheard) -> Iterator[OpenDrill]:
    """Reads a script file, makes its words in the voice asked for and lays it out, for as long as the `with` lasts.

    `progress` hears how much of the words is made. Raises `ScriptFaults` for the script, `InputFault` for a voice that
    is none and `MachineLacks` for one that this machine has not.
    """
    with open_drill(str(script), read(script), asked, progress) as opened:
        yield opened


@contextmanager
def open_drill(
    name: str, drill: Drill, asked: Overrides = AS_WRITTEN, progress: Progress = unheard
) -> Iterator[OpenDrill]:
    """As `open_script`, of a drill that is read already; `name` stands for its file in what is raised."""
    from cornercue.voice.voices import open_voice  # slow to import, and `read` does without

    request = request_for(drill, asked)
    with open_voice(request.voice, said=drill.said_aloud) as speech:
        timeline = voiced(name, drill, replace(request, voice=speech.name), speech, progress)
        yield OpenDrill(drill, timeline, speech)
