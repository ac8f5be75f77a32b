"""The three tones as a score: timing needs only their lengths, the track makes them sound.

They differ in rhythm (one, two and three notes) and in pitch, so that either alone tells them apart: a student
with their back to the speaker, or a phone that swallows low notes, still knows which it was. Own choice.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from cornercue.timing.timeline import Tone


@dataclass(frozen=True, slots=True)
class Note:
    """One sounding stretch: pitch in hertz, length in seconds, then `gap` seconds of silence."""

    hertz: float
    seconds: float
    gap: float = 0.0


NOTES: Mapping[Tone, tuple[Note, ...]] = MappingProxyType(
    {
        "start": (Note(880.0, 0.60),),
        "warning": (Note(1175.0, 0.10, gap=0.12), Note(1175.0, 0.10)),
        "end": (Note(784.0, 0.14, gap=0.06), Note(622.0, 0.14, gap=0.06), Note(494.0, 0.30)),
    }
)

TONE_SECONDS: Mapping[Tone, float] = MappingProxyType(
    {tone: sum(note.seconds + note.gap for note in notes) for tone, notes in NOTES.items()}
)
"""How long each tone lasts, in seconds, from its first audible sample to its last."""
