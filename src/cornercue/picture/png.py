"""The picture as a PNG, through resvg (MIT): pip brings it with no other library, 3 MB on the disk."""

from __future__ import annotations

from cornercue.errors import MachineLacks

WIDTH = 1120
"""Pixels: two for each unit of the drawing."""


def png(svg: str) -> bytes:
    """The PNG of an SVG drawing, `WIDTH` pixels wide, in its light colours. Raises `MachineLacks`."""
    try:
        from resvg_py import svg_to_bytes
    except ImportError:
        raise MachineLacks("This Python has no `resvg-py`, which makes .png files; ask for .svg.") from None
    if not _has_fonts():
        raise MachineLacks("There is no font on this machine to write a .png with; ask for .svg.")
    return bytes(svg_to_bytes(svg_string=svg, width=WIDTH))


def _has_fonts() -> bool:
    """Whether letters leave a mark: without any font a drawing would silently have no words."""
    from resvg_py import svg_to_bytes

    def drawn(word: str) -> bytes:
        drawing = f'<svg xmlns="http://www.w3.org/2000/svg" width="40" height="40"><text y="30">{word}</text></svg>'
        return bytes(svg_to_bytes(svg_string=drawing))

    return drawn("M") != drawn("")
