"""How pictures look: two inks, water and one accent, and patterns, so that no bar is told apart by colour alone.

Colours are presentation attributes, so that a picture needs no style sheet where a page's policy forbids one; the
classes beside them let a style sheet change the colours.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from types import MappingProxyType
from xml.etree.ElementTree import Element, SubElement

COLOURS: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "ground": ("#f3efe6", "#0f1d25"),
        "water": ("#c6d8dc", "#1d4050"),
        "ink": ("#16262e", "#f2f4ef"),
        "soft": ("#42545d", "#b7c6cb"),
        "accent": ("#7d3410", "#f2b27a"),
    }
)
"""Each colour on a light and on a dark ground: those of the page."""

FONT = "system-ui, sans-serif"
_NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""What XML 1.0 has no way to write (section 2.2, production 2)."""


def fill(colour: str) -> dict[str, str]:
    """The attributes of a filled shape."""
    return {"class": f"{colour}-fill", "fill": COLOURS[colour][0]}


def line(colour: str, width: float) -> dict[str, str]:
    """The attributes of a line."""
    return {"class": f"{colour}-line", "fill": "none", "stroke": COLOURS[colour][0], "stroke-width": number(width)}


def edged(shape: dict[str, str]) -> dict[str, str]:
    """A filled shape with a thin edge, for patterns and pale fills."""
    edge = line("ink", 0.7)
    classes = f"{shape.get('class', '')} {edge['class']}".strip()
    return {"class": classes, "fill": shape["fill"], "stroke": edge["stroke"], "stroke-width": edge["stroke-width"]}


def style() -> str:
    """The style sheet of a picture that stands alone: dark where the reader's screen is, and as wide as it fits."""
    dark = "".join(f".{name}-fill{{fill:{dark}}}.{name}-line{{stroke:{dark}}}" for name, (_, dark) in COLOURS.items())
    light_ground, dark_ground = COLOURS["ground"]
    return (
        f":root{{width:100%;height:auto;max-width:46rem;display:block;margin:0 auto;background:{light_ground}}}"
        f"@media(prefers-color-scheme:dark){{:root{{background:{dark_ground}}}{dark}}}"
    )


def themed() -> str:
    """The rules for a picture inside a page that has the colours as custom properties."""
    return "".join(f".{name}-fill{{fill:var(--{name})}}.{name}-line{{stroke:var(--{name})}}\n" for name in COLOURS)


def patterns(parent: Element) -> None:
    """Defines what bars are filled with, besides plain colours: `url(#picture-left)` and so on."""
    defs = SubElement(parent, "defs")
    pattern(defs, "left", 5, "ground", {"d": "M-1 6L6-1M-1 1L1-1M4 6L6 4", **line("ink", 1.3)})
    pattern(defs, "right", 4, "ground", {"d": "M1 1h1.8v1.8H1z", **fill("ink")})
    pattern(defs, "southpaw", 4, "ground", {"d": "M1 0v4", **line("ink", 1.8)})
    pattern(defs, "rest", 7, "water", {"d": "M-1 3L3-1M-1 10L10-1M5 9L9 5", **line("ink", 0.9)})


def pattern(defs: Element, name: str, size: int, ground: str, mark: dict[str, str]) -> None:
    side = str(size)
    tile = SubElement(
        defs, "pattern", {"id": f"picture-{name}", "width": side, "height": side, "patternUnits": "userSpaceOnUse"}
    )
    SubElement(tile, "rect", {"width": side, "height": side, **fill(ground)})
    SubElement(tile, "path", mark)


def text(parent: Element, x: float, y: float, words: str, size: float = 16, **more: str) -> None:
    """Words with their baseline at `y`, in ink; `anchor` and `weight` as SVG has them."""
    attributes = {"x": number(x), "y": number(y), "font-size": number(size), **fill(more.get("colour", "ink"))}
    for ours, theirs in (("anchor", "text-anchor"), ("weight", "font-weight")):
        if ours in more:
            attributes[theirs] = more[ours]
    SubElement(parent, "text", attributes).text = written(words)


def written(words: str) -> str:
    """Words as XML can hold them, on one line: what it cannot hold becomes the replacement character."""
    return _NOT_XML.sub("\N{REPLACEMENT CHARACTER}", " ".join(words.split()))


def number(value: float) -> str:
    """A length to a hundredth of a unit."""
    return f"{value:.2f}".rstrip("0").rstrip(".")


def width_of(words: str, size: float) -> float:
    """About how wide words are, rather too wide: no font is at hand to measure them."""
    wide = sum(1.8 if unicodedata.east_asian_width(sign) in "WF" else 1 for sign in words)
    return wide * 0.58 * size


def lines_of(words: str, size: float, room: float) -> list[str]:
    """Words broken into lines that fit; a word wider than the room is cut."""
    lines: list[str] = []
    for word in words.split():
        while width_of(word, size) > room and len(word) > 1:
            most = max(1, int(len(word) * room / width_of(word, size)))
            lines.append(word[:most])
            word = word[most:]
        if lines and width_of(f"{lines[-1]} {word}", size) <= room:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines or [""]
