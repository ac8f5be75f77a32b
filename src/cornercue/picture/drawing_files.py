"""The picture as a file: .svg or .png, by the name's ending."""

from __future__ import annotations

from pathlib import Path

from cornercue.errors import InputFault
from cornercue.picture.png import png
from cornercue.picture.svg import svg
from cornercue.timing.timeline import Timeline
from cornercue.whole_files import write_whole

SUFFIXES = (".svg", ".png")


def check_suffix(path: Path) -> None:
    """Raises `InputFault` for a name that is no picture's."""
    if path.suffix.lower() not in SUFFIXES:
        raise InputFault(f"{path}: the name of a picture must end in .svg or .png")


def write_picture(path: Path, timeline: Timeline) -> None:
    """Writes the picture of a drill. Raises `InputFault` or `MachineLacks`."""
    check_suffix(path)
    write_drawing(path, svg(timeline))


def write_drawing(path: Path, drawing: str) -> None:
    """Writes an SVG drawing, whole or not at all. Raises `InputFault` or `MachineLacks`."""
    check_suffix(path)
    data = png(drawing) if path.suffix.lower() == ".png" else f'<?xml version="1.0"?>\n{drawing}\n'.encode()
    write_whole(path, data)
