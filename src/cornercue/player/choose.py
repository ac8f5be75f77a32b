"""Chooses the output: by name, or the first that works on this machine."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from cornercue.player.miniaudio_output import MiniaudioOutput
from cornercue.player.outputs import Output, nothing_to_play_on
from cornercue.player.silent_output import SilentOutput
from cornercue.player.simpleaudio_output import SimpleaudioOutput

OUTPUTS: dict[str, Callable[[], Output]] = {
    "miniaudio": MiniaudioOutput,
    "simpleaudio": SimpleaudioOutput,
    "silent": SilentOutput,
}

AUTOMATIC = ("miniaudio", "simpleaudio")
"""Tried in this order; silence has to be asked for."""

NAMES = ("auto", *OUTPUTS)
"""What `--device` accepts."""


@dataclass(frozen=True, slots=True)
class Choice:
    """An output, and why it is this one."""

    output: Output
    reason: str


def choose(name: str = "auto") -> Choice:
    """The output called `name`, one of `NAMES`; `MachineLacks` says what every one that was tried lacks."""
    tried: list[str] = []
    for candidate in AUTOMATIC if name == "auto" else (name,):
        output = OUTPUTS[candidate]()
        lack = output.lacks()
        if lack is None:
            return Choice(output, _reason(name, candidate, tried))
        tried.append(f"{candidate}: {lack}")
    raise nothing_to_play_on(tried)


def _reason(name: str, candidate: str, tried: list[str]) -> str:
    if name != "auto":
        return f"{candidate} was asked for"
    if tried:
        return f"{candidate} is the first that works here ({'; '.join(tried)})"
    return f"{candidate} works here and is tried first"
