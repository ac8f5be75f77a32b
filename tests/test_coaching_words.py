"""Fit and plain words: what cannot be said in time, and what cannot be followed while moving."""

from __future__ import annotations

import pytest

from coaching import found_by
from cornercue.coaching import fit, plain_words


def told(rule: object, steps: str) -> list[str]:
    text = f"drill: Words\nsteps:\n{steps}"
    return [problem.told("a.yaml") for problem in found_by(rule.review, text)]  # type: ignore[attr-defined]


def test_words_that_do_not_fit_are_told_with_what_would() -> None:
    (found,) = told(fit, "- say: Go.\n- combination: [jab, cross, lead hook]\n  every: 1.5 s\n")
    assert found.startswith("a.yaml:4:3: warning: fit: every 1.5 s is too short for «jab, cross, lead hook»: ")
    assert found.partition("; ")[2].startswith("ask for `every: ")
    suggested = found.partition("every: ")[2].partition(" s")[0]
    assert told(fit, f"- combination: [jab, cross, lead hook]\n  every: {suggested} s\n") == []


WORDS = "keep your hands up and your feet awake all the time then come back and breathe out once more now slowly please"


@pytest.mark.parametrize(
    ("steps", "found"),
    [
        (f"- say: {WORDS}\n", "a sentence of 22 words takes about "),
        (f"- say: {' '.join(WORDS.split()[:20])}\n", None),
        (f"- say: {' '.join(WORDS.split()[:15])}. {' '.join(WORDS.split()[:15])}.\n", None),
        ("- combination:\n  - jab: " + " ".join(WORDS.split()[:13]) + "\n  teach: 1\n", "a coaching cue of 13 words"),
        (f"- combination:\n  - jab: {' '.join(WORDS.split()[:12])}\n  teach: 1\n", None),
        (f"- exercise: run\n  for: 1 min\n  check: ['{' '.join(WORDS.split()[:13])}']\n", "a check point of 13 words"),
        ("- combination: jab\n  between: and now step off to the left\n", "a text of `between` of 7 words"),
        ("- say: One. Two. Three. Four.\n", "4 points at once are many to keep in mind, in «One."),
        ("- say: One. Two. Three.\n", None),
        ("- combination:\n  - jab: knees soft, hand home, hip along, breathe out\n  teach: 1\n", "4 points at once"),
        ("- hold: side kick\n  check: [a, b, c, d]\n", "4 points at once are many to keep in mind, in"),
        ("- hold: side kick\n  check: [a, b, c]\n", None),
        ("- say: Body jab, cross, lead hook, and home.\n", None),
    ],
)  # fmt: skip
def test_what_cannot_be_followed_while_moving_is_told(steps: str, found: str | None) -> None:
    lines = told(plain_words, steps)
    assert all((": warning: " in line) == ("combination" in steps or "check`" in line) for line in lines)
    assert [line.partition("plain words: ")[2].startswith(found or "?") for line in lines] == [True] * bool(found)
