"""A folder of scripts as a folder of files: a line a file, a total, and exit code 1 where a script is at fault."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from cornercue.cli.told import say_new
from cornercue.errors import InputFault
from cornercue.printing import say

if TYPE_CHECKING:
    from cornercue.script.faults import Fault
    from cornercue.script.model import Drill
    from cornercue.session.overrides import Overrides

Make = Callable[[str, "Drill", Path], str]
"""Writes the file of a drill, whose script's name it is given, and tells of it in a line."""


def each_script(files: dict[Path, Path], output: str, asked: Overrides, what: str, make: Make) -> None:
    """Makes the file of each script, tells the faults of those that cannot be read, and goes on with the others.

    `what` is what a file is called in the total, which `output`, the folder of all of them, ends. Raises at once what
    holds for all: `InputFault` for a folder or a voice that is none, and `MachineLacks`.
    """
    from cornercue.script.club import Clubs
    from cornercue.script.faults import ClubFaults
    from cornercue.session.opening import read
    from cornercue.voice.voices import open_voice
    from cornercue.whole_files import folder_for_files

    if asked.voice:
        open_voice(asked.voice).close()
    clubs = Clubs()
    told: set[Fault] = set()
    made = at_fault = waiting = 0
    with folder_for_files(Path(output)):
        for number, (script, file) in enumerate(files.items(), 1):
            try:
                drill = read(script, clubs)
                with folder_for_files(file.parent):
                    line = make(str(script), drill, file)
            except InputFault as fault:
                _tell(script, fault, told)
                waiting += isinstance(fault, ClubFaults)
                at_fault += not isinstance(fault, ClubFaults)
            else:
                made += 1
                say(f"{number} of {len(files)}: {line}")
    total = [f"{_counted(made, what)} in {output}"]
    total += [f"{_counted(at_fault, 'script')} at fault"] * bool(at_fault)
    total += [f"{_counted(waiting, 'script')} not read before club.yaml is mended"] * bool(waiting)
    say(", ".join(total))
    if made < len(files):
        sys.exit(InputFault.exit_code)


def _tell(script: Path, fault: InputFault, told: set[Fault]) -> None:
    from cornercue.script.faults import ScriptFaults

    if isinstance(fault, ScriptFaults):
        say_new(fault, told, err=True)
    else:  # the script's own voice, or a name that cannot be that of a file
        say(f"{script}: {fault}", err=True)


def _counted(number: int, what: str) -> str:
    """ "1 track", "23 tracks"."""
    return f"{number} {what}{'s' * (number != 1)}"
