"""Cornercue for programs: a build of a library, a server, a notebook. Nothing here prints, or needs a terminal.

    from pathlib import Path
    from cornercue.interface import Overrides, open_script, samples, write_track

    with open_script("evening.yaml", Overrides(level=3, voice="system")) as opened:
        print(opened.timeline.duration)
        track = samples(opened)                       # int16 at SAMPLE_RATE
        write_track(opened, Path("evening.mp3"))

What is wrong is raised as a `CornercueError`, whose `str()` is a sentence for people: `InputFault` where a script or
another input is at fault (`ScriptFaults` has every fault of a script as a value) and `MachineLacks` where the machine
has no voice or no room. Work that takes long takes a function `progress`, which hears the share that is done.

- A script: `read`, `check_script`, `faults_of`.
- A folder of scripts: `scripts_in`, `files_for`; `check_libraries` tells what is found in them as a whole; one `Clubs`
  handed from script to script reads each club's file once.
- Laid out: `open_script`, `open_drill` in a voice; `estimated` without one; `unfolding` while its beginning plays.
- Sound: `samples`, `sample_blocks`, `write_track`.
- For people: `page_text`, `sheet_text`, `programme_text`, `make_pack`.
- Files: `write_whole`, which leaves nothing half-written behind.
"""

from __future__ import annotations

from cornercue.coaching.problem import Problem
from cornercue.errors import CornercueError, InputFault, MachineLacks
from cornercue.ladder.rounds import Ladder
from cornercue.script.club import Clubs
from cornercue.script.faults import ClubFaults, Fault, ScriptFaults
from cornercue.script.model import Drill
from cornercue.session.checking import ScriptReport, check_libraries, check_script, faults_of
from cornercue.session.folders import files_for, scripts_in
from cornercue.session.layout import estimated
from cornercue.session.live_layout import Unfolding, unfolding
from cornercue.session.opening import OpenDrill, open_drill, open_script, read
from cornercue.session.overrides import AS_WRITTEN, Overrides, request_for, seeded
from cornercue.session.pack_making import MadePack, make_pack
from cornercue.session.page_text import page_text
from cornercue.session.partner_programme import programme_text
from cornercue.session.progress import Progress
from cornercue.session.sheet_needs import Need, needs, sheet_text
from cornercue.session.spoken_phrase import phrase_timeline
from cornercue.session.track_file import sample_blocks, samples, write_track
from cornercue.sound import SAMPLE_RATE, Samples
from cornercue.timing.timeline import Timeline
from cornercue.whole_files import write_whole

__all__ = [
    "AS_WRITTEN",
    "SAMPLE_RATE",
    "ClubFaults",
    "Clubs",
    "CornercueError",
    "Drill",
    "Fault",
    "InputFault",
    "Ladder",
    "MachineLacks",
    "MadePack",
    "Need",
    "OpenDrill",
    "Overrides",
    "Problem",
    "Progress",
    "Samples",
    "ScriptFaults",
    "ScriptReport",
    "Timeline",
    "Unfolding",
    "check_libraries",
    "check_script",
    "estimated",
    "faults_of",
    "files_for",
    "make_pack",
    "needs",
    "open_drill",
    "open_script",
    "page_text",
    "phrase_timeline",
    "programme_text",
    "read",
    "request_for",
    "sample_blocks",
    "samples",
    "scripts_in",
    "seeded",
    "sheet_text",
    "unfolding",
    "write_track",
    "write_whole",
]
