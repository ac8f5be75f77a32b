"""The page of a drill, as text."""

from __future__ import annotations

from dataclasses import replace

from cornercue.page.build import page_html
from cornercue.page.data import unlike
from cornercue.script.model import Drill
from cornercue.session.layout import voiced
from cornercue.session.overrides import AS_WRITTEN, Overrides, request_for
from cornercue.session.progress import Progress, unheard
from cornercue.timing.phrasebook import phrasebook
from cornercue.timing.timeline import Timeline
from cornercue.voice.voices import open_voice

DRAWS = 4
"""Versions of what is random, where nobody asks for another number."""

APART = 7919
"""From one version's seed to the next."""


def page_text(
    name: str,
    drill: Drill,
    asked: Overrides = AS_WRITTEN,
    *,
    draws: int = DRAWS,
    full_screen: bool = False,
    progress: Progress = unheard,
) -> str:
    """One HTML file that plays a drill offline; with `full_screen` its Start button fills the screen.

    `draws`, 1 to 26, is how many versions it has of what is random. `progress` hears how much of the words is made.
    Raises `ScriptFaults` (where `name` stands for the file), `InputFault` and `MachineLacks`.
    """
    request = request_for(drill, asked)
    with open_voice(request.voice, said=drill.said_aloud) as speech:

        def version(n: int) -> Timeline:
            seed = (request.seed + APART * n) % 1_000_000_000
            return voiced(name, drill, replace(request, voice=speech.name, seed=seed), speech, progress)

        timelines = [version(n) for n in range(draws)]
        return page_html(drill, unlike(timelines), speech.clip, phrasebook(), full_screen)
