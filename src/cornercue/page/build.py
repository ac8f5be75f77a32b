"""Drill to page: one HTML file that asks nothing of any network."""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Sequence
from html import escape
from importlib import resources
from string import Template
from typing import Literal

from cornercue.page.data import NAMES, feeds_of, page_data
from cornercue.page.feed_figures import figures
from cornercue.page.held import held
from cornercue.page.paper import sheet
from cornercue.page.photos import on_paper, pictures_of
from cornercue.picture.feed_picture import definitions
from cornercue.picture.style import themed
from cornercue.picture.svg import svg
from cornercue.script.model import Drill
from cornercue.timing.phrasebook import Phrasebook
from cornercue.timing.safety import audience, pads_in, partner_drills, written_cautions
from cornercue.timing.timeline import Timeline
from cornercue.track.mix import ClipOf


def page_html(
    drill: Drill, draws: Sequence[Timeline], clip_of: ClipOf, book: Phrasebook, full_screen: bool = False
) -> str:
    """The whole page as text; with `full_screen` it asks the browser for the whole screen when it starts.

    Its policy allows the one script and the one style in it, where there are any the pictures in it, and nothing else,
    so that no request can leave it. Raises `ScriptFaults` for a damaged picture.
    """
    first = written_cautions(drill, book)
    helper = helper_of(drill)
    css = _resource("page.css") + themed()
    script = f"{_resource('sound.js')}\n{_resource('page.js')}"
    whom = audience(drill)
    feeds = feeds_of(draws, whom)
    photos = pictures_of(drill.photos, draws)
    words = [photo.word for photo in photos]
    pictures = figures(whom, feeds) + held(drill, book)
    data = page_data(drill, draws, clip_of, book=book, whom=whom, helper=helper, pictured=words)
    data |= {"gate": bool(first), "fullScreen": full_screen}
    return Template(_resource("page.html")).substitute(
        language=escape(book.language),
        policy=f"default-src 'none'; script-src '{_hash(script)}'; style-src '{_hash(css)}'; "
        f"{'img-src data:; ' if photos else ''}base-uri 'none'; form-action 'none'",
        title=escape(drill.drill),
        css=css,
        script=script,
        cautions="".join(f"<p>{escape(caution)}</p>" for caution in first) + pictures,
        feeds=definitions(whom, feeds) if feeds else "",
        paper=sheet(drill, draws[0].level, first, pictures, on_paper(photos)),
        photo='<img id="photo" alt="" hidden>' if photos else "",
        fold=_draws_and_keys(draws, helper),
        helper=helper or "Feeder",
        picture=svg(draws[0], alone=False),
        data=_inert(json.dumps(data, ensure_ascii=False, separators=(",", ":"))),
    )


def helper_of(drill: Drill) -> Literal["Feeder", "Holder"] | None:
    """Who helps the student: a feeder, also where pads are held besides, a holder, or nobody."""
    if next(partner_drills(drill), None):
        return "Feeder"
    return "Holder" if next(pads_in(drill), None) else None


def _draws_and_keys(draws: Sequence[Timeline], helper: str | None) -> str:
    """What stands in the fold above the picture: the seed of each draw, and the keys."""
    seeds = ", ".join(f"{name} has seed {draw.seed}" for name, draw in zip(NAMES, draws, strict=False))
    stop = f" S stops, F is the {helper.lower()}'s view." if helper else ""
    return (
        f"<p>Draws: {seeds}.</p>\n"
        "<p>Keys: the space bar pauses and goes on; ← and → go a part back and on, R repeats it; ↑ and ↓ make it "
        f"louder and softer.{stop}</p>"
    )


def _inert(text: str) -> str:
    """JSON that cannot end the element that it stands in: no `<`, `>` or `&` is left bare."""
    for sign in "<>&\u2028\u2029":
        text = text.replace(sign, f"\\u{ord(sign):04x}")
    return text


def _hash(text: str) -> str:
    """The source expression of an inline element for a Content-Security-Policy (CSP level 2, section 4.2.5)."""
    return "sha256-" + base64.b64encode(hashlib.sha256(text.encode("utf-8")).digest()).decode("ascii")


def _resource(name: str) -> str:
    return resources.files("cornercue.page").joinpath(name).read_text(encoding="utf-8")
