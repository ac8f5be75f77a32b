"""Scripts as files: what cannot be read, and what scripts may include."""

from __future__ import annotations

from pathlib import Path

import pytest

from cornercue.script.faults import ScriptFaults
from cornercue.script.model import Include
from cornercue.script.read import MAX_INCLUDES, MAX_NESTED_INCLUDES, read_drill

SAY = "drill: Inner\nsteps:\n- say: hi\n"


def faults_in(path: Path) -> list[str]:
    """Every fault of a file as it is shown, without the folder's name."""
    with pytest.raises(ScriptFaults) as caught:
        read_drill(path)
    return [str(fault).replace(f"{path.parent}/", "") for fault in caught.value.faults]


def write(folder: Path, **scripts: str) -> Path:
    """Writes scripts, named without their suffix; returns the path of the first."""
    for name, text in scripts.items():
        (folder / f"{name}.yaml").write_text(text, encoding="utf-8")
    return folder / f"{next(iter(scripts))}.yaml"


def including(*names: str) -> str:
    return "drill: Outer\nsteps:\n" + "".join(f"- include: {name}\n" for name in names)


@pytest.mark.parametrize(
    ("content", "fault"),
    [
        (b"", "a.yaml:1:1: the file is empty; `cornercue new FILE` writes a script"),
        (b"drill: A\nsteps:\n- say: caf\xe9\n", "a.yaml:3:11: this is not UTF-8 text; save the file as UTF-8"),
        ("drill: A\nsteps: []".encode("utf-16"), "a.yaml:1:1: this is not UTF-8 text; save the file as UTF-8"),
        (b"drill: A\nsteps:\n- say: a\0b\n", "a.yaml:3:9: a character that text cannot hold; delete it and type it"),
        (b"\0" * 1000, "a.yaml:1:1: a character that text cannot hold; delete it and type it again"),
        (b"# " + b"x" * 200_000, "a.yaml:1:1: the file is larger than 200 kB; a drill script is a page or two"),
    ],
)
def test_a_file_that_is_no_script(tmp_path: Path, content: bytes, fault: str) -> None:
    path = tmp_path / "a.yaml"
    path.write_bytes(content)
    (found,) = faults_in(path)
    assert found.startswith(fault)


def test_a_huge_file_is_refused_without_reading_it_all(tmp_path: Path) -> None:
    path = tmp_path / "a.yaml"
    with path.open("wb") as file:
        file.truncate(50_000_000_000)  # a sparse file: 50 GB that take no room
    assert faults_in(path) == [
        "a.yaml:1:1: the file is larger than 200 kB; a drill script is a page or two of text",
    ]


def test_a_folder_and_a_missing_file(tmp_path: Path) -> None:
    (tmp_path / "a.yaml").mkdir()
    assert faults_in(tmp_path / "a.yaml") == ["a.yaml:1:1: this is a folder; name a script file in it"]
    assert faults_in(tmp_path / "b.yaml") == ["b.yaml:1:1: there is no such file"]
    (found,) = faults_in(tmp_path / ("x" * 300))
    assert "the file cannot be read: File name too long" in found
    (tmp_path / "loop.yaml").symlink_to("loop.yaml")
    (found,) = faults_in(tmp_path / "loop.yaml")
    assert found.startswith("loop.yaml:1:1: the file cannot be read: ")


def test_a_byte_order_mark_and_windows_line_ends_are_no_fault(tmp_path: Path) -> None:
    path = tmp_path / "a.yaml"
    path.write_bytes(b"\xef\xbb\xbfdrill: A\r\nsteps:\r\n- say: hi\r\n- sey: ho\r\n")
    assert faults_in(path)[0].startswith("a.yaml:4:3: `sey` is not a kind of step; did you mean `say`?")


def test_a_script_includes_others_of_its_folder_and_below(tmp_path: Path) -> None:
    (tmp_path / "low").mkdir()
    write(tmp_path / "low", b=including("../c.yaml"))
    path = write(tmp_path, a=including("low/b.yaml", "c.yaml"), c=SAY)
    first, second = read_drill(path).steps
    assert isinstance(first, Include)
    assert isinstance(second, Include)
    inner = first.include.drill.steps[0]
    assert isinstance(inner, Include)
    assert inner.include.drill == second.include.drill
    assert second.include.drill.drill == "Inner"


def test_an_include_circle_is_refused(tmp_path: Path) -> None:
    path = write(tmp_path, a=including("b.yaml"), b=including("c.yaml"), c=including("a.yaml"))
    found = faults_in(path)
    assert found[0] == "a.yaml:3:12: `b.yaml` cannot be included until it is mended"
    assert found[2] == (
        "c.yaml:3:12: the includes go round in a circle: a.yaml includes b.yaml includes c.yaml includes a.yaml"
    )
    itself = write(tmp_path, d=including("d.yaml"))
    assert faults_in(itself) == ["d.yaml:3:12: the includes go round in a circle: d.yaml includes d.yaml"]


def test_a_circle_through_a_link_is_refused(tmp_path: Path) -> None:
    path = write(tmp_path, a=including("b.yaml"))
    (tmp_path / "b.yaml").symlink_to("a.yaml")
    assert "the includes go round in a circle: a.yaml includes a.yaml" in faults_in(path)[0]


