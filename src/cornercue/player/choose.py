"""The outputs by their names, and which one is taken: the one asked for, or the first that works on this machine.

Nothing here is slow to import: the option `--device` is made of these names.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from cornercue.player.outputs import Output, nothing_to_play_on


def _miniaudio() -> Output:
    from cornercue.player.miniaudio_output import MiniaudioOutput

    return MiniaudioOutput()


def _simpleaudio() -> Output:
    from cornercue.player.simpleaudio_output import SimpleaudioOutput

    return SimpleaudioOutput()


def _silent() -> Output:
    from cornercue.player.silent_output import SilentOutput

    return SilentOutput()


OUTPUTS: dict[str, Callable[[], Output]] = {
    "miniaudio": _miniaudio,
    "simpleaudio": _simpleaudio,
    "silent": _silent,
}
"""Every output by its name, in the order in which "auto" tries them."""

ON_REQUEST = ("silent",)
"""What "auto" leaves alone: silence has to be asked for."""


def output_names() -> tuple[str, ...]:
    """What `--device` accepts."""
    return ("auto", *OUTPUTS)


@dataclass(frozen=True, slots=True)
class Choice:
    """An output, and why it is this one."""

    output: Output
    reason: str


def choose(name: str = "auto") -> Choice:
    """The output called `name`, one of `output_names()`; `MachineLacks` says what every one that was tried lacks."""
    tried: list[str] = []
    automatic = [candidate for candidate in OUTPUTS if candidate not in ON_REQUEST]
    for candidate in automatic if name == "auto" else (name,):
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
