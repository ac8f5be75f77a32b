"""What is wrong with a script is said at its place, in a sentence that an instructor can act on."""

from __future__ import annotations

import pytest

from cornercue.script.faults import ScriptFaults
from cornercue.script.read import parse_drill
from cornercue.script.rest import Rest
from cornercue.script.say import Say
from cornercue.script.source import MAX_DEPTH

HEAD = "drill: Test\nsteps:\n"


def faults_in(text: str) -> list[str]:
    """Every fault of a text, as it is shown."""
    with pytest.raises(ScriptFaults) as caught:
        parse_drill(text, "a.yaml")
    assert str(caught.value) == "\n".join(map(str, caught.value.faults))
    return [str(fault) for fault in caught.value.faults]


@pytest.mark.parametrize(
    ("steps", "fault"),
    [
        ("- combination: [jab, lead hok]\n", "a.yaml:3:22: `lead hok` is not a technique; did you mean `lead hook`?"),
        ("- combination: jab, crosss\n", "a.yaml:3:16: `crosss` is not a technique; did you mean `cross`?"),
        ("- combination:\n  - jab\n  - hook\n", "a.yaml:5:5: `hook` leaves the side open; write `lead hook` or"),
        ("- combination:\n  - jab: go\n    cross: go\n", "a.yaml:4:5: one technique and its coaching cue belong here"),
        ("- combination: [{jab}]\n", "a.yaml:3:17: the text is missing"),
        ("- combination: ['{jab}']\n", "a.yaml:3:17: `{jab}` is not a technique; did you mean `jab`?"),
        ("- combination: []\n", "a.yaml:3:16: a list belongs here"),
        ("- combination: 1-2-9\n", "a.yaml:3:16: `1-2-9` is not a technique"),
        ("- hold: side kik\n  for: 10 s\n", "a.yaml:3:9: `side kik` is not a technique; did you mean"),
        ("- repeat: 3\n", "a.yaml:3:3: `repeat` needs `steps:`"),
        ("- exercise: push-ups\n", "a.yaml:3:3: an exercise needs how much of it: `reps: 10`, or `for: 1 min`"),
        ("- exercise: push-ups\n  reps: 3\n  for: 3 s\n", "a.yaml:3:3: an exercise has either `reps` or `for`; take"),
        ("- exercise: plank\n  for: 3 s\n  every: 2 s\n", "a.yaml:3:3: `every` spaces counted repetitions"),
        ("- hold: rear side kick\n  sides: both\n", "a.yaml:3:3: there is only one side to hold here"),
        ("- hold: duck\n  sides: both\n", "a.yaml:3:3: there is only one side to hold here"),
        ("- say: hi\n  rest: 30 s\n", "a.yaml:4:3: two kinds in one step, `say` and `rest`; start a new step"),
        ("- rest: 30 s\n  say: hi\n", "a.yaml:4:3: two kinds in one step, `rest` and `say`; start a new step"),
        ("- say: hi\n  loud: yes\n", "a.yaml:4:3: `say` has no `loud`; it knows `say`"),
        ("- combination: jab\n  angle: left 30\n", "a.yaml:4:3: `combination` has no `angle`; did you mean `angles`?"),
        ("- sai: hi\n", "a.yaml:3:3: `sai` is not a kind of step; did you mean `say`?"),
        ("- juggle: 3\n", "a.yaml:3:3: `juggle` is not a kind of step; a step starts with one of `say`, "),
        ("- {}\n", "a.yaml:3:3: the step is empty; a step starts with one of"),
        ("- jab\n", "a.yaml:3:3: a step starts with its kind: write `- combination: [jab]`"),
        ("- [jab]\n", "a.yaml:3:3: a step is a mapping that starts with its kind"),
        ('- say: "..."\n', "a.yaml:3:8: there is nothing to say in `...`; write words"),
        ("- exercise: —\n  reps: 2\n", "a.yaml:3:13: there is nothing to say in `—`; write words"),
        ("- combination:\n  - jab: '?!'\n", "a.yaml:4:5: there is nothing to say in `?!`; write words"),
        (
            "- partner: {parry: 2, cover: 1}\n  reps: 3\n  order: alternate\n",
            "a.yaml:3:3: `order: alternate` calls each defence in turn; leave out the weights or write `order: random`",
        ),
        ("- rest: -5\n", "a.yaml:3:9: `-5` is out of range; a duration is more than 0 and at most 6 hours"),
        ("- rest: 7 h\n", "a.yaml:3:9: `7 h` is out of range"),
        ("- rest: 30 s or so\n", "a.yaml:3:9: `30 s or so` is not a duration; write for example"),
        ("- rest: {a: b}\n", "a.yaml:3:9: `a` is no level; a table has levels from 1 to 10"),
        ("- rest: {1: 1 min, 4: b}\n", "a.yaml:3:9: at level 4: `b` is not a duration"),
        ("- rest:\n", "a.yaml:3:8: `rest:` has no value; write one after the colon"),
        ("- combination: jab\n  reps: -1\n", "a.yaml:4:9: `-1` is not a number of repetitions"),
        (
            "- exercise: squats\n  reps: [10, 8]\n  sets: 3\n",
            "a.yaml:3:3: the list under `reps` tells 2 sets already; leave out `sets`",
        ),
        ("- combination: jab\n  reps: {1: 6, 11: 8}\n", "a.yaml:4:9: `11` is no level; a table has levels from 1 to"),
        ("- combination: jab\n  reps: []\n", "a.yaml:4:9: the list is empty; write for example `[10, 8, 6]`"),
        (
            "- combination: jab\n  every: 2 s down to 4 s\n",
            "a.yaml:4:10: `2 s down to 4 s` does not go down; write `2 s up to 4 s`",
        ),
        ("- combination: jab\n  reps: 100000\n", "a.yaml:4:9: `100000` is out of range; from 1 to 500"),
        ("- combination: jab\n  teach: 21\n", "a.yaml:4:10: `21` is out of range; slow repetitions go from 0 to 20"),
        ("- exercise: sit-ups\n  reps: 5\n  sets: 0\n", "a.yaml:5:9: `0` is out of range; sets go from 1 to 20"),
        ("- exercise: sit-ups\n  reps: 5\n  sets: two\n", "a.yaml:5:9: `two` is not a whole number; write `2`"),
        ("- repeat: 101\n  steps: [{say: hi}]\n", "a.yaml:3:11: `101` is out of range; repeats go from 1 to 100"),
        ("- repeat: 999999999999\n  steps: [{say: hi}]\n", "a.yaml:3:11: `999999999999` is not a whole number"),
        ("- repeat: 2\n  steps: []\n", "a.yaml:4:10: `steps` is empty; at least one step belongs there"),
        ("- repeat: 2\n  steps: [{say: hi}, {sai: ho}]\n", "a.yaml:4:22: `sai` is not a kind of step"),
        ("- repeat: 2\n  steps:\n  - say: hi\n    resst: 3\n", "a.yaml:6:5: `say` has no `resst`; it knows `say`"),
        ("- combination: jab\n  angles: [left 30, up]\n", "a.yaml:4:21: `up` is not an angle; write `ahead`, `behind`"),
        ("- combination: jab\n  pace: fast\n", "a.yaml:4:9: `fast` is not a pace; one of `learning`, `steady`"),
        ("- hold: side kick\n  sides: bth\n", "a.yaml:4:10: `bth` is not known here; did you mean `both`?"),
        ("- say: [a, b]\n", "a.yaml:3:8: text belongs here; put it in quotes"),
        ("- say: " + "x" * 301 + "\n", "a.yaml:3:8: the text has 301 characters; at most 300 fit here"),
        ('- say: "bell \\a"\n', "a.yaml:3:8: the text holds a character that cannot be shown; delete it"),
        ("- combination: [" + "jab, " * 16 + "jab]\n", "a.yaml:3:16: the list has 17 entries; at most 16 fit here"),
        ("- include: b.yaml\n", "a.yaml:3:12: `include` works only in a script that is a file"),
    ],
)
def test_a_faulty_step_is_told_at_its_place(steps: str, fault: str) -> None:
    (found,) = faults_in(HEAD + steps)
    assert found.startswith(fault)


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("steps:\n- say: hi\n", "a.yaml:1:1: a drill script needs `drill:` (its title)"),
        ("drill: Test\n", "a.yaml:1:1: a drill script needs `steps:` (what is done, a list)"),
        ("drill: Test\nsteps: []\n", "a.yaml:2:8: `steps` is empty; at least one step belongs there"),
        ("drill: Test\nsteps: hi\n", "a.yaml:2:8: a list belongs under `steps`; start each entry with `- `"),
        ("drill: Test\nsteps:\n  say: hi\n", "a.yaml:3:3: a list belongs under `steps`; start each entry with `- `"),
        ("drill: Test\nlevle: 3\nsteps: [{say: hi}]\n", "a.yaml:2:1: a drill script has no `levle`; did you mean `le"),
        ("drill: Test\nlevel: 21\nsteps: [{say: hi}]\n", "a.yaml:2:8: `21` is out of range; levels go from 1 to 10"),
        ("drill: Test\nlevel: -1\nsteps: [{say: hi}]\n", "a.yaml:2:8: `-1` is out of range; levels go from 1 to 10"),
        ("drill: Test\nstance: southpaws\nsteps: [{say: hi}]\n", "a.yaml:2:9: `southpaws` is not known here; did you"),
        ("drill: Test\nabout: [a, b]\nsteps: [{say: hi}]\n", "a.yaml:2:8: text belongs here"),
        ("- drill: Test\n", "a.yaml:1:1: a drill script starts with `drill: its title` and has `steps:`"),
        ("just words\n", "a.yaml:1:1: a drill script starts with `drill: its title` and has `steps:`"),
        ("drill: Test\nsteps: [{say: hi}]\n---\ndrill: Two\n", "a.yaml:3:1: a second document starts here"),
        ("drill: Test\n? [a, b]\n: c\n", "a.yaml:2:3: a key must be a word"),
        ("drill: Test\nsteps:\n\t- say: hi\n", "a.yaml:3:1: a tab; indent with spaces"),
        ("drill: Test\nsteps:\n-\tsay: hi\n  rest: 3\n", "a.yaml:3:2: a tab; indent with spaces"),
        ("drill: Test\nsteps:\n- say: 'hi\n", "a.yaml:3:8: the quote that opens here is not closed: `'hi'`"),
        ("drill: Test: two\n", "a.yaml:1:12: a colon inside text: put the text in quotes: `drill: \"Test: two\"`"),
        ("drill: Zoë\nsteps:\n- say: a\0b\n", "a.yaml:3:9: a character that text cannot hold; delete it"),
        ("drill: Zoë\nsteps:\n- say: \x07\n", "a.yaml:3:8: a character that text cannot hold; delete it"),
        ("", "a.yaml:1:1: the file is empty; `cornercue new FILE` writes a script to start from"),
        (" \n\n", "a.yaml:1:1: the file is empty; `cornercue new FILE` writes a script to start from"),
        ("# only a note\n", "a.yaml:1:1: a drill script starts with `drill: its title` and has `steps:`"),
    ],
)
def test_a_faulty_script_is_told_at_its_place(text: str, fault: str) -> None:
    (found,) = faults_in(text)
    assert found.startswith(fault)


