"""Folders of scripts: which scripts are in one, and the file that each of them becomes in another."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from os.path import isdir, lexists
from pathlib import Path

from cornercue.errors import InputFault
from cornercue.script.club import NAME as CLUB_FILE


def scripts_in(paths: Iterable[str | Path]) -> Iterator[Path]:
    """The files named, and every .yaml or .yml file of the folders named but a club's. Raises `InputFault` for none."""
    for path in map(Path, paths):
        if isdir(path):
            found = sorted(
                file for suffix in ("*.yaml", "*.yml") for file in path.rglob(suffix) if file.name != CLUB_FILE
            )
            if not found:
                raise InputFault(f"{path}: there is no script in this folder; `cornercue new FILE` writes one")
            yield from found
        else:
            yield path


def file_named(output: str, script: str, ending: str) -> Path:
    """The path of the one file that a script becomes. Raises `InputFault` where it is a folder."""
    if isdir(output):
        example = Path(output, Path(script).stem + ending)
        raise InputFault(f"{output}: that is a folder, and one script becomes one file; name it, such as {example}.")
    return Path(output)


def files_for(folder: str | Path, output: str | Path, ending: str) -> dict[Path, Path]:
    """The file that each script of a folder becomes in the folder `output`: its name with `ending`, its folders kept.

    Raises `InputFault` for a folder without a script, an `output` that is or means a file, and two scripts that would
    become one file; names that differ in capitals only are one on many disks.
    """
    if not isdir(output) and (not str(output) or lexists(output) or _means_a_file(Path(output))):
        raise InputFault(f"{output}: a folder of scripts becomes a folder of files; name a folder, such as `tracks`.")
    files = {script: Path(output, script.relative_to(folder)).with_suffix(ending) for script in scripts_in([folder])}
    first: dict[str, Path] = {}
    for script, file in files.items():
        other = first.setdefault(str(file).casefold(), script)
        if other != script:
            raise InputFault(f"{other} and {script} would both become {file}; rename one of them.")
    return files


def _means_a_file(path: Path) -> bool:
    from cornercue.track.sound_files import FORMATS  # slow to import, and `check` does without

    return path.suffix.lower() in (*FORMATS, ".html", ".htm")
