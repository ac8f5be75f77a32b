"""Typical mistakes of beginners: each is told once, at its place, with a remedy that makes the script right.

The mistakes are common practice, no source: what people type who know neither YAML nor the language.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

import pytest

from cornercue.script.faults import ScriptFaults
from cornercue.script.read import parse_drill

HEAD = "drill: A\nsteps:\n"


@dataclass(frozen=True)
class Mistake:
    """What was written, what is told of it, and the same with the remedy followed to the letter."""

    written: str
    told: str
    mended: str


def mistake(written: str, told: str, mended: str) -> Mistake:
    """Steps alone get a head; its two lines count."""
    return Mistake(_headed(written), told, _headed(mended))


def _headed(text: str) -> str:
    return HEAD + text if text.startswith("-") else text


SQUATS = "- exercise: squats\n  reps: 10\n"
MISTAKES = [
    # Layout
    mistake(
        "- say: Remember: hands up\n",
        '3:16: a colon inside text: put the text in quotes: `say: "Remember: hands up"`',
        '- say: "Remember: hands up"\n',
    ),
    mistake(
        "drill: Kicks: low\nsteps:\n- rest: 30 s\n",
        '1:13: a colon inside text: put the text in quotes: `drill: "Kicks: low"`',
        'drill: "Kicks: low"\nsteps:\n- rest: 30 s\n',
    ),
    mistake(
        "- combination:\n  - jab: chin: down\n",
        '4:14: a colon inside text: put the text in quotes: `jab: "chin: down"`',
        '- combination:\n  - jab: "chin: down"\n',
    ),
    mistake(
        "- say: “Hands up: now”\n",
        '3:17: a colon inside text: put the text in quotes: `say: "Hands up: now"`',
        '- say: "Hands up: now"\n',
    ),
    mistake(
        "- exercise: push-ups\nreps: 10\n",
        "4:1: `reps` belongs to a step: indent it by two spaces",
        "- exercise: push-ups\n  reps: 10\n",
    ),
    mistake(
        "- combination: [jab, cross]\nreps: 10\n- rest: 30 s\n",
        "4:1: `reps` belongs to the step above: indent it by 2 spaces",
        "- combination: [jab, cross]\n  reps: 10\n- rest: 30 s\n",
    ),
    mistake(
        "- exercise: push-ups\n- reps: 10\n",
        "4:3: `reps` belongs to the step above: write it without the dash, indented by two spaces",
        "- exercise: push-ups\n  reps: 10\n",
    ),
    mistake(
        "- combination: [jab, cross]\n   reps: 5\n",
        "4:4: this is indented by 3 spaces, and the line above it by 2: give both the same",
        "- combination: [jab, cross]\n  reps: 5\n",
    ),
    mistake(
        "- combination: [jab, cross]\n\treps: 5\n",
        "4:1: a tab; indent with spaces",
        "- combination: [jab, cross]\n  reps: 5\n",
    ),
    mistake(
        '- say: "Hands up\n- rest: 30 s\n- combination: [jab]\n',
        '3:8: the quote that opens here is not closed: `"Hands up"`',
        '- say: "Hands up"\n- rest: 30 s\n- combination: [jab]\n',
    ),
    mistake(
        "- say: 'Don't drop it'\n",
        '3:12: an apostrophe ends the text here: put the whole text in double quotes: `"Don\'t drop it"`',
        '- say: "Don\'t drop it"\n',
    ),
    mistake(
        '- say: "Hands up" now\n',
        '3:17: a quote ends the text here: put the whole text in double quotes: `"Hands up now"`',
        '- say: "Hands up now"\n',
    ),
    mistake("-say: hello\n", "3:1: a space is missing after the dash: `- say: hello`", "- say: hello\n"),
    mistake(
        "-rest: 30 s\n- say: hi\n",
        "3:1: a space is missing after the dash: `- rest: 30 s`",
        "- rest: 30 s\n- say: hi\n",
    ),
    mistake("- say:hello\n", "3:3: a space is missing after the colon: `say: hello`", "- say: hello\n"),
    mistake("- exercise:squats\n  reps: 10\n", "3:11: a space is missing after the colon: `exercise: squats`", SQUATS),
    mistake(
        "- combination: [jab, cross\n  reps: 5\n",
        "3:16: `[` opens here and is not closed: add `]`",
        "- combination: [jab, cross]\n  reps: 5\n",
    ),
    mistake(
        "- combination: [jab, , cross]\n",
        "3:22: something is missing before this comma; take the comma away",
        "- combination: [jab, cross]\n",
    ),
    mistake(
        "- say: {left} foot\n",
        '3:8: a text that begins with a brace goes in quotes: `say: "{left} foot"`',
        '- say: "{left} foot"\n',
    ),
    mistake(
        "drill: A\n- rest: 30 s\n",
        "2:1: the steps begin here: write `steps:` in a line of its own above them",
        "drill: A\nsteps:\n- rest: 30 s\n",
    ),
    mistake(
        "- repeat: 3\n  - rest: 10 s\n",
        "4:3: write `steps:` in a line of its own above this one",
        "- repeat: 3\n  steps:\n  - rest: 10 s\n",
    ),
    mistake(
        "- say: Do 5 of #1, then rest\n",
        '3:16: `#` ends the text here; put the text in quotes: `"Do 5 of #1, then rest"`',
        '- say: "Do 5 of #1, then rest"\n',
    ),
    mistake(
        "drill: A\nsteps:\n  rest: 30 s\n",
        "3:3: a list belongs under `steps`; start each entry with `- `",
        "drill: A\nsteps:\n- rest: 30 s\n",
    ),
    mistake(
        "- jab, cross\n",
        "3:3: a step starts with its kind: write `- combination: [jab, cross]`",
        "- combination: [jab, cross]\n",
    ),
    # Amounts
    mistake(
        "- exercise: squats\n  reps: 3x10\n",
        "4:9: `3x10` is not a number of repetitions; write `sets: 3` and `reps: 10`, each in a line of its own",
        "- exercise: squats\n  sets: 3\n  reps: 10\n",
    ),
    mistake(
        "- exercise: lunges\n  reps: 5 per side\n",
        "4:9: `5 per side` is not a number of repetitions; write `reps: 10`, both sides together",
        "- exercise: lunges\n  reps: 10\n",
    ),
    mistake(
        "- exercise: squats\n  reps: 10 times\n",
        "4:9: `10 times` is not a number of repetitions; write `10`",
        "- exercise: squats\n  reps: 10\n",
    ),
    mistake("- exercise: squats\n  reps: ten\n", "4:9: `ten` is not a number of repetitions; write `10`", SQUATS),
    mistake(
        "- exercise: squats\n  reps: 8-12\n",
        "4:9: `8-12` is not a number of repetitions; write `8 to 12`",
        "- exercise: squats\n  reps: 8 to 12\n",
    ),
    mistake(
        "- exercise: squats\n  reps: 30 s\n",
        "4:9: `30 s` is not a number of repetitions; a time belongs under `for`: write `for: 30 s`",
        "- exercise: squats\n  for: 30 s\n",
    ),
    mistake(
        "- rest: 1.30\n",
        "3:9: `1.30` can be read in two ways; write `1:30` for minutes and seconds, or `1.3 s`",
        "- rest: 1:30\n",
    ),
    mistake("- rest: 1,5 min\n", "3:9: `1,5 min` is not a duration; write `1.5 min`", "- rest: 1.5 min\n"),
    mistake("- rest: 30s.\n", "3:9: `30s.` is not a duration; write `30s`", "- rest: 30s\n"),
    mistake("- rest: half a minute\n", "3:9: `half a minute` is not a duration; write `30 s`", "- rest: 30 s\n"),
    mistake("- rest: two minutes\n", "3:9: `two minutes` is not a duration; write `2 min`", "- rest: 2 min\n"),
    mistake(
        "- combination: [jab]\n  angles: 90 right\n",
        "4:11: `90 right` is not an angle; write `right 90`",
        "- combination: [jab]\n  angles: right 90\n",
    ),
    mistake(
        "- combination: [jab]\n  angles: [90]\n",
        "4:12: `90` is not an angle; write `right 90` or `left 90`",
        "- combination: [jab]\n  angles: [right 90]\n",
    ),
    mistake("- exercise: squats\n", "3:3: an exercise needs how much of it: `reps: 10`, or `for: 1 min`", SQUATS),
    mistake(
        "- exercise: squats\n  reps: 10\n  for: 30 s\n",
        "3:3: an exercise has either `reps` or `for`; take one of them away",
        "- exercise: squats\n  reps: 10\n",
    ),
    mistake(
        "- repeat: 3 times\n  steps:\n  - rest: 10 s\n",
        "3:11: `3 times` is not a whole number; write `3`",
        "- repeat: 3\n  steps:\n  - rest: 10 s\n",
    ),
    # Keys
    mistake("- exercise: squats\n  repetitions: 10\n", "4:3: `exercise` has no `repetitions`; write `reps`", SQUATS),
    mistake(
        "- exercise: squats\n  time: 1 min\n",
        "4:3: `exercise` has no `time`; write `for`",
        "- exercise: squats\n  for: 1 min\n",
    ),
    mistake("- pause: 30 s\n", "3:3: `pause` is not a kind of step; write `rest`", "- rest: 30 s\n"),
    mistake(
        "- stretch: hamstring stretch\n  for: 30 s\n",
        "3:3: `stretch` is not a kind of step; write `hold`",
        "- hold: hamstring stretch\n  for: 30 s\n",
    ),
    mistake(
        "- round: 3\n  steps:\n  - rest: 10 s\n",
        "3:3: `round` is not a kind of step; write `repeat`",
        "- repeat: 3\n  steps:\n  - rest: 10 s\n",
    ),
    mistake(
        "- punches: [jab, cross]\n",
        "3:3: `punches` is not a kind of step; write `combination`",
        "- combination: [jab, cross]\n",
    ),
    mistake(
        "title: A\nsteps:\n- rest: 30 s\n",
        "1:1: a drill script has no `title`; write `drill`",
        "drill: A\nsteps:\n- rest: 30 s\n",
    ),
    mistake(
        "drill: A\nstep:\n- rest: 30 s\n",
        "2:1: a drill script has no `step`; did you mean `steps`?",
        "drill: A\nsteps:\n- rest: 30 s\n",
    ),
    mistake(
        "- Combination: [jab]\n",
        "3:3: `Combination` is not a kind of step; did you mean `combination`?",
        "- combination: [jab]\n",
    ),
    mistake(
        "drill: A\nstance: left\nsteps:\n- rest: 30 s\n",
        "2:9: `left` is not known here; `orthodox` has the left foot in front",
        "drill: A\nstance: orthodox\nsteps:\n- rest: 30 s\n",
    ),
    mistake(
        "drill: A\nlevel: two\nsteps:\n- rest: 30 s\n",
        "2:8: `two` is not a whole number; write `2`",
        "drill: A\nlevel: 2\nsteps:\n- rest: 30 s\n",
    ),
    # Techniques
    mistake(
        "- combination: jab or cross\n",
        "3:16: `jab or cross` leaves a choice; drawn at random they are a step of their own: "
        "`shadow: [[jab], [cross]]`, with `for: 1 min`",
        "- shadow: [[jab], [cross]]\n  for: 1 min\n",
    ),
    mistake(
        "- combination: jab-cross-hook\n",
        "3:16: `jab-cross-hook` is not one technique; list each by itself: `jab, cross, lead hook`",
        "- combination: [jab, cross, lead hook]\n",
    ),
    mistake(
        "- combination: jab cross\n",
        "3:16: `jab cross` is not one technique; list each by itself: `jab, cross`",
        "- combination: [jab, cross]\n",
    ),
    mistake(
        "- combination: jab/cross\n",
        "3:16: `jab/cross` is not one technique; list each by itself: `jab, cross`",
        "- combination: [jab, cross]\n",
    ),
    mistake(
        "- combination: double jab\n",
        "3:16: `double jab` is not one technique; list each by itself: `jab, jab`",
        "- combination: [jab, jab]\n",
    ),
    mistake(
        "- combination: [jab x2, cross]\n",
        "3:17: `jab x2` is not one technique; list each by itself: `jab, jab`",
        "- combination: [jab, jab, cross]\n",
    ),
    mistake(
        "- combination: [jab, hook]\n",
        "3:22: `hook` leaves the side open; write `lead hook` or `rear hook`",
        "- combination: [jab, lead hook]\n",
    ),
    mistake(
        "- hold: hosre stance\n",
        "3:9: `hosre stance` is not a technique; did you mean `horse stance`?",
        "- hold: horse stance\n",
    ),
    mistake(
        "- partner: parry left\n  reps: 5\n",
        "3:12: `parry left` names a side; write `parry`, and `sides: left`",
        "- partner: parry\n  sides: left\n  reps: 5\n",
    ),
    mistake(
        "- shadow: [jab, cross, lead hook]\n",
        "3:3: `shadow` needs `for:` (such as `for: 30 s`)",
        "- shadow: [jab, cross, lead hook]\n  for: 30 s\n",
    ),
]


@pytest.mark.parametrize("one", MISTAKES, ids=lambda one: one.written)
def test_a_typical_mistake_is_told_once_at_its_place(one: Mistake) -> None:
    with pytest.raises(ScriptFaults) as caught:
        parse_drill(one.written, "a.yaml")
    (fault,) = caught.value.faults
    assert str(fault).removeprefix("a.yaml:").startswith(one.told), str(fault)


@pytest.mark.parametrize("one", MISTAKES, ids=lambda one: one.written)
def test_its_remedy_followed_to_the_letter_makes_the_script_right(one: Mistake) -> None:
    parse_drill(one.mended)
    remedy = re.split(r"; |: (?=give|indent|put|write|add|list)|colon: |dash: |closed: ", one.told)[-1]
    codes = re.findall(r"`([^`]+)`", remedy)
    assert any(code.strip() in one.mended for code in codes) or not codes, remedy


def test_there_are_many_and_each_is_another() -> None:
    assert len({one.written for one in MISTAKES}) == len(MISTAKES) >= 40