def test_a_key_written_twice_is_told_where_it_comes_again() -> None:
    assert faults_in("drill: A\nlevel: 1\nlevel: 2\nsteps:\n- say: a\n  say: b\n") == [
        "a.yaml:3:1: `level` is written twice; keep one of the two",
        "a.yaml:6:3: `say` is written twice; keep one of the two",
    ]


def test_all_faults_of_a_script_come_at_once_in_the_order_of_its_lines() -> None:
    found = faults_in(
        "drill: A\ndrill: B\nlevel: 99\nsteps:\n- combination: [jib, cros]\n- rest: soon\n- sey: hi\n"
        "- repeat: 2\n  steps:\n  - exercise: burpees\n  - hold: side kick\n    fro: 3 s\n"
    )
    assert [fault.split(": ")[0] for fault in found] == [
        "a.yaml:2:1", "a.yaml:3:8", "a.yaml:5:17", "a.yaml:5:22", "a.yaml:6:9", "a.yaml:7:3", "a.yaml:10:5",
        "a.yaml:12:5",
    ]  # fmt: skip


def test_ten_thousand_nested_repeats_are_refused() -> None:
    flow = "drill: A\nsteps: " + "[{repeat: 2, steps: " * 10_000
    (found,) = faults_in(flow)
    assert f"steps are nested more than {MAX_DEPTH // 2} deep; write them one after the other" in found
    closed = flow + "[{say: hi}]" + "}]" * 10_000
    (found,) = faults_in(closed)
    assert "nested more than" in found


