"""Faults told once in a run, however many scripts meet them: those of a club's file come with every script of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cornercue.printing import say

if TYPE_CHECKING:
    from cornercue.script.faults import Fault, ScriptFaults


def say_new(found: ScriptFaults, told: set[Fault], *, err: bool = False) -> None:
    """Prints the faults that are not in `told` yet, a line each, and puts them there."""
    from cornercue.script.faults import told as lines_of

    new = [fault for fault in found.faults if fault not in told]
    told.update(new)
    for line in lines_of(new):
        say(line, err=err)
