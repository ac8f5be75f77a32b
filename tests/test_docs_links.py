"""Every document names its reader, and what it points to is there: files, headings, pictures."""

from __future__ import annotations

import re

import pytest

from documents import DOCUMENTS, HOME, PAGES, anchors, links, prose, text_of, ticked

FOLDERS = ("src", "tests", "docs", "drills", ".ci")
"""What stands in backticks and begins with one of these is a path of the project."""


@pytest.mark.parametrize("document", DOCUMENTS)
def test_every_link_leads_to_a_file_or_a_heading_that_is_there(document: str) -> None:
    here = (HOME / document).parent
    for target in links(document):
        path, _, heading = target.partition("#")
        other = (here / path).resolve() if path else HOME / document
        assert other.exists(), f"{document}: {target}"
        if heading:
            assert heading in anchors(other.relative_to(HOME).as_posix()), f"{document}: {target}"


@pytest.mark.parametrize("document", DOCUMENTS)
def test_every_path_in_backticks_is_there(document: str) -> None:
    for words in ticked(document):
        if re.fullmatch(rf"({'|'.join(map(re.escape, FOLDERS))})/[\w./-]+", words):
            assert (HOME / words).exists(), f"{document}: {words}"


@pytest.mark.parametrize("document", DOCUMENTS)
def test_every_module_that_is_named_is_there(document: str) -> None:
    """Named from its package on, such as `timing/steps.py`, or by its file alone."""
    modules = [path.as_posix() for folder in ("src", "tests") for path in (HOME / folder).rglob("*.py")]
    for words in ticked(document):
        if re.fullmatch(r"[\w/]+\.py", words):
            assert any(module.endswith(f"/{words}") for module in modules), f"{document}: {words}"


@pytest.mark.parametrize("page", PAGES)
def test_a_page_says_first_for_whom_it_is(page: str) -> None:
    title, blank, reader, *_ = text_of(page).splitlines()
    assert title.startswith("# ")
    assert blank == ""
    assert reader.startswith("*For ")


@pytest.mark.parametrize("page", PAGES)
def test_the_readme_leads_to_every_page(page: str) -> None:
    assert page in links("README.md")


@pytest.mark.parametrize("document", DOCUMENTS)
def test_lines_can_be_read_in_an_editor(document: str) -> None:
    """Rows of tables cannot be broken; other lines have at most 150 characters."""
    assert [line for line in prose(document).splitlines() if len(line) > 150 and not line.startswith("|")] == []


@pytest.mark.parametrize("document", ["README.md", "DEVELOPERS.md"])
def test_what_everybody_reads_first_is_short(document: str) -> None:
    assert len(text_of(document).splitlines()) <= 160
