"""A file or a folder is there whole or not at all, and never in the place of what nobody gave up."""

from __future__ import annotations

import errno
import os
from pathlib import Path
from typing import NoReturn

import pytest

from cornercue.errors import CornercueError, InputFault, MachineLacks
from cornercue.whole_files import folder_made, folder_written_whole, write_new, write_whole, written_whole


def half_written(path: Path, fault: BaseException) -> NoReturn:
    path.write_text("half")
    raise fault


def test_what_was_there_stays_until_the_new_one_is_whole(tmp_path: Path) -> None:
    path = tmp_path / "drill.txt"
    write_whole(path, "first")
    with pytest.raises(KeyboardInterrupt), written_whole(path) as part:
        half_written(part, KeyboardInterrupt())
    assert (path.read_text(), [*tmp_path.iterdir()]) == ("first", [path])
    write_whole(path, b"second")
    assert (path.read_text(), [*tmp_path.iterdir()]) == ("second", [path])


@pytest.mark.parametrize("links", [True, False], ids=["a disk with links", "a disk without"])
def test_a_new_file_never_takes_the_place_of_another(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, links: bool
) -> None:
    def refuse(one: Path, other: Path) -> None:
        raise OSError(errno.EPERM, os.strerror(errno.EPERM))  # link(2): a file system that has no links

    if not links:
        monkeypatch.setattr(os, "link", refuse)
    path = tmp_path / "mine.yaml"
    write_new(path, "mine · 내 것")
    with pytest.raises(InputFault, match="is there already; name another file"):
        write_new(path, "another's")
    assert path.read_text(encoding="utf-8") == "mine · 내 것"
    assert [*tmp_path.iterdir()] == [path]


def test_a_new_file_that_somebody_else_makes_at_the_same_time_is_theirs(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "mine.yaml"
    link = os.link

    def too_late(one: Path, other: Path) -> None:
        other.write_text("theirs")
        link(one, other)

    monkeypatch.setattr(os, "link", too_late)
    with pytest.raises(InputFault, match="is there already"):
        write_new(path, "mine")
    assert (path.read_text(), [*tmp_path.iterdir()]) == ("theirs", [path])


def test_a_link_that_leads_nowhere_is_something_that_is_there(tmp_path: Path) -> None:
    (tmp_path / "mine.yaml").symlink_to(tmp_path / "nowhere")
    with pytest.raises(InputFault, match="is there already"):
        write_new(tmp_path / "mine.yaml", "mine")


def test_a_folder_takes_the_place_of_the_old_one_whole(tmp_path: Path) -> None:
    folder = tmp_path / "above" / "voice"
    with folder_written_whole(folder) as beside:
        (beside / "one").write_text("1")
    with pytest.raises(KeyboardInterrupt), folder_written_whole(folder) as beside:
        half_written(beside / "two", KeyboardInterrupt())
    assert [path.name for path in folder.iterdir()] == ["one"]
    with folder_written_whole(folder) as beside:
        (beside / "two").write_text("2")
    assert [path.name for path in folder.iterdir()] == ["two"]
    assert [*folder.parent.iterdir()] == [folder]


@pytest.mark.parametrize(("number", "kind", "sentence"), [
    (errno.ENOSPC, MachineLacks, "there is no room left on the disk"),
    (errno.EFBIG, MachineLacks, "takes no file as large as this"),
])  # fmt: skip
def test_a_disk_that_fills_up_meanwhile_is_told_and_nothing_is_left(
    tmp_path: Path, number: int, kind: type[CornercueError], sentence: str
) -> None:
    with pytest.raises(kind, match=sentence), written_whole(tmp_path / "one") as part:
        half_written(part, OSError(number, os.strerror(number)))
    with pytest.raises(kind, match=sentence), folder_written_whole(tmp_path / "two") as beside:
        half_written(beside / "half", OSError(number, os.strerror(number)))
    assert [*tmp_path.iterdir()] == []


def test_a_fault_of_something_else_is_not_taken_for_one_of_the_file(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError), written_whole(tmp_path / "one"):
        (tmp_path / "a recording that is not").read_bytes()


def test_a_file_in_the_place_of_a_folder_is_told(tmp_path: Path) -> None:
    (tmp_path / "cache").write_text("")
    with pytest.raises(InputFault, match="cannot be written there"):
        folder_made(tmp_path / "cache")
