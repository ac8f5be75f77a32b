"""A recorded pack made from the recording of a reading sheet."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from cornercue.errors import InputFault
from cornercue.session.progress import Progress, unheard
from cornercue.session.sheet_needs import said_well
from cornercue.voice.pack import Pack, write_pack
from cornercue.voice.pack_import import import_recording
from cornercue.voice.reading_sheet import read_sheet
from cornercue.voice.recording_file import read_recording
from cornercue.voice.voices import for_comparing, open_voice

IfThere = Literal["keep", "add", "replace"]
"""What happens to a pack that is there already: nothing (a fault), its gaps are filled, it is made anew."""


@dataclass(frozen=True, slots=True)
class MadePack:
    """What came of a recording: sentences about its lines, how many phrases the pack has now and how many are new.

    `faults` is how many lines must be said again; the others are in the pack all the same.
    """

    report: tuple[str, ...]
    phrases: int
    new: int
    faults: int


def make_pack(
    recording: Path,
    sheet: Path,
    folder: Path,
    *,
    if_there: IfThere = "keep",
    sure: bool = False,
    voice: str = "auto",
    progress: Progress = unheard,
) -> MadePack:
    """Splits a recording by its sheet, compares it with `voice`, and writes the pack's folder.

    With `sure` no line is left out for doubt. `progress` hears how much of the comparing voice is made. Raises
    `InputFault` for what cannot be read, is something else or is there already, and `MachineLacks`.
    """
    old = _old(folder, if_there) if os.path.lexists(folder) else None
    lines = read_sheet(sheet)
    sound = read_recording(recording)
    with open_voice(for_comparing() if voice == "auto" else voice) as reference:
        reference.warm(((line.aloud, 1.0) for line in lines), lambda done, total: progress(done / total))
        found = import_recording(sound, lines, reference.clip, sure)
    kept = old if if_there == "add" else None
    new = found.only(lambda text: not (kept and said_well(kept, text)))
    write_pack(folder, new.clips, kept)
    return MadePack(tuple(found.report), len(Pack(folder).entries), len(new.takes), found.faults)


def _old(folder: Path, if_there: IfThere) -> Pack:
    """The pack that is there; nothing else is ever overwritten."""
    if if_there == "keep":
        raise InputFault(f"{folder} is there already: --add fills what it lacks, --replace makes it anew.")
    return Pack(folder)
