"""What may be given to a voice: plain words, nothing that a voice could take for a command."""

from __future__ import annotations

import unicodedata

from cornercue.errors import InputFault

LONGEST_PHRASE = 400
"""Characters of the longest phrase; a drill's longest sentence is about 100."""

MARKUP = dict.fromkeys(map(ord, "<>[]{}|\\^~`*_"), " ") | {ord("&"): " and "}
"""Speech markup begins with these: SAPI reads XML, macOS obeys commands in [[ ]], espeak-ng takes phonemes there."""


def plain(text: str) -> str:
    """The words of `text` on one line, markup and control characters left out. Raises InputFault."""
    kept = "".join(" " if unicodedata.category(letter)[0] in "CZ" else letter for letter in text)
    words = " ".join(kept.translate(MARKUP).split())
    if not any(letter.isalnum() for letter in words):
        raise InputFault(f"There is nothing to say in {text[:40]!r}: write words.")
    if len(words) > LONGEST_PHRASE:
        raise InputFault(
            f"“{words[:30]}…” has {len(words)} characters, and a voice says at most {LONGEST_PHRASE} at once: "
            "split it into shorter sentences."
        )
    return words
