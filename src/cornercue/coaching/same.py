"""What a drill has the student do, as a value that two drills share where they differ in their names only."""

from __future__ import annotations

from cornercue.script.model import Drill, IncludedDrill
from cornercue.script.step import ScriptNode

_OF_ALL = ("at", "silence")
_OF_DRILLS = (*_OF_ALL, "drill", "about", "gear", "seed", "voice", "words", "levels")
"""Fields that say nothing of what is done: a word stands in the steps as the technique that it means."""


def content_of(value: object) -> object:
    """All that is done in a drill or a step, without places and names; equal and hashed alike where it is the same."""
    if isinstance(value, IncludedDrill):
        return content_of(value.drill)
    if isinstance(value, ScriptNode):
        besides = _OF_DRILLS if isinstance(value, Drill) else _OF_ALL
        names = (name for name in type(value).model_fields if name not in besides)
        return (type(value).__name__, *(content_of(getattr(value, name)) for name in names))
    if isinstance(value, tuple | list):
        return tuple(map(content_of, value))
    return repr(value)