def test_steps_may_be_nested_as_deep_as_the_sentence_says() -> None:
    def nested(repeats: int) -> str:
        return "drill: A\nsteps: " + "[{repeat: 1, steps: " * repeats + "[{say: hi}]" + "}]" * repeats

    deepest = MAX_DEPTH // 2
    assert parse_drill(nested(deepest - 2))
    assert "nested more than" in faults_in(nested(deepest + 1))[0]


def test_an_alias_bomb_does_not_go_off() -> None:
    bomb = "a0: &a0 [x]\n" + "".join(f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]\n" for n in range(1, 10))
    (found,) = faults_in(bomb)
    assert found.startswith("a.yaml:1:5: anchors (&) and aliases (*) are not allowed; write the steps out")
    (found,) = faults_in("drill: A\nsteps:\n- <<: *base\n")
    assert found.startswith("a.yaml:3:7: anchors (&) and aliases (*) are not allowed")


def test_a_script_of_very_many_values_is_refused() -> None:
    (found,) = faults_in("drill: A\nsteps: [" + "a," * 25_000 + "a]\n")
    assert "more than 20000 values; split it and use `include`" in found


def test_more_than_five_hundred_steps_are_refused() -> None:
    (found,) = faults_in(HEAD + "- say: hi\n" * 501)
    assert found.startswith("a.yaml:3:1: `steps` has too many entries; at most 500")


def test_words_that_yaml_would_guess_at_stay_words() -> None:
    drill = parse_drill("drill: no\nlevel: '3'\nsteps:\n- say: no\n- rest: 1:30\n- say: 12e3\n- say: 2026-01-01\n")
    assert [step.say for step in drill.steps if isinstance(step, Say)] == ["no", "12e3", "2026-01-01"]
    assert [step.rest.at(1) for step in drill.steps if isinstance(step, Rest)] == [90.0]
    assert (drill.drill, drill.level) == ("no", 3)
