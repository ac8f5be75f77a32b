"""The one way to a disk: a file or a folder is there whole or not at all, written beside its target, then renamed."""

from __future__ import annotations

import errno
import os
import secrets
import shutil
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from cornercue.errors import CornercueError, InputFault, MachineLacks

_NO_ROOM = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG)


@contextmanager
def written_whole(path: Path) -> Iterator[Path]:
    """Gives an empty hidden file in the folder of `path`; it takes that name only if the block ends well.

    However the block ends, Ctrl-C included, the hidden file is gone afterwards and `path` is either the new
    file or what it was before. Raises `InputFault` where `path` is no file's name, where there is no such folder or
    no permission, and `MachineLacks` for a full disk, also where the block meets it.
    """
    with _beside(path) as part:
        with _room(path):
            yield part
        with _explained(path):
            os.replace(part, path)


def write_whole(path: Path, content: str | bytes) -> None:
    """Writes text (as UTF-8) or bytes. Raises what `written_whole` raises."""
    with written_whole(path) as part, _explained(path):
        part.write_bytes(content.encode() if isinstance(content, str) else content)


def write_new(path: Path, text: str) -> None:
    """Writes a text that is not there yet. Raises `InputFault` for one that is, and what `written_whole` raises."""
    there = InputFault(f"{path} is there already; name another file")
    with _explained(path):
        if path.name and os.path.lexists(path):
            raise there
    with _beside(path) as part, _explained(path):
        part.write_bytes(text.encode())
        try:
            os.link(part, path)  # never in the place of another, whoever comes between
        except FileExistsError:
            raise there from None
        except OSError:  # a disk without links
            os.replace(part, path)


@contextmanager
def folder_written_whole(folder: Path) -> Iterator[Path]:
    """Gives an empty hidden folder beside `folder`, whose place it takes if the block ends well.

    What `folder` held before is gone then: the caller asks first. Folders above it are made. Raises `InputFault`
    where it cannot be written and `MachineLacks` for a full disk.
    """
    if not folder.name:
        raise InputFault(f"{folder}: give a folder's name, such as {folder / 'my-voice'}.")
    beside = _hidden(folder)
    try:
        with _explained(folder):
            folder_made(folder.parent)
            beside.mkdir()
        with _room(folder):
            yield beside
        with _explained(folder):
            _put(beside, folder)
    finally:
        shutil.rmtree(beside, ignore_errors=True)


def folder_made(folder: Path) -> Path:
    """The folder, made where it is not there yet. Raises `InputFault` where it cannot be and `MachineLacks`."""
    with _explained(folder):
        folder.mkdir(parents=True, exist_ok=True)
    return folder


@contextmanager
def folder_for_files(folder: Path) -> Iterator[None]:
    """Makes the folder and those above it; whichever of these are empty at the end are gone again.

    Raises `InputFault` where it cannot be made or written in, and `MachineLacks`.
    """
    new = [one for one in (folder, *folder.parents) if not os.path.lexists(one)]
    try:
        if not os.access(folder_made(folder), os.W_OK):
            raise InputFault(f"{folder}: writing is not allowed there; choose another folder.")
        yield
    finally:
        for one in new:
            with suppress(OSError):  # it has files, or was never made
                one.rmdir()


def _put(beside: Path, folder: Path) -> None:
    """The new folder in the place of the old one, which comes back if that fails."""
    old = beside.with_name(beside.name + ".old")
    if folder.exists():
        folder.rename(old)
    try:
        beside.rename(folder)
    except OSError:
        if old.exists():
            old.rename(folder)
        raise
    shutil.rmtree(old, ignore_errors=True)


@contextmanager
def _beside(path: Path) -> Iterator[Path]:
    """An empty hidden file in the folder of `path`, gone afterwards."""
    with _explained(path):
        if not path.name or (path.exists() and not path.is_file()):
            raise InputFault(f"{path}: that is not a file; give a file's name, such as {path / 'drill.wav'}.")
    part = _hidden(path)
    try:
        with _explained(path):
            part.open("xb").close()
        yield part
    finally:
        with suppress(OSError):  # the folder never let us in, or is gone: nothing of ours is in it
            part.unlink(missing_ok=True)


def _hidden(path: Path) -> Path:
    return path.with_name(f".cornercue-{secrets.token_hex(8)}.part")


@contextmanager
def _explained(path: Path) -> Iterator[None]:
    """Makes whatever the system answers a sentence about `path`."""
    try:
        yield
    except OSError as fault:
        raise _sentence(fault, path) from fault


@contextmanager
def _room(path: Path) -> Iterator[None]:
    """Makes a disk that takes no more a sentence about `path`; other faults are of something else."""
    try:
        yield
    except OSError as fault:
        if fault.errno in _NO_ROOM:
            raise _sentence(fault, path) from fault
        raise


def _sentence(fault: OSError, path: Path) -> CornercueError:
    """The sentence for what the system answered."""
    folder = path.parent
    match fault.errno:
        case errno.ENOENT | errno.ENOTDIR:
            return InputFault(f"{path}: there is no folder {folder}; make it first, or choose another.")
        case errno.EACCES | errno.EPERM | errno.EROFS:
            return InputFault(f"{path}: writing is not allowed in {folder}; choose another folder.")
        case errno.ENOSPC | errno.EDQUOT:
            return MachineLacks(f"{path}: there is no room left on the disk.")
        case errno.EFBIG:
            return MachineLacks(f"{path}: the disk takes no file as large as this one.")
        case _:
            return InputFault(f"{path}: it cannot be written there ({fault.strerror}).")
