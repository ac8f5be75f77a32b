"""Text from outside, made harmless before a person sees it: the one place where that is done.

A script, a file's name or a pack may hold signs that a terminal obeys (an escape that retitles the window or fills the
clipboard) or that turn the order of the words round, so that a line reads as another one.
"""

from __future__ import annotations

import re
from functools import lru_cache

_OBEYED = re.compile(
    "["
    "\x00-\x08\x0b-\x1f\x7f-\x9f"  # controls, but for tab and line feed
    "\xad\u061c\u180e\u200b\u200e\u200f"  # without a width; marks of direction
    "\u2028-\u202e\u2060-\u206f"  # ends of line and paragraph; embeddings, overrides and isolates
    "\ufeff\ufff9-\ufffb\U000e0000-\U000e007f"  # byte order mark, annotations, tags
    "\ud800-\udfff"  # halves of a sign, as from a file's name that is no text
    "]"
)
"""What is shown instead of done. The joiners U+200C and U+200D stay: words of some alphabets need them."""

_UNSURE = frozenset("\ufe0e\ufe0f") | {chr(code) for code in (*range(0x1F3FB, 0x1F400), *range(0x1F1E6, 0x1F200))}
"""Signs that terminals do not agree on the width of: variation selectors, skin tones and the letters of flags."""


def visible(text: str) -> str:
    """The text, line by line as it was, with what a terminal might obey spelt out: an escape becomes `\\u001b`.

    That is how JSON spells it, so that JSON keeps its meaning.
    """
    return _OBEYED.sub(_spelt, text)


def in_one_line(text: str) -> str:
    """The same for what stands in one line: an end of line is spelt out too, so that nobody writes lines of ours."""
    return visible(text).replace("\n", "\\u000a")


def _spelt(found: re.Match[str]) -> str:
    units = found[0].encode("utf-16-be", "surrogatepass")
    return "".join(f"\\u{units[at : at + 2].hex()}" for at in range(0, len(units), 2))


@lru_cache(maxsize=256)
def printable(text: str) -> str:
    """The text on one line, without anything that a terminal might obey or that has no certain width."""
    import unicodedata

    spaced = (" " if sign.isspace() else sign for sign in text)
    kept = (sign for sign in spaced if unicodedata.category(sign)[0] != "C" and sign not in _UNSURE)
    return unicodedata.normalize("NFC", " ".join("".join(kept).split()))
