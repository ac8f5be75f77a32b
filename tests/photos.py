"""Pictures as a club may have them, made by a library for pictures; and a library of drills that names them."""

from __future__ import annotations

from pathlib import Path

from PIL import Image

CLUB = """\
club: Saltmarsh Hall
words:
  tide kick: {like: side kick, picture: tide.jpg}
  heron:
    kind: stance
    sides: left/right
    picture: pictures/heron.png
  unseen: {like: jab, picture: tide.jpg}
"""
DRILL = """\
drill: Tide
junior: no
steps:
- combination:
  - lead tide kick: knee up first
  - cross: hip and hand together
  teach: 2
  reps: 4
- hold: heron
  for: 10 s
  check: [stand tall]
"""

UPRIGHT, LYING = 1, 6
"""How a camera was held, as Exif 2.3 has it (from memory): 6 is to be turned a quarter clockwise."""


def photograph(path: Path, size: tuple[int, int] = (800, 600), held: int = UPRIGHT) -> None:
    """A telephone's photograph: red above, blue below as it is meant to be seen; place and comments are in the file."""
    image = Image.new("RGB", size, "blue")
    image.paste("red", (0, 0, size[0], size[1] // 2))
    if held == LYING:
        image = image.transpose(Image.Transpose.ROTATE_90)
    tags = image.getexif()
    tags[0x0112], tags[0x010E] = held, "SECRET description"
    place = tags.get_ifd(0x8825)
    place[1], place[2] = "N", (51.0, 30.0, 12.0)
    image.save(path, exif=tags, comment=b"SECRET comment", icc_profile=b"SECRET profile", dpi=(123, 123))


def library(folder: Path) -> Path:
    """A club's library with two pictures; its drill's file."""
    root = folder / "library"
    (root / "pictures").mkdir(parents=True)
    (root / "evening").mkdir()
    photograph(root / "tide.jpg", held=LYING)
    drawing = Image.new("LA", (300, 900))
    drawing.paste((0, 255), (140, 100, 160, 800))  # a black stroke on nothing
    drawing.save(root / "pictures" / "heron.png")
    (root / "club.yaml").write_text(CLUB, encoding="utf-8")
    (root / "evening" / "tide.yaml").write_text(DRILL, encoding="utf-8")
    return root / "evening" / "tide.yaml"
