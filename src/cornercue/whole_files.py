"""A file is there whole or not at all: written beside its target, then renamed."""

from __future__ import annotations

import errno
import os
import secrets
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from cornercue.errors import CornercueError, InputFault, MachineLacks


@contextmanager
def written_whole(path: Path) -> Iterator[Path]:
    """Gives an empty hidden file in the folder of `path`; it takes that name only if the block ends well.

    However the block ends, Ctrl-C included, the hidden file is gone afterwards and `path` is either the new
    file or what it was before. Raises `InputFault` where there is no such folder or no permission and
    `MachineLacks` for a full disk.
    """
    part = path.with_name(f".cornercue-{secrets.token_hex(8)}.part")
    try:
        _claim(part, path)
        yield part
        _rename(part, path)
    finally:
        _forget(part)


def _claim(part: Path, path: Path) -> None:
    try:
        if path.exists() and not path.is_file():
            raise InputFault(f"{path}: that is not a file; give a file's name, such as {path / 'drill.wav'}.")
        part.open("xb").close()
    except OSError as fault:
        raise _explained(fault, path) from fault


def _rename(part: Path, path: Path) -> None:
    try:
        os.replace(part, path)
    except OSError as fault:
        raise _explained(fault, path) from fault


def _forget(part: Path) -> None:
    try:
        part.unlink(missing_ok=True)
    except OSError:
        # The folder never let us in, or is gone: nothing of ours is in it, and the first fault counts.
        return


def _explained(fault: OSError, path: Path) -> CornercueError:
    """The sentence for what the system answered."""
    folder = path.parent
    match fault.errno:
        case errno.ENOENT | errno.ENOTDIR:
            return InputFault(f"{path}: there is no folder {folder}; make it first, or choose another.")
        case errno.EACCES | errno.EPERM | errno.EROFS:
            return InputFault(f"{path}: writing is not allowed in {folder}; choose another folder.")
        case errno.ENOSPC | errno.EDQUOT:
            return MachineLacks(f"{path}: there is no room left on the disk.")
        case _:
            return InputFault(f"{path}: it cannot be written there ({fault.strerror}).")
