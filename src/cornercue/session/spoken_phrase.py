"""One phrase in a voice, to hear what a voice is like."""

from __future__ import annotations

from cornercue.timing.timeline import Cue, Timeline
from cornercue.voice.speech import Speech


def phrase_timeline(words: str, speech: Speech) -> Timeline:
    """A timeline that says these words and nothing else. Raises `InputFault` where there is nothing to say."""
    seconds = speech.seconds(words)
    cue = Cue(start=0.0, end=seconds, kind="say", text=words, line=1, part=0)
    return Timeline(drill=words, level=1, seed=0, voice=speech.name, duration=seconds, cues=(cue,), spans=())
