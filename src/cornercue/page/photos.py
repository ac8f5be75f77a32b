"""A club's pictures as the page and the sheet have them: small, upright, and nothing but the picture.

A picture is drawn anew into an empty one, so that nothing that was written beside it (place, date, camera, comments)
comes along. Colours are taken for those of a screen (sRGB); what can be seen through becomes white, like paper.
"""

from __future__ import annotations

import base64
import io
import warnings
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from html import escape
from os import stat
from pathlib import Path
from typing import TYPE_CHECKING

from pydantic_core import PydanticCustomError

from cornercue.script.faults import ScriptFaults
from cornercue.script.photo import SAVE_AS, Photo, opened
from cornercue.technique.sides import LIMBS, SIDES
from cornercue.technique.vocabulary import normalise
from cornercue.timing.parts import finest
from cornercue.timing.timeline import Action, Timeline

if TYPE_CHECKING:
    from PIL.Image import Image

LARGEST = 60_000
"""Bytes of a picture in the page: less than ten seconds of its speech and tones take together."""

WAYS = ((640, 80), (640, 60), (480, 55), (320, 45), (160, 30))
"""Pixels of the longest side and JPEG quality, tried in turn; the last one fits whatever there is to see."""

MOST = 60
"""Pictures of one page, 3.6 MB of them at most; as text in the page a third more."""

@dataclass(frozen=True, slots=True)
class WordPicture:
    """A word and its picture as a JPEG file."""

    word: str
    jpeg: bytes

    @property
    def source(self) -> str:
        """The picture as an address that holds it, for HTML."""
        return "data:image/jpeg;base64," + base64.b64encode(self.jpeg).decode("ascii")


def pictures_of(photos: Mapping[str, Photo], draws: Iterable[Timeline]) -> list[WordPicture]:
    """The pictures of the words that are called in a drill, as they come. Raises `ScriptFaults` for a damaged one."""
    called = dict.fromkeys(word_of(move) for draw in draws for cue in draw.cues for move in cue.moves)
    words = [word for word in called if word in photos]
    for word in words[MOST:]:
        text = f"a drill shows {MOST} pictures of words at most; leave out `picture` of some, or split the drill"
        raise ScriptFaults([photos[word].fault(text)])
    return [WordPicture(word, _jpeg(photos[word])) for word in words]


def word_of(move: Action) -> str:
    """What a move is called, without its side."""
    return " ".join(part for part in normalise(move.words).split() if part not in (*SIDES, *LIMBS))


def shown_in(draw: Timeline, words: Sequence[str]) -> list[int | None]:
    """For each cue the index of the picture seen with it: while a technique is taught, and while one is held."""
    held = [leaf.work == "hold" for leaf in finest(draw.parts)]
    shown: list[int | None] = []
    now, until = None, 0.0
    for cue in draw.cues:
        if cue.taught or (held[cue.part] and cue.moves):
            word = word_of(cue.moves[0])
            now, until = words.index(word) if word in words else None, cue.done or cue.end
        elif cue.start >= until and not (held[cue.part] and cue.kind == "say"):
            now = None
        shown.append(now)
    return shown


def on_paper(pictures: Sequence[WordPicture]) -> str:
    """The pictures with their words, as plain HTML; the page takes them from there."""
    if not pictures:
        return ""
    figures = "".join(
        f'<figure><img id="photo-{at}" src="{one.source}" alt="{escape(one.word)}"><figcaption>{escape(one.word)}'
        "</figcaption></figure>"
        for at, one in enumerate(pictures)
    )
    return f'<h3>What it looks like</h3><div class="photos">{figures}</div>'


def _jpeg(photo: Photo) -> bytes:
    try:
        return _encoded(photo.path, stat(photo.path).st_mtime_ns)
    except PydanticCustomError as fault:  # it is another file than it was when the script was read
        raise ScriptFaults([photo.fault(fault.message())]) from None
    except Exception as fault:  # Pillow lets through whatever its decoders trip over
        raise ScriptFaults([photo.fault(f"`{photo.path.name}` is damaged; open it elsewhere and {SAVE_AS}")]) from fault


@lru_cache(maxsize=256)
def _encoded(path: Path, changed: int) -> bytes:
    """The picture within `LARGEST` bytes; `changed` is when its file was written, so that another one is read anew."""
    with opened(path, path.name) as image, warnings.catch_warnings():
        warnings.simplefilter("ignore")
        image.draft("RGB", (2 * WAYS[0][0], 2 * WAYS[0][0]))  # of a JPEG no more is decoded than is needed
        whole = _upright(image, WAYS[0][0])
    for side, quality in WAYS:
        whole.thumbnail((side, side))
        target = io.BytesIO()
        whole.save(target, "JPEG", quality=quality, optimize=True, progressive=True)
        if target.tell() <= LARGEST:
            break
    return target.getvalue()


def _upright(image: Image, side: int) -> Image:
    """The picture itself, as it is meant to be seen, on white, `side` pixels at most; nothing else of its file."""
    from PIL import Image as Images
    from PIL import ImageOps

    if image.mode.startswith("I"):  # sixteen bits, of which Pillow would take the lower eight
        seen = image.point(lambda value: value / 256).convert("L")
    else:
        seen = image if image.mode in ("L", "RGB", "RGBA") else image.convert("RGBA")
    seen.thumbnail((side, side))
    seen = ImageOps.exif_transpose(seen).convert("RGBA")
    paper = Images.new("RGB", seen.size, "white")
    paper.paste(seen, mask=seen.getchannel("A"))
    return paper
