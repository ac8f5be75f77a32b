"""What comes from outside is shown, never obeyed: no script and no file's name commands the terminal that shows it."""

from __future__ import annotations

import json
import re
import subprocess
import sys
import unicodedata
from pathlib import Path

import pytest

from cornercue.errors import InputFault
from cornercue.printable import visible

HOSTILE = {
    'drill: "A tide \\u202E turned"\nsteps:\n- say: "Up \\u2067 now"\n': ["tide \\u202e turned", "Up \\u2067 now"],
    'drill: Kinds\nsteps:\n- "\\e]52;c;QQ==\\a": x\n- "say\\n1.yaml: fine": x\n': [
        "\\u001b]52;c;QQ==\\u0007",
        "say\\u000a1.yaml",
    ],
    'drill: Words\n"lev\\u202Ele": 3\nsteps:\n- combination: ["c\\x9d0;oss"]\n': ["lev\\u202ele", "c\\u009d0;oss"],
}
"""Scripts, and how what they hold must look."""

OBEYED = "[\x00-\x09\x0b-\x1f\x7f-\x9f\u200e\u200f\u061c\u202a-\u202e\u2066-\u2069]"
"""ECMA-48: ESC and the C1 controls (U+0080 to U+009F) begin commands. UAX #9: these turn the order of words. (Both
from memory.)"""


@pytest.mark.parametrize("text", HOSTILE)
@pytest.mark.parametrize("command", ["check", "show --voice none", "show --voice none --json", "new"])
def test_no_script_and_no_name_commands_the_terminal_that_shows_it(tmp_path: Path, command: str, text: str) -> None:
    folder = tmp_path / "in a \x1b]0;mine\x07 folder"
    folder.mkdir()
    (folder / "one.yaml").write_text(text)
    done = subprocess.run(
        [sys.executable, "-m", "cornercue", *command.split(), folder / "one.yaml"],
        capture_output=True, encoding="utf-8", check=False,
    )  # fmt: skip
    shown = done.stdout + done.stderr
    assert not re.search(OBEYED, shown)
    only_named = command == "new" or (command == "check" and done.returncode == 0)
    for spelt in ["in a \\u001b]0;mine\\u0007 folder"] if only_named else HOSTILE[text]:
        assert spelt in shown


def test_a_name_that_is_no_text_is_shown_all_the_same(tmp_path: Path) -> None:
    """Python gives halves of signs for the bytes of a file's name that are not UTF-8 (PEP 383)."""
    done = subprocess.run(
        [sys.executable, "-m", "cornercue", "check", b"n\xff.yaml"], capture_output=True, cwd=tmp_path
    )
    assert done.returncode == InputFault.exit_code
    assert done.stdout.startswith(b"n\\udcff.yaml:1:1: there is no such file")


def test_all_that_unicode_calls_a_control_of_direction_or_of_a_terminal_is_spelt_as_json_spells_it() -> None:
    """By the bidirectional classes of Python's own table of Unicode; the three marks have none of their own."""
    turning = {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}
    signs = [chr(code) for code in range(0x110000)]
    obeyed = [one for one in signs if unicodedata.category(one) == "Cc" or unicodedata.bidirectional(one) in turning]
    assert len(obeyed) == 65 + 9
    for sign in {*obeyed, "\u200e", "\u200f", "\u061c", "\U000e0041"} - {"\n", "\t"}:
        assert visible(sign).isascii()
        assert json.loads(f'"{visible(sign)}"') == sign
    assert visible("Salt · marsh, 앞차기, 👩‍👧\n\tjab") == "Salt · marsh, 앞차기, 👩‍👧\n\tjab"
