"""A drill through the speakers, with a screen and keys: what `play` and `partner` share."""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from typing import TYPE_CHECKING

import click

from cornercue.cli.play_options import PlayOptions, command_line
from cornercue.printing import say
from cornercue.totals.tally import sentences, tally

if TYPE_CHECKING:
    from cornercue.player.outputs import Output
    from cornercue.player.plain import PlainScreen
    from cornercue.player.terminal import TideScreen
    from cornercue.player.transport import Ending
    from cornercue.player.view import Show, View
    from cornercue.script.model import Drill
    from cornercue.session.live_layout import Unfolding
    from cornercue.session.overrides import Overrides


def play_drill(script: str, drill: Drill, wanted: PlayOptions, asked: Overrides) -> None:
    """Play a drill to its end or until somebody stops it, and say then how to go on. `script` names it in messages."""
    from cornercue.player.choose import choose
    from cornercue.session.live_layout import parts_of, unfolding
    from cornercue.session.overrides import request_for
    from cornercue.timing.phrasebook import phrasebook
    from cornercue.timing.safety import cautions, written_cautions

    if wanted.screen:
        from cornercue.cli.screen import open_page

        open_page(script, drill, asked)
        return
    request, first = request_for(drill, asked), cautions(drill, phrasebook())
    if wanted.start > 1 and wanted.start > (last := len(parts_of(script, drill, request))):
        raise click.BadParameter(f"the last part of this drill is {last}.", param_hint="--from")
    choice = choose(wanted.device)
    if wanted.verbose:
        say(f"Device: {choice.reason}.", err=True)
    for caution in written_cautions(drill, phrasebook()):
        say(caution)
    with unfolding(script, drill, request) as session:
        level = drill.level_words(request.level or drill.level)
        say(f"{drill.drill} · {level} · seed {request.seed} · voice {session.speech.name}")
        ending = _play(session, wanted, choice.output, len(first), request.seed)
        line, known = session.coming.when(lambda line: True)
    for advice in line.advice:
        say(f"{script}:{advice.line}: {advice.told}", err=True)
    if ending.whole and known:
        for sentence in sentences(tally(line)):
            say(sentence)


def _play(session: Unfolding, wanted: PlayOptions, output: Output, cautions: int, seed: int) -> Ending:
    """Play, and say how to go on where the drill was left."""
    from cornercue.player.choose import choose
    from cornercue.player.keys import keys
    from cornercue.player.transport import Transport

    def reopened() -> Output:
        return choose(wanted.device).output

    transport = None
    try:
        with _ended_by_signal(), keys() as pressed, _screen(wanted.plain) as show:
            transport = Transport(
                session.coming,
                session.titles,
                session.count_in,
                clip_of=session.speech.clip,
                reopened=reopened,
                show=show,
                keys=pressed,
            )
            ending = transport.play(output, wanted.start, cautions)
    except KeyboardInterrupt:
        if transport:
            say(_how_to_go_on(transport.part, len(session.titles), seed))
        raise
    if not ending.whole:
        say(_how_to_go_on(ending.part, len(session.titles), seed))
    return ending


def _how_to_go_on(part: int, parts: int, seed: int) -> str:
    return f"Left at part {part} of {parts}. To go on there:\n  {command_line(part, seed)}"


@contextmanager
def _screen(plain: bool) -> Iterator[Show]:
    """A screen that opens with the first view: the sound does not wait for it."""
    opened: list[TideScreen | PlainScreen] = []
    with ExitStack() as stack:

        def show(view: View) -> None:
            if not opened:
                opened.append(_kind(plain))
                stack.enter_context(opened[0])
            opened[0].show(view)

        yield show


def _kind(plain: bool) -> TideScreen | PlainScreen:
    able = sys.stdout.isatty() and os.environ.get("TERM") != "dumb" and sys.stdout.encoding.lower() == "utf-8"
    if plain or not able:
        from cornercue.player.plain import PlainScreen

        return PlainScreen()
    from cornercue.player.terminal import TideScreen

    return TideScreen()


@contextmanager
def _ended_by_signal() -> Iterator[None]:
    """Lets a polite request to end restore the terminal first."""

    def end(number: int, frame: object) -> None:
        raise SystemExit(128 + number)

    before = signal.signal(signal.SIGTERM, end)
    try:
        yield
    finally:
        signal.signal(signal.SIGTERM, before)
