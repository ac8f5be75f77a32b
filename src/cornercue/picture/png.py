"""The picture as a PNG, through resvg (MIT): pip brings it with no other library, 3 MB on the disk."""

from __future__ import annotations

from cornercue.errors import MachineLacks

WIDTH = 1120
"""Pixels: two for each unit of the drawing."""

FAMILIES = ("Arial", "DejaVu Sans", "Liberation Sans", "Noto Sans", "Helvetica")
"""What `sans-serif` may stand for: resvg knows the first alone, which a Linux machine often lacks."""


def png(svg: str) -> bytes:
    """The PNG of an SVG drawing, `WIDTH` pixels wide, in its light colours. Raises `MachineLacks`."""
    try:
        from resvg_py import svg_to_bytes
    except ImportError:
        raise MachineLacks("This Python has no `resvg-py`, which makes .png files; ask for .svg.") from None
    family = next((name for name in FAMILIES if _has(name)), None)
    if family is None:
        raise MachineLacks("There is no font on this machine to write a .png with; ask for .svg.")
    return bytes(svg_to_bytes(svg_string=svg, width=WIDTH, sans_serif_family=family))


def _has(family: str) -> bool:
    """Whether letters leave a mark: without a font a drawing would silently have no words."""
    from resvg_py import svg_to_bytes

    def drawn(word: str) -> bytes:
        text = f'<text y="30" font-family="sans-serif">{word}</text>'
        drawing = f'<svg xmlns="http://www.w3.org/2000/svg" width="40" height="40">{text}</svg>'
        return bytes(svg_to_bytes(svg_string=drawing, sans_serif_family=family))

    return drawn("M") != drawn("")
