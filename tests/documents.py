"""The documents of the project, and what stands in them: examples, commands, links, headings, rows of tables."""

from __future__ import annotations

import re
from pathlib import Path

import click

from cornercue.cli.main import commands

HOME = Path(__file__).parent.parent


def text_of(document: str) -> str:
    """The whole text of a document, by its path from the top of the project."""
    return (HOME / document).read_text(encoding="utf-8")


PAGES = tuple(f"docs/{path.name}" for path in sorted((HOME / "docs").glob("*.md")))
"""The pages of `docs/`."""

DOCUMENTS = ("README.md", "DEVELOPERS.md", "drills/README.md", *PAGES)


def blocks(document: str, language: str) -> list[str]:
    """The fenced blocks in one language."""
    return re.findall(rf"^```{language}\n(.*?)^```$", text_of(document), re.MULTILINE | re.DOTALL)


def prose(document: str) -> str:
    """The text without its fenced blocks."""
    return re.sub(r"^```.*?^```$", "", text_of(document), flags=re.MULTILINE | re.DOTALL)


def ticked(document: str) -> list[str]:
    """What stands in backticks, on one line each."""
    return [" ".join(words.split()) for words in re.findall(r"`([^`]+)`", prose(document))]


def command_lines(document: str) -> list[str]:
    """Everything in a document that a person might type and that begins with our program."""
    typed = [*ticked(document), *(line for block in blocks(document, "sh") for line in block.splitlines())]
    return [line for line in typed if line.startswith("cornercue ")]


def row(document: str, opener: str) -> str:
    """The row of a table whose first cell starts with these characters in backticks."""
    found = [line for line in text_of(document).splitlines() if line.startswith(f"| `{opener}")]
    assert found, f"{document}: no row of a table starts with `{opener}`"
    return found[0]


def anchors(document: str) -> set[str]:
    """What a link can point to in a document: its headings, lower case, spaces as hyphens, signs left out."""
    headings = re.findall(r"^#+ (.+)$", prose(document), re.MULTILINE)
    return {re.sub(r"[^\w -]", "", heading.lower()).replace(" ", "-") for heading in headings}


def links(document: str) -> list[str]:
    """The targets of links and pictures that are no addresses on a network."""
    text = prose(document)
    found = re.findall(r"\]\(([^)\s]+)\)", text) + re.findall(r'<img\s+src="([^"]+)"', text)
    return [target for target in found if "://" not in target]


def everything(group: click.Group, before: str = "") -> dict[str, click.Command]:
    """Every command by its full name, those of a group too; the group itself is only the way to them."""
    found: dict[str, click.Command] = {}
    for name, one in group.commands.items():
        found |= everything(one, f"{before}{name} ") if isinstance(one, click.Group) else {before + name: one}
    return found


COMMANDS = everything(commands)
"""Every command of the program by its full name, such as `voice list`."""
