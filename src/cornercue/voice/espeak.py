"""Which espeak-ng speaks on Linux: the system's own, or the one that the package espeakng-loader ships."""

from __future__ import annotations

import os
import sysconfig
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from importlib import metadata
from importlib.util import find_spec
from pathlib import Path

from cornercue.errors import MachineLacks

SONAME = "libespeak-ng.so.1"
"""The name by which pyttsx3 asks for the library."""

SYSTEM_FOLDERS = tuple(
    Path(folder)
    for folder in (
        "/usr/local/lib",
        f"/usr/lib/{sysconfig.get_config_var('MULTIARCH')}",
        "/usr/lib64",
        "/usr/lib",
    )
)


@dataclass(frozen=True)
class Library:
    """A shared library, its data folder where that must be named, and what tells it from every other version."""

    path: Path
    data: Path | None
    identity: str


def find_library(folders: Iterable[Path] = SYSTEM_FOLDERS) -> Library:
    """The first espeak-ng in these folders, else the one from PyPI; nothing is loaded. Raises MachineLacks."""
    for path in (folder / SONAME for folder in folders):
        if path.is_file():
            facts = path.stat()
            return Library(path, None, f"{path}:{facts.st_size}:{facts.st_mtime_ns}")
    return _shipped()


def _shipped() -> Library:
    package = find_spec("espeakng_loader")
    if package is None or package.origin is None:
        raise MachineLacks(
            "This machine has no voice. Install one: `pip install espeakng-loader`, or your system's espeak-ng "
            "(on Debian and Ubuntu: `sudo apt install espeak-ng`)."
        )
    folder = Path(package.origin).parent
    return Library(
        folder / "libespeak-ng.so", folder / "espeak-ng-data", f"espeakng-loader {metadata.version('espeakng-loader')}"
    )


def environment(library: Library, folder: Path) -> dict[str, str]:
    """The variables for a process that loads the library. `folder` is empty and stays while the process runs."""
    variables = dict(os.environ)
    if library.data:
        # By a short link: espeak-ng 1.52 cuts the path of its data folder at 160 characters.
        link = folder / "espeak-ng-data"
        link.symlink_to(library.data)
        variables["ESPEAK_DATA_PATH"] = str(link)
    return variables


def data_of(library: Library) -> Path:
    """Where a library has its data: as it says, beside it, or in /usr/share (Debian; Fedora and others)."""
    beside = library.path.with_name("espeak-ng-data")
    return library.data or (beside if beside.is_dir() else Path("/usr/share/espeak-ng-data"))


def languages_in(data: Path) -> Iterator[str]:
    """The codes of the languages that espeak-ng's data folder has voices for, dialects as their language."""
    for path in (data / "lang").rglob("*"):
        if path.is_file():
            words = path.read_text(encoding="utf-8", errors="replace").split()
            if "language" in words[:-1]:
                yield words[words.index("language") + 1].partition("-")[0]
