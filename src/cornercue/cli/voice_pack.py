"""`cornercue voice sheet` and `cornercue voice import`: the coach's own voice, from the reading sheet to the pack."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from cornercue.cli.options import overrides
from cornercue.cli.progress import bar
from cornercue.errors import InputFault

if TYPE_CHECKING:
    from cornercue.voice.pack import Pack

SIGNAL_WORDS = 3
"""What is said in so many words is a signal, what takes more a sentence."""

LARGEST_COUNT = 1000
"""Up to here counts are put in order."""


@click.command(no_args_is_help=True)
@click.argument("scripts", nargs=-1, required=True, type=click.Path(), metavar="DRILL...")
@click.option("-o", "--output", metavar="FILE", help="Write the sheet to a file instead of printing it.")
@click.option("--lacking", "pack_folder", metavar="PACK", help="Only what this pack lacks, or has with a flaw.")
@overrides
def sheet(scripts: tuple[str, ...], output: str | None, pack_folder: str | None, **asked: Any) -> None:
    """Write what must be read aloud so that these drills speak in your own voice: every phrase once, in reading order.

    \b
    Example:
      cornercue voice sheet drills/first-combination.yaml -o sheet.txt
    """
    from cornercue.voice.reading_sheet import sheet_of
    from cornercue.whole_files import written_whole

    pack = opened(pack_folder) if pack_folder else None
    needed = [phrase for script in scripts for phrase in needs(script, asked)]
    needed = [(text, kind) for text, kind in needed if not (pack and _good(pack, text))]
    if not needed:
        raise InputFault(f"{pack_folder} lacks nothing that these drills say.")
    text = sheet_of(reading_order(needed))
    if output is None:
        click.echo(text, nl=False)
        return
    with written_whole(Path(output)) as beside:
        beside.write_text(text, encoding="utf-8")
    click.echo(f"{output}: {sum(line[:1].isdigit() for line in text.splitlines())} phrases to read")


def needs(script: str, asked: dict[str, Any]) -> list[tuple[str, str]]:
    """Everything that a drill may say, whatever its calls drawn at random, with the kind of cue.

    Timing asks for the length of every call that could be drawn, not only of those that one seed draws.
    """
    from cornercue.cli.session import laid_out, read, request_for
    from cornercue.timing.estimate import estimated_seconds

    texts: dict[str, None] = {}

    def seconds(text: str, rate: float) -> float:
        texts[text] = None
        return estimated_seconds(text, rate)

    drill = read(script)
    timeline = laid_out(script, drill, request_for(drill, asked), seconds)
    kinds = {cue.text: cue.kind for cue in timeline.spoken()}
    return [(text, kinds.get(text, "call")) for text in texts]


def lacking(script: str, pack: Pack) -> list[str]:
    """What a drill may say, played as it is written, and the pack can neither say nor join."""
    from cornercue.voice.reading_sheet import each_once

    asked = dict.fromkeys(("seed", "level", "stance", "pace", "voice"))
    return [text for text in each_once(text for text, _ in needs(script, asked)) if not pack.has(text)]


def opened(folder: str) -> Pack:
    """The pack in a folder."""
    from cornercue.voice.pack import Pack

    return Pack(Path(folder))


def reading_order(phrases: list[tuple[str, str]]) -> Iterator[tuple[str, list[str]]]:
    """Counts in order, short calls before long ones, then signals, then sentences as the drills have them."""
    from cornercue.timing.phrasebook import phrasebook

    book = phrasebook()
    order = {book.number(n): n for n in range(LARGEST_COUNT)}
    counts = [text for text, kind in phrases if kind == "count"]
    calls = [text for text, kind in phrases if kind == "call"]
    rest = [text for text, kind in phrases if kind not in ("count", "call")]
    yield "Counts", sorted(counts, key=lambda text: order.get(text, LARGEST_COUNT))
    yield "Calls", sorted(calls, key=lambda text: (text.count(","), len(text.split())))
    yield "Signals", [text for text in rest if len(text.split()) <= SIGNAL_WORDS]
    yield "Sentences", [text for text in rest if len(text.split()) > SIGNAL_WORDS]


def _good(pack: Pack, text: str) -> bool:
    from cornercue.voice.reading_sheet import spoken_key

    entry = pack.entries.get(spoken_key(text))
    return entry is not None and not entry.flaws


@click.command("import", no_args_is_help=True)
@click.argument("recording", type=click.Path(), metavar="RECORDING")
@click.option("--sheet", "sheet_file", required=True, metavar="SHEET", help="The sheet that was read.")
@click.option("-o", "--output", required=True, metavar="PACK", help="The folder to make.")
@click.option("--replace", is_flag=True, help="Make a pack that is there already anew.")
@click.option("--add", is_flag=True, help="Add to a pack only what it lacks, or has with a flaw.")
@click.option("--sure", is_flag=True, help="Every line was read: leave none out for doubt.")
@click.option("--voice", default="auto", show_default=True, metavar="VOICE", help="The voice to compare yours with.")
def import_(recording: str, sheet_file: str, output: str, replace: bool, add: bool, sure: bool, voice: str) -> None:
    """Make a voice from the recording of a sheet, and tell every line that is missing, double or badly recorded.

    Ends with code 1 where a line must be said again; the others are in the pack all the same.

    \b
    Example:
      cornercue voice import evening.wav --sheet sheet.txt -o my-voice
    """
    from cornercue.voice.pack import write_pack
    from cornercue.voice.pack_import import import_recording
    from cornercue.voice.reading_sheet import read_sheet
    from cornercue.voice.recording import read_recording
    from cornercue.voice.voices import open_voice

    folder = Path(output)
    if replace and add:
        raise click.UsageError("--replace and --add exclude each other")
    old = _old(folder, replace or add) if folder.exists() else None
    lines = read_sheet(Path(sheet_file))
    sound = read_recording(Path(recording))
    with open_voice(voice) as reference, bar("Listening") as progress:
        reference.warm(((line.text, 1.0) for line in lines), lambda done, total: progress(done / total))
        found = import_recording(sound, lines, reference.clip, sure)
    for sentence in found.report:
        click.echo(sentence)
    clips = [(clip, flaws) for clip, flaws in found.clips if not (add and old and _good(old, clip.text))]
    write_pack(folder, clips, old if add else None)
    click.echo(f"{output}: {len(opened(output).entries)} phrases, {len(clips)} of them new")
    if found.faults:
        sys.exit(InputFault.exit_code)


def _old(folder: Path, told: bool) -> Pack:
    """The pack that is there; nothing else is ever overwritten."""
    if not told:
        raise InputFault(f"{folder} is there already: --add fills what it lacks, --replace makes it anew.")
    return opened(str(folder))
