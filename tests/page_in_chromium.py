"""Helpers for tests of the offline page: made by the command, opened in a real Chromium, as a user has it."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from cornercue.cli.main import commands

CHROMIUM = shutil.which("chromium")
FLAGS = ["--no-sandbox", "--disable-gpu", "--autoplay-policy=no-user-gesture-required", "--no-first-run",
         "--disable-background-networking", "--disable-component-update", "--disable-sync"]  # fmt: skip


def made(folder: Path, text: str, *options: str) -> Path:
    """The page of a drill script, beside it in `folder`."""
    script, page = folder / "drill.yaml", folder / "drill.html"
    script.write_text(text, encoding="utf-8")
    result = CliRunner().invoke(
        commands, ["page", str(script), "-o", str(page), "--seed", "5", "--voice", "system", *options]
    )
    assert result.exit_code == 0, result.output
    return page


@contextmanager
def chromium() -> Iterator[Any]:
    """The browser; sound begins without a touch, since tests have no fingers."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield browser
        browser.close()


def until(view: Any, holds: str) -> None:
    """Wait until something holds on the page; its policy lets no page wait by itself for words of ours."""
    for _ in range(400):
        if view.evaluate(holds):
            return
        view.wait_for_timeout(25)
    pytest.fail(f"never: {holds}")


def at(view: Any, seconds: float) -> None:
    """Playing from a moment of the drill, and seen there."""
    view.evaluate(f"play({seconds})")
    until(view, f"position() >= {seconds}")
    until(view, "element('call').textContent !== 'PAUSED'")
