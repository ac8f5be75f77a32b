"""A word's picture: found in the library and nowhere else, and refused before it can do harm, at its line."""

from __future__ import annotations

import struct
import zlib
from pathlib import Path

import pytest
from PIL import Image

from cornercue.script.faults import ScriptFaults
from cornercue.script.photo import MAX_BYTES, MAX_PIXELS
from cornercue.script.read import parse_drill, read_drill
from photos import CLUB, library, photograph


@pytest.fixture
def script(tmp_path: Path) -> Path:
    return library(tmp_path)


def faults(script: Path) -> list[str]:
    with pytest.raises(ScriptFaults) as caught:
        read_drill(script)
    return [str(fault) for fault in caught.value.faults]


def header(width: int, height: int) -> bytes:
    """The beginning of a PNG that says it is so large, and holds next to nothing (PNG specification, 5.3 and 11.2)."""
    facts = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", facts) + chunk(b"IDAT", zlib.compress(b"\0")) + chunk(b"IEND", b"")


def chunk(name: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))


SVG = b"<svg xmlns='http://www.w3.org/2000/svg'/>"
HEIC = b"\0\0\0\x18ftypheic\0\0\0\0heicmif1"


def test_a_script_knows_the_pictures_of_its_club_by_their_words(script: Path) -> None:
    photos = read_drill(script).photos
    assert {word: photo.path.name for word, photo in photos.items()} == {
        "tide kick": "tide.jpg", "heron": "heron.png", "unseen": "tide.jpg",
    }  # fmt: skip
    assert (photos["heron"].line, photos["heron"].column) == (7, 5)


def test_a_picture_lies_beside_the_file_that_names_it(script: Path) -> None:
    photograph(script.parent / "own.jpg")
    inner = "drill: Inner\nwords:\n  ebb: {like: jab, picture: own.jpg}\nsteps:\n- combination: [ebb]\n"
    (script.parent / "inner.yaml").write_text(inner, encoding="utf-8")
    (script.parent.parent / "outer.yaml").write_text("drill: Outer\nsteps:\n- include: evening/inner.yaml\n", "utf-8")
    found = read_drill(script.parent.parent / "outer.yaml").photos["ebb"]
    assert found.path.resolve() == (script.parent / "own.jpg").resolve()


@pytest.mark.parametrize(
    ("name", "content", "fault"),
    [
        ("none.jpg", None, "there is no picture `none.jpg` in this folder"),
        ("../secret.jpg", None, "`../secret.jpg` lies outside the folder of club.yaml; pictures stay inside it"),
        ("/etc/hostname", None, "`/etc/hostname` lies outside the folder of club.yaml"),
        ("evening", None, "there is no picture `evening` in this folder"),
        ("''", None, "the name of a picture's file belongs here, such as `tide-kick.jpg`"),
        ("[a]", None, "the name of a picture's file belongs here"),
        ("a.svg", SVG, "`a.svg` is a drawing in SVG, which may hold a program;"),
        ("a.jpg", SVG, "`a.jpg` is no picture that can be read here; save it as"),
        ("a.jpg", b"", "`a.jpg` is no picture that can be read here; save it as JPEG or PNG"),
        ("a.jpg", b"\xff\xd8\xff\xe0broken", "`a.jpg` is no picture that can be read here"),
        ("a.png", b"\x89PNG\r\n\x1a\n", "`a.png` is no picture that can be read here"),
        ("a.heic", HEIC, "`a.heic` is no picture that can be read here; save it as JPEG"),
        ("a.png", header(7072, 7072), "`a.png` has more than 50 million pixels; save it smaller"),
        ("a.png", header(20_000, 20_000), "`a.png` has more than 50 million pixels; save it smaller"),
        ("a.png", header(2_000_000, 2_000_000), "`a.png` has more than 50 million pixels; save it smaller"),
    ],
)  # fmt: skip
def test_what_cannot_be_shown_is_told_at_its_place(script: Path, name: str, content: bytes | None, fault: str) -> None:
    root = script.parent.parent
    photograph(root.parent / "secret.jpg")
    if content is not None:
        (root / name).write_bytes(content)
    (root / "club.yaml").write_text(f"club: A\nwords:\n  ebb: {{like: jab, picture: {name}}}\n", encoding="utf-8")
    (found,) = faults(script)
    assert found.startswith(f"{root}/club.yaml:3:20: {fault}")


def test_the_bounds_are_those_that_are_told(script: Path) -> None:
    root = script.parent.parent
    (root / "tide.jpg").write_bytes(header(10_000, MAX_PIXELS // 10_000))
    assert read_drill(script).photos["tide kick"]
    with (root / "tide.jpg").open("ab") as file:
        file.truncate(MAX_BYTES + 1)
    assert "`tide.jpg` has 20 MB, of 20 at most; save it smaller" in faults(script)[0]


def test_a_link_that_leads_out_of_the_library_is_refused(script: Path) -> None:
    root = script.parent.parent
    photograph(root.parent / "secret.jpg")
    (root / "tide.jpg").unlink()
    (root / "tide.jpg").symlink_to(root.parent / "secret.jpg")
    assert "`tide.jpg` lies outside the folder of club.yaml" in faults(script)[0]


@pytest.mark.parametrize(("kind", "name"), [("PNG", "a.png"), ("GIF", "a.gif"), ("WEBP", "a.webp"), ("TIFF", "a.jpg")])
def test_what_moves_and_what_is_in_odd_formats_is_refused(script: Path, kind: str, name: str) -> None:
    root = script.parent.parent
    one, other = (Image.new("RGB", (40, 30), colour) for colour in ("red", "blue"))
    one.save(root / name, kind, save_all=True, append_images=[other])
    (root / "club.yaml").write_text(CLUB.replace("tide.jpg", name), encoding="utf-8")
    why = f"`{name}` {'moves; save one picture of it' if kind == 'PNG' else 'is no picture that can be read here'}"
    assert [why in fault for fault in faults(script)] == [True, True]


def test_a_text_that_is_no_file_has_no_pictures() -> None:
    with pytest.raises(ScriptFaults, match="`picture` works only in a script that is a file"):
        parse_drill("drill: A\nwords:\n  ebb: {like: jab, picture: a.jpg}\nsteps:\n- say: hi\n")
