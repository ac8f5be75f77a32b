"""Slips of layout that YAML reads otherwise than they are meant, or not at all, each with what to type instead."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise

NEAR = 2
"""Lines above the one in which YAML gives up, where the slip may be."""

LONGEST_SHOWN = 60
"""Characters of a remedy that repeats the line."""


@dataclass(frozen=True, slots=True)
class Slip:
    """Where it is, counted from 1, and what to type instead. `grave` if the rest cannot be read as it is meant."""

    line: int
    column: int
    text: str
    grave: bool = False


Lines = list[str]

_TEXT_KEY = r"(?:say|between|about|drill|exercise|check)"
_ENTRY = re.compile(r"^(\s*(?:- +)*)([A-Za-z][\w' -]*?): +(\S.*?)\s*$")
"""Indent and dashes, a key, and its value, all on one line."""


def slip_at(text: str, line: int) -> Slip | None:
    """The slip that keeps YAML from reading a text, where it gave up in this line; the nearest one above it."""
    lines = text.splitlines()
    if line >= len(lines) and (quote := _open_quote(lines)):
        return quote
    found = [slip for check in _UNREADABLE for slip in check(lines) if line - NEAR <= slip.line <= line]
    return max(found, key=lambda slip: slip.line, default=None)


def quiet_slips(text: str) -> Iterator[Slip]:
    """Slips that YAML reads, and reads otherwise than they are meant."""
    lines = text.splitlines()
    yield from _cut_by_a_comment(lines)
    yield from _no_space_after_dash(lines)


def _no_space_after_dash(lines: Lines) -> Iterator[Slip]:
    for number, line in enumerate(lines, start=1):
        if found := re.match(r"^(\s*)-([A-Za-z][\w-]*:(?: .*)?)$", line):
            text = f"a space is missing after the dash: `{_shown('- ' + found[2])}`"
            yield Slip(number, len(found[1]) + 1, text, grave=True)


def _no_space_after_colon(lines: Lines) -> Iterator[Slip]:
    for number, line in enumerate(lines, start=1):
        if found := re.match(r"^(\s*(?:- +)*)([a-z]+):([^\s:/\"'].*)$", line):
            remedy = f"`{_shown(f'{found[2]}: {found[3]}')}`"
            yield Slip(number, len(found[1]) + len(found[2]) + 1, f"a space is missing after the colon: {remedy}")


def _colon_in_text(lines: Lines) -> Iterator[Slip]:
    for number, line in enumerate(lines, start=1):
        found = _ENTRY.match(line)
        if found and found[3][0] not in "\"'[{#|>&*" and re.search(r":(?: |$)", found[3]):
            remedy = _shown(f"{found[2]}: {_quoted(found[3].strip('“”„'))}")
            column = line.index(":", found.start(3)) + 1
            yield Slip(number, column, f"a colon inside text: put the text in quotes: `{remedy}`")


def _words_after_a_quote(lines: Lines) -> Iterator[Slip]:
    """Words after the closing quote, or an apostrophe that closes it too soon."""
    for number, line in enumerate(lines, start=1):
        found = re.match(r"^(\s*(?:- +)*(?:[A-Za-z][\w' -]*?: +)?)(([\"']).*?\3)([^\s,\]}#:].*|\s+[^#\s].*)$", line)
        if found and not found[4].lstrip().startswith(("]", "}", ",", ":")):
            whole = (found[2] + found[4]).strip()
            inner = whole.strip("'") if found[3] == "'" else whole.replace('"', "")
            what = "an apostrophe ends" if found[3] == "'" else "a quote ends"
            yield Slip(
                number, len(found[1]) + len(found[2]),
                f"{what} the text here: put the whole text in double quotes: `{_quoted(inner)}`",
            )  # fmt: skip


def _open_quote(lines: Lines) -> Slip | None:
    """The first value that begins with a quote and does not end with it in the same line."""
    for number, line in enumerate(lines, start=1):
        found = re.match(r"^(\s*(?:- +)*(?:[A-Za-z][\w' -]*?: +)?)([\"'])([^\"']*)$", line)
        if found:
            text = f"the quote that opens here is not closed: `{_shown(found[2] + found[3].strip() + found[2])}`"
            return Slip(number, len(found[1]) + 1, text)
    return None


def _open_bracket(lines: Lines) -> Iterator[Slip]:
    for number, line in enumerate(lines, start=1):
        value = re.sub(r"\"[^\"]*\"|'[^']*'", "", line)
        for opens, closes in ("[]", "{}"):
            if value.count(opens) > value.count(closes) and re.match(r"^\s*(?:- +)*(?:[\w-]+: )?\s*[\[{]", line):
                after = lines[number] if number < len(lines) else ""
                if not value.rstrip().endswith((",", opens)) or re.match(r"^\s*(?:- )?[\w-]+: ", after):
                    yield Slip(number, line.index(opens) + 1, f"`{opens}` opens here and is not closed: add `{closes}`")


def _brace_before_text(lines: Lines) -> Iterator[Slip]:
    for number, line in enumerate(lines, start=1):
        if found := re.match(r"^(\s*(?:- +)*([\w' -]+: +|))(\{(?:left|right)\}.*)$", line):
            text = f"a text that begins with a brace goes in quotes: `{found[2]}{_quoted(found[3].strip())}`"
            yield Slip(number, len(found[1]) + 1, text)


def _two_commas(lines: Lines) -> Iterator[Slip]:
    for number, line in enumerate(lines, start=1):
        if found := re.search(r"[\[,]\s*,", line):
            yield Slip(number, found.end(), "something is missing before this comma; take the comma away")


def _dash_without_list(lines: Lines) -> Iterator[Slip]:
    """Entries of a list right below an entry that has a value: `steps:` is missing between them."""
    for number, (above, line) in enumerate(pairwise(lines), start=2):
        top = re.match(r"^([a-z]+): +\S", above)
        if top and _is_top(above) and re.match(r"^- +[a-z]+:", line):
            yield Slip(number, 1, "the steps begin here: write `steps:` in a line of its own above them")
        inner = re.match(r"^(\s*)- repeat: *\S", above)
        if inner and re.match(rf"^{inner[1]}\s+- +[a-z]+:", line):
            yield Slip(number, 1 + len(line) - len(line.lstrip()), "write `steps:` in a line of its own above this one")


def _uneven_indent(lines: Lines) -> Iterator[Slip]:
    """A key that stands somewhat deeper than the others of its step, or less deep."""
    for number, (above, line) in enumerate(pairwise(lines), start=2):
        over, here = _key_column(above), _key_column(line)
        if over is None or here is None or line.lstrip().startswith("-") or not re.search(r": +\S", above):
            continue
        if here > over:
            text = f"this is indented by {here} spaces, and the line above it by {over}: give both the same"
            yield Slip(number, here + 1, text)
        elif 0 <= here < over and any(_key_column(after) is not None for after in lines[number : number + 1]):
            text = f"`{line.strip().split(':')[0]}` belongs to the step above: indent it by {over} spaces"
            if re.match(r"^\s*- ", lines[number]) and not _is_top(line):
                yield Slip(number, here + 1, text)


_TOP = {"drill", "steps", "about", "level", "stance", "pace", "calls", "counting", "junior", "ages", "safety", "brief",
        "gear", "seed", "voice", "levels", "words", "silence", "club", "doses"}  # fmt: skip


def _is_top(line: str) -> bool:
    return line.split(":")[0].strip() in _TOP


def _key_column(line: str) -> int | None:
    """How far the key of a line is indented, dashes included; None where the line has none."""
    found = re.match(r"^(\s*(?:- +)*)[A-Za-z][\w' -]*:(?: |$)", line)
    return len(found[1]) if found else None


def _cut_by_a_comment(lines: Lines) -> Iterator[Slip]:
    """A text with a `#` right before a word or a number in it."""
    for number, line in enumerate(lines, start=1):
        found = re.match(rf"^(\s*(?:- +)*{_TEXT_KEY}: +)([^\"'\[{{|>#].*?)(\s+#(?:\S| ?\d).*)$", line)
        if found:
            column = len(found[1]) + len(found[2]) + 2
            yield Slip(
                number, column,
                f"`#` ends the text here; put the text in quotes: {_in_code(_quoted((found[2] + found[3]).strip()))}, "
                "or write `# ` with a space before a remark of your own",
            )  # fmt: skip


_UNREADABLE: tuple[Callable[[Lines], Iterator[Slip]], ...] = (
    _words_after_a_quote,
    _brace_before_text,
    _open_bracket,
    _two_commas,
    _dash_without_list,
    _no_space_after_dash,
    _no_space_after_colon,
    _uneven_indent,
    _colon_in_text,
)
"""In the order in which they are believed, where several are found in one line."""


def _quoted(text: str) -> str:
    return '"' + text.replace('"', "'") + '"'


def _in_code(text: str) -> str:
    return f"`{_shown(text)}`"


def _shown(text: str) -> str:
    return text if len(text) <= LONGEST_SHOWN else text[: LONGEST_SHOWN - 1].rstrip() + "…"
