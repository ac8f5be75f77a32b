"""A drill opened in a voice, with a bar while its words are made; or laid out by estimate where there is no voice."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from typing import TYPE_CHECKING

from cornercue.cli.progress import bar
from cornercue.errors import MachineLacks
from cornercue.printing import say

if TYPE_CHECKING:
    from cornercue.script.model import Drill
    from cornercue.session.opening import OpenDrill
    from cornercue.session.overrides import Overrides
    from cornercue.timing.timeline import Timeline


@contextmanager
def in_voice(script: str, drill: Drill, asked: Overrides) -> Iterator[OpenDrill]:
    """The drill in the voice asked for, its advice printed. `script` names it in messages."""
    from cornercue.session.opening import open_drill

    with ExitStack() as stack:
        with bar("Making the voice") as progress:
            opened = stack.enter_context(open_drill(script, drill, asked, progress))
        for advice in opened.timeline.advice:
            say(f"{script}:{advice.line}: {advice.told}", err=True)
        yield opened


def timeline_for_showing(script: str, drill: Drill, asked: Overrides) -> Timeline:
    """The timeline in the voice asked for, or with estimated lengths (and a word about it) where there is none."""
    from cornercue.session.layout import NO_VOICE, estimated

    if asked.voice == NO_VOICE:
        return estimated(script, drill, asked)
    try:
        with in_voice(script, drill, asked) as opened:
            return opened.timeline
    except MachineLacks as lack:
        say(f"{lack}\nThe times below are estimated.", err=True)
        return estimated(script, drill, asked)
