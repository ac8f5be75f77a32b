"""`--screen`: the drill's page in the browser."""

from __future__ import annotations

from cornercue.cli.progress import bar
from cornercue.errors import MachineLacks
from cornercue.printing import say
from cornercue.script.model import Drill
from cornercue.session.overrides import Overrides


def open_page(script: str, drill: Drill, asked: Overrides) -> None:
    """Make the page, in the user's cache folder, and open it; its first button fills the screen."""
    import webbrowser

    from platformdirs import user_cache_path

    from cornercue.session.page_text import page_text
    from cornercue.whole_files import folder_made, write_whole

    with bar("Making the voice") as progress:
        text = page_text(script, drill, asked, full_screen=True, progress=progress)
    path = folder_made(user_cache_path("cornercue")) / "drill.html"
    write_whole(path, text)
    if not webbrowser.open(path.as_uri()):
        raise MachineLacks(
            f"No browser could be opened. The page is {path}; open it yourself, or leave out `--screen`."
        )
    say("The drill is in your browser. Its Start button fills the screen.")
