"""A club's picture of a word: looked up beside the file that names it, and looked at before any of it is decoded."""

from __future__ import annotations

import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from os.path import isfile, realpath
from pathlib import Path
from typing import TYPE_CHECKING, Any, Protocol

from pydantic_core import PydanticCustomError

from cornercue.script.faults import Fault
from cornercue.script.fields import wrong
from cornercue.script.source import Path_, Source

if TYPE_CHECKING:
    from PIL.Image import Image

MAX_BYTES, MAX_PIXELS = 20_000_000, 50_000_000
"""Of a picture's file, and of the picture by its header: what a telephone makes has 3 to 10 MB and up to 50 megapixels
(from memory)."""

FORMATS = ("JPEG", "PNG")
"""What is read. Of other formats WebP is decoded before its size is known, and SVG may hold a program."""

SAVE_AS = "save it as JPEG or PNG"


@dataclass(frozen=True, slots=True)
class Photo:
    """A picture's file, and where the script names it."""

    path: Path
    file: str
    line: int
    column: int

    def fault(self, text: str) -> Fault:
        """What is wrong with it, told where it is named."""
        return Fault(self.file, self.line, self.column, text)


class PhotoFinder(Protocol):
    """Finds the picture that stands at a path of a table; raises a fault of a value."""

    def __call__(self, here: Path_, value: Any) -> Photo: ...


def no_photo(here: Path_, value: Any) -> Photo:
    """For a text that is no file: it has no folder to look in."""
    raise wrong("`picture` works only in a script that is a file")


def photos_beside(source: Source, root: Path, where: str) -> PhotoFinder:
    """Looks for the pictures of a file's words in its folder; they stay inside `root`, which is called `where`."""

    def found(here: Path_, value: Any) -> Photo:
        path = _inside(value, Path(source.file).parent, root, where)
        with opened(path, str(value).strip()):
            return Photo(path, source.file, *source.keys[("words", *here)])

    return found


def _inside(value: Any, folder: Path, root: Path, where: str) -> Path:
    if not isinstance(value, str) or not value.strip() or "\0" in value:
        raise wrong("the name of a picture's file belongs here, such as `tide-kick.jpg`")
    path = folder / value.strip()
    if not Path(realpath(path)).is_relative_to(realpath(root)):
        raise wrong(f"`{value}` lies outside {where}; pictures stay inside it")
    if not isfile(path):
        raise wrong(f"there is no picture `{value}` in this folder")
    return path


@contextmanager
def opened(path: Path, name: str) -> Iterator[Image]:
    """A picture of which nothing but the header is read yet, within all bounds; raises a fault of a value."""
    if path.suffix.lower() in (".svg", ".svgz"):
        raise wrong(f"`{name}` is a drawing in SVG, which may hold a program; {SAVE_AS}")
    size = path.stat().st_size
    if size > MAX_BYTES:
        raise wrong(f"`{name}` has {size / 1e6:.0f} MB, of {MAX_BYTES // 1_000_000} at most; save it smaller")
    with _header(path, name) as image:
        if image.width * image.height > MAX_PIXELS:
            raise _too_many(name)
        if image.format == "PNG" and getattr(image, "is_animated", False):
            raise wrong(f"`{name}` moves; save one picture of it, as JPEG or PNG")
        yield image


def _header(path: Path, name: str) -> Image:
    from PIL import Image  # slow to import, and most scripts have no picture

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of what a camera wrote, none of which is read
        warnings.simplefilter("error", Image.DecompressionBombWarning)
        try:
            return Image.open(path, formats=FORMATS)
        except (Image.DecompressionBombError, Image.DecompressionBombWarning):
            raise _too_many(name) from None
        except Exception:  # Pillow lets through whatever its decoders trip over: it begins like a picture at most
            raise wrong(f"`{name}` is no picture that can be read here; {SAVE_AS}") from None


def _too_many(name: str) -> PydanticCustomError:
    return wrong(f"`{name}` has more than {MAX_PIXELS // 1_000_000} million pixels; save it smaller")
