"""The pictures of the documents, made by the program itself: `python tests/pictures.py` makes them anew.

`screen.svg` is what `cornercue play` draws on a terminal, cell for cell; `first-drill.svg` and `parry.svg` are what
`show --picture` and `techniques --picture` write: their times are estimated, so that every machine draws the same.
`page.png` is a photograph of the page in Chromium, as large as a phone.
"""

from __future__ import annotations

from collections.abc import Iterator
from html import escape
from pathlib import Path
from tempfile import TemporaryDirectory

from cornercue.picture.feed_picture import feed_svg
from cornercue.picture.svg import svg
from cornercue.player.letters import QUARTERS, cells
from cornercue.player.tide import DARK, TextRow, picture
from cornercue.player.tide import SURFACE as WATER
from cornercue.player.view import Moments
from cornercue.script.model import Drill
from cornercue.script.read import parse_drill, read_drill
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.parts import finest
from cornercue.timing.setting import Request
from cornercue.timing.timeline import Timeline
from documents import HOME, blocks
from page_in_chromium import CHROMIUM, FLAGS, begun, made, opened
from page_sound import at

FOLDER = HOME / "docs" / "pictures"

COLUMNS, ROWS = 96, 26
"""The terminal, in cells."""

WIDE, HIGH = 8, 16
"""One cell, in units of the drawing."""

CALLED = 200.0
"""Seconds after which a defence is being called, in the drill that is photographed."""


def laid_out(drill: Drill) -> Timeline:
    """The timeline without a voice."""
    return expand(drill, Request(seed=1), estimated_seconds)


def first_drill() -> str:
    """The script that the README shows."""
    return blocks("README.md", "yaml")[0]


def screen() -> str:
    """The terminal in the middle of the first combination that a student is called, as SVG."""
    line = laid_out(read_drill(HOME / "drills" / "first-combination.yaml"))
    moments = Moments(line, tuple(leaf.told for leaf in finest(line.parts)))
    calls = [cue for cue in line.cues if cue.kind == "call" and cue.hands]
    return terminal_svg(picture(moments.at(calls[3].start + 1), COLUMNS, ROWS, DARK))


def terminal_svg(rows: list[TextRow]) -> str:
    """Rows of cells as a drawing: letters as text, blocks as rectangles, so that they meet without a seam."""
    size = f"{COLUMNS * WIDE} {len(rows) * HIGH}"
    parts = [part for at, row in enumerate(rows) for part in _row(at * HIGH, row)]
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {size}" font-family="monospace" font-size="13" '
        f'shape-rendering="crispEdges" '
        f'role="img"><title>The terminal while a drill plays</title>\n{chr(10).join(parts)}\n</svg>\n'
    )


def _row(top: int, row: TextRow) -> Iterator[str]:
    left = 0
    for text, style, _ in row:
        assert style
        assert style.bgcolor
        assert style.color
        width, ink = cells(text) * WIDE, style.color.name
        yield f'<path fill="{style.bgcolor.name}" d="M{left} {top}h{width}v{HIGH}h-{width}z"/>'
        if blocks := "".join(_block(left + at * WIDE, top, sign) for at, sign in enumerate(text)):
            yield f'<path fill="{ink}" d="{blocks}"/>'
        elif words := text.strip():
            indent, length = (len(text) - len(text.lstrip())) * WIDE, cells(words) * WIDE
            weight = ' font-weight="bold"' if style.bold else ""
            yield (
                f'<text x="{left + indent}" y="{top + 12}" textLength="{length}" fill="{ink}"{weight} '
                f'xml:space="preserve">{escape(words, quote=False)}</text>'
            )
        left += width


def _block(left: int, top: int, sign: str) -> str:
    """What a block character fills of its cell, as part of a path; nothing for a letter."""
    if sign in WATER:
        height = HIGH * (WATER.index(sign) + 1) // 8
        return f"M{left} {top + HIGH - height}h{WIDE}v{height}h-{WIDE}z"
    quarters = max(QUARTERS.find(sign), 0)
    return "".join(
        f"M{left + at % 2 * WIDE // 2} {top + at // 2 * HIGH // 2}h{WIDE // 2}v{HIGH // 2}h-{WIDE // 2}z"
        for at in range(4)
        if quarters >> at & 1
    )


def pictures() -> dict[str, str]:
    """Every picture of the documents by its file's name."""
    head = '<?xml version="1.0"?>\n'
    return {
        "screen.svg": head + screen(),
        "first-drill.svg": f"{head}{svg(laid_out(parse_drill(first_drill())))}\n",
        "parry.svg": f"{head}{feed_svg('junior', 'parry', 'left')}\n",
    }


def photograph(folder: Path) -> bytes:
    """The page of a partner drill while a defence is called, made in `folder`, as PNG. It needs Chromium."""
    from playwright.sync_api import sync_playwright

    page = made(folder, (HOME / "drills" / "first-parry.yaml").read_text(encoding="utf-8"))
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        with opened(browser, page.file, size=(390, 760)) as view:
            begun(view, page.line)
            at(view, CALLED)
            picture = view.screenshot()
        browser.close()
    return picture


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for name, drawing in pictures().items():
        (FOLDER / name).write_text(drawing, encoding="utf-8")
    if CHROMIUM:
        with TemporaryDirectory() as folder:
            (FOLDER / "page.png").write_bytes(photograph(Path(folder)))
