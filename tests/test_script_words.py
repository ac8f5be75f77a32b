"""A club's own words: what the script calls a technique is understood, spoken, shown and counted."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornercue.languages import Aloud
from cornercue.script.combination import Combination
from cornercue.script.faults import Fault, ScriptFaults
from cornercue.script.read import parse_drill
from cornercue.script.words import KINDS
from cornercue.technique.table import TechniqueKind
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.setting import Request
from cornercue.timing.timeline import Cue, Timeline
from cornercue.totals.summary import summarised
from strategies import as_yaml

TABLE = """\
words:
  yop chagi: side kick
  dollyo: lead roundhouse kick
  makki: high block
  low sweep: {like: low block, seconds: 0.7}
  crescent: {like: roundhouse kick, height: head}
  hammer: {kind: strike, seconds: 0.6, height: head}
  gate block: {kind: defence}
  seal dive: {kind: ground, seconds: 1.4}
  heron: {kind: stance, sides: left/right}
  붕: front kick
"""


def lay(steps: str, table: str = TABLE, head: str = "") -> Timeline:
    return expand(parse_drill(f"drill: Test\njunior: no\n{head}{table}steps:\n{steps}"), Request(3), estimated_seconds)


def calls(line: Timeline) -> list[Cue]:
    return [cue for cue in line.cues if cue.kind == "call"]


def faults_in(text: str) -> Sequence[Fault]:
    """What is wrong with a script, if anything."""
    try:
        parse_drill(text, "a.yaml")
    except ScriptFaults as found:
        return found.faults
    return ()


def faults(table: str) -> list[str]:
    return [str(fault) for fault in faults_in(f"drill: Test\n{table}steps:\n- say: hi\n")]


@pytest.mark.parametrize(
    ("written", "technique", "hand", "side"),
    [
        ("lead yop chagi", "lead side kick", None, "left"),
        ("rear yop chagi", "rear side kick", None, "right"),
        ("yop chagi right", "rear side kick", None, "right"),
        ("dollyo", "lead roundhouse kick", None, "left"),
        ("makki left", "high block", None, "left"),
        ("low sweep right", "low sweep", None, "right"),
        ("lead crescent", "lead crescent", None, "left"),
        ("rear hammer", "rear hammer", "right", None),
        ("gate block left", "gate block", None, "left"),
        ("seal dive", "seal dive", None, None),
        ("heron right", "heron", None, "right"),
        ("lead 붕", "lead front kick", None, "left"),
    ],
)
def test_it_is_called_as_written_and_is_what_the_table_says(
    written: str, technique: str, hand: str | None, side: str | None
) -> None:
    (cue,) = calls(lay(f"- combination: [{written}]\n  reps: 1\n"))
    assert cue.text == written
    (action,) = cue.moves
    assert (action.technique, action.hand, action.side) == (technique, hand, side)


def test_left_and_right_of_own_words_are_mirrored() -> None:
    mirrored = calls(lay("- combination: [yop chagi right, makki left]\n  reps: 1\n", head="stance: both\n"))
    assert [cue.text for cue in mirrored] == ["yop chagi right, makki left", "yop chagi left, makki right"]


@pytest.mark.parametrize(
    ("word", "slow", "steady", "sharp"),
    [("low sweep left", 1.4, 0.7, 0.455), ("seal dive", 2.8, 1.4, 0.91), ("makki left", 1.0, 0.5, 0.35)],
)
def test_it_takes_the_time_that_the_table_says(word: str, slow: float, steady: float, sharp: float) -> None:
    for pace, seconds in (("learning", slow), ("steady", steady), ("sharp", sharp)):
        (cue,) = calls(lay(f"- combination: [{word}]\n  reps: 1\n  pace: {pace}\n"))
        assert cue.done is not None
        assert cue.done - cue.end == pytest.approx(0.25 + seconds)  # a reaction, then the technique


def test_totals_count_own_words_by_their_kind() -> None:
    line = lay("- combination: [lead yop chagi, rear hammer, seal dive, heron left, gate block left]\n  reps: 4\n")
    summary = summarised(line)
    assert summary.limbs == {"left hand": 0, "right hand": 4, "left leg": 4, "right leg": 0}
    assert {kind: n for kind, n in summary.called.items() if n and kind not in ("counts", "sentences")} == {
        "strikes": 4, "kicks": 4, "defences": 4, "stances": 4, "on the ground": 4,
    }  # fmt: skip


def test_own_words_are_drawn_held_and_answered_like_all_others() -> None:
    shadow = calls(lay("- shadow: [[lead yop chagi], [rear hammer, seal dive]]\n  for: 1 min\n"))
    assert {cue.text for cue in shadow} == {"lead yop chagi", "rear hammer, seal dive"}
    held = lay("- hold: yop chagi\n  for: 10 s\n")
    assert {cue.text for cue in held.cues if "yop" in cue.text.lower()} == {
        "Yop chagi, left leg. Hold for ten seconds.",
        "Yop chagi, right leg. Hold for ten seconds.",
    }
    fed = lay("- partner: [makki]\n  reps: 6\n  answers: [[rear hammer]]\n")
    assert {cue.text for cue in calls(fed)} == {"makki left", "makki right"}


def test_only_what_the_table_of_feeds_knows_is_fed() -> None:
    with pytest.raises(ScriptFaults, match="`gate block` cannot be fed: no feed is described for it; a partner"):
        lay("- partner: [gate block]\n  reps: 6\n")


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("height", ["", ", height: low", ", height: body", ", height: head"])
def test_a_new_word_of_any_kind_needs_nothing_else(kind: TechniqueKind, height: str) -> None:
    side = {"lead/rear": "lead ", "left/right": "", "none": ""}[KINDS[kind][0]]
    (cue,) = calls(lay(f"- combination: [{side}squall]\n  reps: 1\n", f"words:\n  squall: {{kind: {kind}{height}}}\n"))
    assert cue.text == f"{side}squall"


@pytest.mark.parametrize(
    ("entry", "fault"),
    [
        ("tide kick: sdie kick", "`sdie kick` is not a technique; did you mean `side kick`?"),
        ("jab: cross", "`jab` is a technique already; choose another name, or say what is meant"),
        ("parry: {kind: strike}", "`parry` is fed by partners, who are told how; choose another name"),
        ("cross: {kind: strike}", "`cross` is one hand's or leg's name already; choose another name"),
        ("left wheel: side kick", "`left wheel` names a side; leave it out, since it is said besides: `lead wheel`"),
        ("wheel: {kind: throw}", "`throw` is no kind of technique; one of `strike`, `kick`"),
        ("wheel: {kind: kik}", "`kik` is no kind of technique; did you mean `kick`?"),
        ("wheel: {like: side kick, kind: kick}", "`wheel` is either `like` a technique or of a `kind`"),
        ("wheel: {seconds: 2}", "`wheel` needs `like: a technique` or `kind:`"),
        ("wheel: {kind: kick, secs: 2}", "a word has no `secs`; did you mean `seconds`?"),
        ("wheel: {kind: kick, seconds: 900}", "`900` is out of range; a technique takes 0.1 to 30 s"),
        ("wheel: {kind: kick, seconds: long}", "`long` is not a duration"),
        ("wheel: {kind: kick, height: knee}", "`knee` is no height; one of `low`, `body`, `head`"),
        ("wheel: {kind: kick, sides: both}", "`both` are no sides; one of `lead/rear`, `left/right`, `none`"),
        ("wheel: {like: side kick, sides: none}", "`wheel` has the sides of what it is like; leave out `sides`"),
        ("wheel: {said: wheel}", "`wheel` needs `like: a technique` or `kind:`"),
        ("wheel: {like: jab, said: ''}", "the text is missing"),
        ("wheel: {like: jab, said: [a]}", "text belongs here"),
        ("wheel: {like: jab, said: '!!'}", "there is nothing to say in `!!`; write words"),
        ('wheel: {like: jab, said: "a\\eb"}', "the text holds a character that cannot be shown; delete it"),
        (f"wheel: {{like: jab, said: {'x' * 81}}}", "this has 81 letters; a word is said in 80 at most"),
        ("wheel: {like: jab, said: 突き}", "a voice does not read `突` as it is meant; write `said` in kana"),
        ("wheel: {like: jab, said: удар}", "no voice reads `у` aloud; write `said` in Latin letters"),
        ("wheel: {like: jab, said: 突き}", "a voice does not read `突` as it is meant; write `said` in kana, or in"),
        ("wheel: {like: jab, said: เตะ}", "no voice reads `เ` aloud; write `said` in Latin letters"),
        ("wheel: {like: jab, language: frnch}", "words cannot be said in `frnch`; did you mean `french`? there are"),
        ("wheel: {like: jab, language: thai}", "words cannot be said in `thai`; there are `chinese`, `dutch`, `f"),
        ("wheel: {like: jab, language: english}", "a word is said in English where it has no `language`; leave it"),
        ("wheel: {like: jab, language: [a]}", "text belongs here"),
        ("wheel: {like: jab, language: korean}", "`w` is not read in `korean`; write `said` in Hangul, or leave out"),
        ("wheel: {like: jab, language: french, said: つき}", "`つ` is not read in `french`; write `said` in Latin l"),
        ("x: side kick", "`x` is no name for a technique; use letters and spaces"),
        ("'!!': side kick", "`!!` is no name for a technique; use letters and spaces"),
        ("wheel: [side kick]", "`wheel` needs a technique, such as `side kick`"),
    ],
)
def test_a_faulty_word_is_told_at_its_place(entry: str, fault: str) -> None:
    (found,) = faults(f"words:\n  sound: side kick\n  {entry}\n")
    column = 3 + max(entry.find("said:"), entry.find("language:"), 0) if "like: jab" in entry else 3
    assert found.startswith(f"a.yaml:4:{column}: {fault}")


def said_aloud(text: str) -> dict[str, Aloud]:
    return dict(parse_drill(f"drill: Test\nwords:\n{text}\nsteps:\n- say: hi\n").said_aloud)


def test_a_word_of_any_kind_may_be_said_otherwise_than_written() -> None:
    table = """\
  yop chagi: {like: side kick, said: yop chah ghee}
  tsuki: {kind: strike, said: つき}
  gull kick: {like: roundhouse kick, height: head, said: "  ｇull  kick "}
  low sweep: {like: low block}
