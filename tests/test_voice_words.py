"""A voice is given plain words: no markup, no control characters, nothing endless."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornercue.errors import InputFault
from cornercue.voice.words import LONGEST_PHRASE, MARKUP, plain

HOSTILE = {
    '<speak><break time="9s"/>jab</speak>': 'speak break time="9s"/ jab /speak',
    "[[volm 0]] jab": "volm 0 jab",
    "jab & cross": "jab and cross",
    "jab\ncross\tlead\x00hook\x1b": "jab cross lead hook",
    "  jab   cross ": "jab cross",
    "jab\ud800 cross": "jab cross",
    "jab\u202e cross\u00a0hook": "jab cross hook",
    "push-ups, 3/4": "push-ups, 3/4",
    "Hände hoch": "Hände hoch",
}


@pytest.mark.parametrize(("text", "words"), HOSTILE.items(), ids=range(len(HOSTILE)))
def test_what_a_voice_could_take_for_a_command_is_left_out(text: str, words: str) -> None:
    assert plain(text) == words


@pytest.mark.parametrize("text", ["", " \n", "...", "<>", "\ud800", "👍"])
def test_text_without_words_is_refused_with_a_sentence(text: str) -> None:
    with pytest.raises(InputFault, match="nothing to say"):
        plain(text)


def test_a_phrase_may_have_400_characters_and_no_more() -> None:
    assert plain("a" * LONGEST_PHRASE) == "a" * 400
    with pytest.raises(InputFault, match="401 characters"):
        plain("a" * (LONGEST_PHRASE + 1))


@given(st.text(st.characters(), max_size=60))
def test_any_text_is_plain_after_one_pass_or_refused(text: str) -> None:
    try:
        words = plain(text)
    except InputFault:
        return
    assert not set(map(ord, words)) & set(MARKUP)
    assert all(letter == " " or unicodedata.category(letter)[0] not in "CZ" for letter in words)
    assert plain(words) == words