@pytest.mark.parametrize("way", ["../outside.yaml", "sub/../../outside.yaml", "link.yaml", "linked/outside.yaml"])
def test_an_include_that_climbs_out_is_refused(tmp_path: Path, way: str) -> None:
    library = tmp_path / "library"
    library.mkdir()
    (library / "sub").mkdir()
    write(tmp_path, outside=SAY)
    (library / "link.yaml").symlink_to(tmp_path / "outside.yaml")
    (library / "linked").symlink_to(tmp_path)
    path = write(library, a=including(way))
    assert faults_in(path) == [
        f"a.yaml:3:12: `{way}` lies outside the folder of this script; "
        "includes stay inside it: copy the script into it",
    ]


def test_an_include_by_absolute_path_is_refused(tmp_path: Path) -> None:
    for outside in ("/etc/passwd", "/dev/zero", str(tmp_path.parent / "outside.yaml")):
        path = write(tmp_path, a=including(outside))
        assert faults_in(path) == [
            f"a.yaml:3:12: `{outside}` lies outside the folder of this script; "
            "includes stay inside it: copy the script into it",
        ]


def test_an_inner_include_may_not_leave_the_folder_of_the_outermost_script(tmp_path: Path) -> None:
    library = tmp_path / "library"
    (library / "low").mkdir(parents=True)
    write(tmp_path, outside=SAY)
    write(library / "low", b=including("../../outside.yaml"))
    path = write(library, a=including("low/b.yaml"))
    assert any("low/b.yaml:3:12: `../../outside.yaml` lies outside the folder" in fault for fault in faults_in(path))


@pytest.mark.parametrize(
    ("value", "fault"),
    [
        ("nothing.yaml", "there is no script `nothing.yaml` in this folder"),
        (".", "there is no script `.` in this folder"),
        ("loop.yaml", "there is no script `loop.yaml` in this folder"),
        ("x" * 300, "there is no script `xxxx"),
        ("[b.yaml]", "the name of a script file belongs here, such as `warm-up.yaml`"),
        ('"\\0"', "the name of a script file belongs here, such as `warm-up.yaml`"),
        ("'  '", "the name of a script file belongs here, such as `warm-up.yaml`"),
    ],
)
def test_an_include_of_nothing_is_refused(tmp_path: Path, value: str, fault: str) -> None:
    (tmp_path / "loop.yaml").symlink_to("loop.yaml")
    (found,) = faults_in(write(tmp_path, a=including(value)))
    assert found.startswith(f"a.yaml:3:12: {fault}")


def test_the_faults_of_an_included_file_are_told_at_their_place(tmp_path: Path) -> None:
    path = write(
        tmp_path,
        a="drill: A\nsteps:\n- sey: hi\n- include: b.yaml\n",
        b="drill: B\nlevle: 2\nsteps:\n- combination: [jab, crss]\n",
    )
    assert [fault.split("; ")[0] for fault in faults_in(path)] == [
        "a.yaml:3:3: `sey` is not a kind of step",
        "a.yaml:4:12: `b.yaml` cannot be included until it is mended",
        "b.yaml:2:1: a drill script has no `levle`",
        "b.yaml:4:22: `crss` is not a technique",
    ]


def test_a_faulty_file_included_twice_at_every_level_is_read_once(tmp_path: Path) -> None:
    """Two includes a level and faults at the bottom: read anew each time, that would be 2^n readings."""
    deep = MAX_NESTED_INCLUDES
    names = {f"s{n}": including(f"s{n + 1}.yaml", f"s{n + 1}.yaml") for n in range(deep)}
    found = faults_in(write(tmp_path, **names, **{f"s{deep}": "drill: A\nsteps:\n- sey: hi\n"}))
    assert sum("is not a kind of step" in fault for fault in found) == 1
    assert len(found) == 2 * deep + 1


def test_includes_may_be_nested_only_so_deep(tmp_path: Path) -> None:
    names = {f"s{n}": including(f"s{n + 1}.yaml") for n in range(150)}
    write(tmp_path, **names, s150=SAY)
    assert any(
        f"includes are nested more than {MAX_NESTED_INCLUDES} deep" in one for one in faults_in(tmp_path / "s0.yaml")
    )
    assert read_drill(tmp_path / f"s{150 - MAX_NESTED_INCLUDES}.yaml")
    assert faults_in(tmp_path / f"s{149 - MAX_NESTED_INCLUDES}.yaml")


def test_the_depth_of_includes_counts_files_that_were_read_before(tmp_path: Path) -> None:
    """Innermost first, so that each file is known, and shallow, when the next one includes it."""
    chain = {f"s{n}": including(f"s{n - 1}.yaml") for n in range(1, 50)}
    path = write(tmp_path, a=including(*(f"s{n}.yaml" for n in range(50))), s0=SAY, **chain)
    assert any(f"nested more than {MAX_NESTED_INCLUDES} deep" in fault for fault in faults_in(path))


def test_a_session_of_very_many_files_is_refused(tmp_path: Path) -> None:
    others = {f"s{n}": SAY for n in range(MAX_INCLUDES + 1)}
    path = write(tmp_path, a=including(*(f"{name}.yaml" for name in others)), **others)
    assert faults_in(path) == [
        f"a.yaml:{MAX_INCLUDES + 3}:12: more than {MAX_INCLUDES} files are included; split the session",
    ]
