"""`cornercue voice`: which voices there are, and how they sound."""

from __future__ import annotations

from pathlib import Path

import click

from cornercue.cli.options import VOICE_HELP
from cornercue.cli.options import device as play_on
from cornercue.cli.voice_pack import import_, sheet
from cornercue.printing import say


@click.group(no_args_is_help=True)
def voice() -> None:
    """Choose the voice that speaks, and hear it.

    \b
    Example:
      cornercue voice try "parry left"
    """


@voice.command("list")
def list_() -> None:
    """List the voices, what they speak, where they come from, and which one `auto` takes.

    The path of any Piper voice file (FILE.onnx, with FILE.onnx.json beside it) is a voice too.

    \b
    Example:
      cornercue voice list
    """
    from cornercue.voice.voices import preferred, voice_entries

    for one in voice_entries():
        say(f"{one.name:<10}{one.lack or f'{one.language:<34}{one.origin}'}")
    say(f"{'auto':<10}takes {preferred()}")


@voice.command("try", no_args_is_help=True)
@click.argument("words")
@click.option("--voice", "name", default="auto", show_default=True, metavar="VOICE", help=VOICE_HELP)
@click.option("--in", "script", metavar="SCRIPT", help="Say a club's own words as this script says them.")
@click.option("-o", "--output", "file", metavar="FILE", help="A .wav, .flac, .ogg or .mp3 file to write instead.")
@play_on
def try_(*, words: str, name: str, script: str | None, file: str | None, device: str) -> None:
    """Hear WORDS as the drills would say them, or write them to a sound file.

    \b
    Example:
      cornercue voice try "parry left" --voice system -o parry.wav
    """
    from cornercue.player.choose import choose
    from cornercue.script.read import read_drill
    from cornercue.session.spoken_phrase import phrase_timeline
    from cornercue.track.mix import blocks
    from cornercue.track.sound_files import format_of, write
    from cornercue.voice.voices import open_voice

    chosen = choose(device).output if file is None else None
    if file is not None:
        format_of(Path(file))
    said = read_drill(Path(script)).said_aloud if script else {}
    with open_voice(name, said=said) as speech:
        sample = phrase_timeline(words, speech)
        if chosen:
            chosen.play(blocks(sample, speech.clip))
        elif file is not None:
            write(Path(file), sample, speech.clip)
        say(f"{file + ': ' if file else ''}{sample.duration:.2f} s of the voice {speech.name}")


voice.add_command(sheet)
voice.add_command(import_)
