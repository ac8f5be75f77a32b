"""`--screen`: the drill's page in the browser."""

from __future__ import annotations

from typing import Any

import click

from cornercue.errors import MachineLacks
from cornercue.script.model import Drill


def open_page(script: str, drill: Drill, asked: dict[str, Any]) -> None:
    """Make the page, in the user's cache folder, and open it; its first button fills the screen."""
    import webbrowser

    from platformdirs import user_cache_path

    from cornercue.cli.page import built
    from cornercue.whole_files import written_whole

    text = built(script, drill, 4, asked, full_screen=True)
    folder = user_cache_path("cornercue", ensure_exists=True)
    path = folder / "drill.html"
    with written_whole(path) as part:
        part.write_text(text, encoding="utf-8")
    if not webbrowser.open(path.as_uri()):
        raise MachineLacks(
            f"No browser could be opened. The page is {path}; open it yourself, or leave out `--screen`."
        )
    click.echo("The drill is in your browser. Its Start button fills the screen.")
