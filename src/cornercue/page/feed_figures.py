"""The pictures of a drill's feeds with their words, as plain HTML: for the gate of cautions and for paper."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from cornercue.feed.table import Audience
from cornercue.picture.feed_picture import described, feed_words, key_of, name_of, titled
from cornercue.picture.views import HEIGHT, WIDTH
from cornercue.technique.sides import Side, other_side


def figures(whom: Audience, feeds: Sequence[tuple[str, Side]]) -> str:
    """One picture a defence, since the other side is its mirror, and says so; they use `picture.feed.definitions`."""
    if not feeds:
        return ""
    sides = {defence: [side for one, side in feeds if one == defence] for defence, _ in feeds}
    shown = "".join(_figure(whom, defence, min(its), len(its) > 1) for defence, its in sides.items())
    return f'<div class="feeds"><p>{escape(key_of(list(sides)))}</p>{shown}</div>'


def _figure(whom: Audience, defence: str, side: Side, mirrored: bool) -> str:
    other = f" For {titled(defence, other_side(side))} the same from your {side}." if mirrored else ""
    words = escape(f"{feed_words(whom, defence, side)}.{other}")
    return (
        f'<figure><svg role="img" viewBox="0 0 {WIDTH} {HEIGHT}" aria-label="{escape(described(whom, defence, side))}">'
        f'<use href="#{name_of(defence, side)}"/></svg>'
        f"<figcaption><strong>{escape(titled(defence, side).capitalize())}.</strong> {words}</figcaption></figure>"
    )
