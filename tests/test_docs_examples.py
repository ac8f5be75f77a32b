"""What the documents show works: every script is read without a fault, every command is typed as it stands there."""

from __future__ import annotations

import re
import shlex
import shutil
import webbrowser
from collections.abc import Iterable
from pathlib import Path

import click
import pytest
import soundfile
from click.testing import CliRunner, Result

from coaching import reviewed_file
from cornercue.cli.main import commands
from cornercue.errors import InputFault
from cornercue.player.silent_output import SilentOutput
from cornercue.script.club import read_club
from cornercue.script.read import read_drill
from cornercue.sound import SAMPLE_RATE, Samples
from cornercue.technique.vocabulary import USUAL
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.setting import Request
from cornercue.voice import natural
from cornercue.voice.reading_sheet import read_sheet
from cornercue.voice.voices import open_voice
from documents import COMMANDS, DOCUMENTS, HOME, blocks, command_lines, ticked
from recorded import Faults, recording

OTHERS = {"--help", "--version"}
"""Options of the program itself."""


@pytest.mark.parametrize("document", [one for one in DOCUMENTS if blocks(one, "yaml")])
def test_its_scripts_have_no_fault_no_advice_and_nothing_to_review(document: str, tmp_path: Path) -> None:
    shutil.copytree(HOME / "drills", tmp_path, dirs_exist_ok=True)
    for number, example in enumerate(blocks(document, "yaml")):
        script = tmp_path / f"example-{number}.yaml"
        script.write_text(example, encoding="utf-8")
        if example.startswith("club:"):  # a club's file, which holds for the scripts beside it
            assert read_club(script).words.known != USUAL  # it has words, and they are right
            continue
        assert expand(read_drill(script), Request(seed=1), estimated_seconds).advice == ()
        assert reviewed_file(script) == []


def command_in(line: str) -> tuple[str, list[str]]:
    """The full name of the command in a line, and its arguments; a group's own name where it stands alone."""
    _, *words = shlex.split(line.partition(" > ")[0])
    name = next((name for name in (" ".join(words[:2]), words[0]) if name in COMMANDS), words[0])
    return name, words[len(name.split()) :]


def is_whole(line: str) -> bool:
    """Whether a person could type it so: not the bare name of a command, and no word that stands for another one."""
    name, arguments = command_in(line)
    if re.search(r"\b[A-Z]{2,}\b", line) or name not in COMMANDS:
        return False
    return bool(arguments) or not COMMANDS[name].no_args_is_help


LINES = [(document, line) for document in DOCUMENTS for line in command_lines(document)]
WHOLE = {document: [line for one, line in LINES if one == document and is_whole(line)] for document in DOCUMENTS}


@pytest.mark.parametrize(("document", "line"), [one for one in LINES if not is_whole(one[1])])
def test_a_command_that_is_only_named_is_there_with_its_options(document: str, line: str) -> None:
    name, arguments = command_in(line)
    if name not in COMMANDS:
        assert name in OTHERS or isinstance(commands.commands.get(name), click.Group), line
        return
    options = {word for param in COMMANDS[name].params for word in param.opts}
    assert {word for word in arguments if word.startswith("-")} <= options, line


@pytest.mark.parametrize("document", DOCUMENTS)
def test_no_option_is_told_that_no_command_has(document: str) -> None:
    known = {word for one in COMMANDS.values() for param in one.params for word in param.opts} | OTHERS
    for words in ticked(document):
        if re.match(r"--?[a-z]", words):
            assert re.split(r"[ ,]", words)[0] in known, f"{document}: {words}"


@pytest.fixture(scope="module")
def cache(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where the clips of this file are kept, for all documents."""
    return tmp_path_factory.mktemp("cache")


@pytest.fixture
def room(tmp_path: Path, cache: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the drills; the loudspeaker takes a drill at once, and the voice is the system's."""

    def at_once(self: SilentOutput, track: Iterable[Samples], channels: int = 1, heard: object = None) -> int:
        return sum(map(len, track))

    shutil.copytree(HOME / "drills", tmp_path / "drills")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(SilentOutput, "play", at_once)
    monkeypatch.setattr(natural, "find_spec", lambda name: None)
    monkeypatch.setattr(webbrowser, "open", lambda address: True)
    monkeypatch.setenv("XDG_CACHE_HOME", str(cache))
    return tmp_path


def read_aloud(sheet: Path, recording_file: Path) -> None:
    """What the instructor does between two commands: reads the sheet into a phone, and forgets a line."""
    with open_voice("system") as speech:
        samples, _ = recording(speech, [line.text for line in read_sheet(sheet)], Faults(missing=4))
    soundfile.write(recording_file, samples, SAMPLE_RATE)


def typed(line: str, folder: Path) -> Result:
    """The command, on a silent device where it would make a sound."""
    name, arguments = command_in(line)
    if name == "voice import":
        read_aloud(folder / arguments[arguments.index("--sheet") + 1], folder / arguments[0])
    if name in ("check", "play") and "my-drill.yaml" in arguments and not (folder / "my-drill.yaml").exists():
        CliRunner().invoke(commands, ["new", "my-drill.yaml"])
    sounding = name in ("play", "partner", "voice try") and not {"-o", "--device", "--screen"} & {*arguments}
    return CliRunner().invoke(commands, [*name.split(), *arguments, *(["--device", "silent"] if sounding else [])])


@pytest.mark.parametrize("document", [document for document in DOCUMENTS if WHOLE[document]])
def test_its_commands_do_what_they_say_one_after_the_other(document: str, room: Path) -> None:
    for line in dict.fromkeys(WHOLE[document]):
        result = typed(line, room)
        expected = InputFault.exit_code if command_in(line)[0] == "voice import" else 0  # a line was forgotten
        assert result.exit_code == expected, f"{line}\n{result.output}"
        for written in re.findall(r"(?:-o|--output|--picture|--save) (\S+)", line):
            assert (room / written).exists(), line
