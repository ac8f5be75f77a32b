"""The pictures of the documents are small, used, and those that the program draws today."""

from __future__ import annotations

from pathlib import Path

import pytest

from documents import DOCUMENTS, HOME, links
from pictures import FOLDER, pictures

FILES = sorted(FOLDER.iterdir())
DRAWN = pictures()


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.name)
def test_a_picture_is_small_and_shown_somewhere(file: Path) -> None:
    assert file.stat().st_size < 150_000
    shown = [(HOME / document).parent / target for document in DOCUMENTS for target in links(document)]
    assert file in [path.resolve() for path in shown]


@pytest.mark.parametrize("name", DRAWN)
def test_a_drawing_is_what_the_program_draws_today(name: str) -> None:
    assert (FOLDER / name).read_text(encoding="utf-8") == DRAWN[name], "make them anew: python tests/pictures.py"