"""
    aloud = {"yop chagi": "yop chah ghee", "tsuki": "つき", "gull kick": "gull kick"}
    assert said_aloud(table) == {word: Aloud(said) for word, said in aloud.items()}


def test_a_word_of_any_kind_may_be_said_in_another_language() -> None:
    table = """\
  Fouetté: {like: roundhouse kick, language: French}
  ginga: {kind: footwork, language: portuguese, said: jinga}
  mabu: {kind: stance, language: chinese, said: 马步}
  chong quan: {kind: strike, language: chinese, said: chōng quán}
  podsechka: {kind: kick, language: russian, said: подсечка}
"""
    assert said_aloud(table) == {
        "fouetté": Aloud("Fouetté", "french"),
        "ginga": Aloud("jinga", "portuguese"),
        "mabu": Aloud("马步", "chinese"),
        "chong quan": Aloud("chōng quán", "chinese"),
        "podsechka": Aloud("подсечка", "russian"),
    }


def test_how_a_word_is_said_changes_nothing_in_the_timeline_but_the_lengths() -> None:
    steps = "- combination: [lead yop chagi]\n  teach: 1\n  reps: 2\n- say: The yop chagi.\n"
    plainly = lay(steps, "words:\n  yop chagi: side kick\n")
    aloud = lay(steps, "words:\n  yop chagi: {like: side kick, said: yop chah ghee}\n")
    assert aloud == plainly


def test_every_fault_is_told_at_once_and_the_rest_of_the_script_is_still_read() -> None:
    found = faults_in("drill: T\nwords:\n  a b: sdie kick\n  c d: jbb\nsteps:\n- combination: [jab, corss]\n")
    assert [fault.line for fault in found] == [3, 4, 6]


def test_a_list_of_words_is_told() -> None:
    (found,) = faults("words: [yop chagi]\n")
    assert found.startswith("a.yaml:2:8: a table of words belongs here, such as `tide kick: side kick`")


keys = st.sampled_from(["a", "like", "kind", "said", "language", "picture"])
odd: Any = st.recursive(
    st.text(max_size=8) | st.sampled_from(["side kick", "kick", "0.7", "like", "lead/rear"]),
    lambda inner: st.lists(inner, max_size=2) | st.dictionaries(keys, inner),
    max_leaves=4,
)


@given(st.dictionaries(st.text(max_size=10), odd, max_size=4))
def test_whatever_stands_in_a_table_of_words_is_read_or_told(table: dict[str, Any]) -> None:
    text = as_yaml({"drill": "Test", "words": table, "steps": [{"say": "hi"}]})
    assert all(fault.line >= 1 and fault.text for fault in faults_in(text))


def test_a_club_may_mean_something_of_its_own_by_a_usual_name() -> None:
    words = "words:\n  sprawl: {kind: ground, seconds: 2.5}\n  hook kick: {kind: kick, seconds: 3}\n"
    drill = parse_drill(f"drill: Own\n{words}steps:\n- combination: [sprawl, lead hook kick]\n")
    (step,) = drill.steps
    assert isinstance(step, Combination)
    assert [move.seconds("steady") for move in step.moves] == [2.5, 3.0]
    assert [move.name for move in step.moves] == ["sprawl", "lead hook kick"]
