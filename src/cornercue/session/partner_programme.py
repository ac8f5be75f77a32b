"""A partner programme that lasts as long as asked for, in the voice that will speak it."""

from __future__ import annotations

from dataclasses import replace

from cornercue.errors import MachineLacks
from cornercue.ladder.fitting import fitted
from cornercue.ladder.rounds import Ladder
from cornercue.script.model import Drill
from cornercue.session.layout import NO_VOICE, voiced
from cornercue.session.overrides import Overrides, request_for, seeded
from cornercue.session.progress import Progress, unheard
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.timeline import Timeline
from cornercue.voice.voices import open_voice

NAME = "partner ladder"
"""What stands for the file of such a programme, where its drill is named."""


def programme_text(ladder: Ladder, asked: Overrides, progress: Progress = unheard) -> str:
    """The script of a programme. It is fitted for the seed asked for, and by estimated lengths where there is no voice.

    `progress` hears how much of the words is made, several times over. Raises `ScriptFaults` and `InputFault`.
    """
    asked = seeded(asked)

    def estimate(drill: Drill) -> Timeline:
        return expand(drill, replace(request_for(drill, asked), voice=NO_VOICE), estimated_seconds)

    try:
        with open_voice(asked.voice or "auto") as speech:

            def spoken(drill: Drill) -> Timeline:
                request = replace(request_for(drill, asked), voice=speech.name)
                return voiced(NAME, drill, request, speech, progress)

            return fitted(ladder, estimate, spoken)
    except MachineLacks:
        return fitted(ladder, estimate, estimate)
