"""Order: warm before sharp, new before tired, alone before with a partner, and calm at the end."""

from __future__ import annotations

from pathlib import Path

import pytest

from coaching import found_by, reviewed_file
from cornercue.coaching.order import review

SHARP = "- combination: [jab, cross]\n  pace: sharp\n"
EASY = "- exercise: easy skipping\n  for: {} s\n"
WALK = "- exercise: walking\n  for: 5 min\n"
LONG = "- repeat: 6\n  rest: 1 min\n  steps:\n  - exercise: shadow boxing\n    for: 2 min\n"


def order(steps: str, level: int = 7) -> list[str]:
    found = found_by(review, f"drill: Order\nlevel: {level}\nsteps:\n{steps}")
    return [f"{problem.line}: {problem.text}" for problem in found]


def test_sharp_work_comes_after_a_minute_of_easier_exercise() -> None:
    assert order(SHARP)[0].startswith("4: this is sharp work for cold muscles")
    assert order("- combination: [jab, rear high roundhouse kick]\n")[0].startswith("4: this is sharp work")
    assert len(order(EASY.format(59) + SHARP)) == 1
    assert order(EASY.format(60) + SHARP) == []
    assert order(SHARP.replace("sharp", "steady")) == []


def test_a_full_session_begins_warm_and_ends_calm() -> None:
    session = WALK + LONG + WALK
    assert order(session) == []
    (found,) = order(LONG + WALK + WALK)
    assert found.startswith("7: no warm-up comes before this: a full session wants 5 to 10 min")
    (found,) = order(EASY.format(90) + LONG + WALK)
    assert found.startswith("9: 1 min 30 s of warm-up come before this: a full session wants 5 to 10 min")
    (found,) = order(WALK + LONG + "- exercise: push-ups\n  reps: 10\n" + "- say: Well done.\n")
    assert found.startswith("11: a full session ends here without a cool-down")


def test_skipping_is_a_warm_up_and_a_round_of_boxing_is_not() -> None:
    skipping = "- exercise: skipping\n  for: 4 min\n"
    assert order(skipping + LONG + WALK) == []
    (found,) = order(skipping.replace("skipping", "shadow boxing") + LONG + WALK)
    assert found.startswith("4: no warm-up comes before this")


def test_a_short_drill_is_a_part_of_an_evening_and_needs_neither() -> None:
    assert order("- exercise: shadow boxing\n  for: 2 min\n") == []


def test_an_included_cool_down_is_one(tmp_path: Path) -> None:
    (tmp_path / "end.yaml").write_text("drill: Cool-down\nsteps:\n- exercise: yoga\n  for: 5 min\n")
    (tmp_path / "all.yaml").write_text(f"drill: All\nlevel: 7\nages: 15-17\nsteps:\n{WALK}{LONG}- include: end.yaml\n")
    assert reviewed_file(tmp_path / "all.yaml") == []


def test_a_cold_start_in_an_included_file_is_told_at_the_include(tmp_path: Path) -> None:
    (tmp_path / "fast.yaml").write_text(f"drill: Fast\nlevel: 7\nsteps:\n- say: Go.\n{SHARP}")
    (tmp_path / "all.yaml").write_text("drill: All\nlevel: 7\nsteps:\n- say: Hello.\n- include: fast.yaml\n")
    assert [(problem.rule, problem.line) for problem in reviewed_file(tmp_path / "all.yaml")] == [("order", 5)]


WARM_UP = "drill: Warm-up\nsteps:\n- exercise: jogging\n  for: 1 min\n"
TIDE = "drill: Tide\nsteps:\n- include: warm-up.yaml\n- combination: [jab, cross]\n"


def session(folder: Path, steps: str, **scripts: str) -> list[str]:
    """What the rule finds in a session whose included scripts lie beside it."""
    for name, text in {"warm-up": WARM_UP, "tide": TIDE, **scripts}.items():
        (folder / f"{name}.yaml").write_text(text)
    (folder / "all.yaml").write_text(f"drill: All\nsteps:\n{steps}")
    return [problem.told("all") for problem in reviewed_file(folder / "all.yaml") if problem.rule == "order"]


def test_a_warm_up_that_a_drill_brings_along_is_told_where_it_comes_a_second_time(tmp_path: Path) -> None:
    warm, tide = "- include: warm-up.yaml\n", "- include: tide.yaml\n"
    remedy = "; leave it out in one of the places"
    told = f"hint: order: the warm-up comes a second time, in “Tide”{remedy}"
    assert session(tmp_path, warm + tide) == [f"all:4:3: {told}"]
    assert session(tmp_path, tide + warm) == [f"all:4:3: hint: order: the warm-up comes a second time{remedy}"]
    assert session(tmp_path, warm + tide + tide) == [
        f"all:4:3: {told}",
        f"all:5:3: {told.replace('a second time', 'once more')}",
    ]
    assert session(tmp_path, tide) == session(tmp_path, warm) == []


def test_a_cool_down_and_what_is_gentle_throughout_are_told_too(tmp_path: Path) -> None:
    easy = "- exercise: slow breathing\n  for: 30 s\n- say: Well done.\n- exercise: calf stretch\n  for: 30 s\n"
    for title, what in (("Cooling down", "the cool-down"), ("Ebb", "“Ebb”, which is gentle throughout,")):
        (told,) = session(tmp_path, 2 * "- include: ebb.yaml\n", ebb=f"drill: {title}\nsteps:\n{easy}")
        assert told.startswith(f"all:4:3: hint: order: {what} comes a second time; ")


def test_a_drill_may_come_again_and_so_may_all_that_a_repeat_holds(tmp_path: Path) -> None:
    jabs = "drill: Jabs\nsteps:\n- exercise: easy jogging\n  for: 1 min\n- combination: [jab]\n"
    assert session(tmp_path, 2 * "- include: jabs.yaml\n", jabs=jabs) == []
    assert session(tmp_path, "- repeat: 3\n  steps:\n  - include: warm-up.yaml\n") == []
    assert session(tmp_path, "- include: warm-up.yaml\n- repeat: 3\n  steps:\n  - include: tide.yaml\n") == []
    (tmp_path / "other.yaml").write_text(WARM_UP)  # another file of the same words: somebody meant it
    assert session(tmp_path, "- include: warm-up.yaml\n- include: other.yaml\n") == []


def test_nothing_new_is_taught_in_the_last_third_of_a_full_session() -> None:
    new = "- combination: [jab, cross]\n  teach: 1\n"
    (found,) = order(WALK + LONG + new + EASY.format(120))
    assert found.startswith("11: something new is taught after ")
    assert order(WALK + new + LONG + WALK) == []
    assert order(EASY.format(120) + new) == []  # no full session


def test_alone_comes_before_with_a_partner() -> None:
    fed = "- partner: weave\n  reps: 6\n"
    alone = "- combination: [weave left, lead hook, cross]\n"
    (found,) = order(fed + alone)
    assert found == "4: weave comes with a partner before it is done alone, further down"
    assert order(alone + fed) == []
    assert order(alone + fed + alone) == []
    assert order(fed) == []  # it may have been learnt another day
    answer = "- partner: parry\n  reps: 6\n  answers: jab, cross\n"
    (found,) = order(answer + "- combination: [jab, cross]\n")
    assert found == "4: the answer comes with a partner before it is done alone, further down"


def test_beginners_get_each_defence_alone_or_in_turn_before_they_come_mixed() -> None:
    mixed = "- partner: [parry, cover]\n  reps: 6\n"
    (found,) = order(mixed, level=2)
    assert found == "4: parry and cover each come mixed at random before it was fed alone"
    assert order(mixed, level=3) == []
    assert order(mixed + "  order: alternate\n", level=2) == []
    assert order(mixed + "  order: even\n", level=2) == []
    assert order(mixed + "  order: alternate\n" + mixed, level=2) == []
    assert order("- partner: parry\n  reps: 6\n- partner: cover\n  reps: 6\n" + mixed, level=2) == []


@pytest.mark.parametrize(
    "name", ["sprints", "burpees", "tuck jumps", "heavy bag, all out", "plyometric jumps", "punches as fast as you can"]
)
def test_what_is_all_out_is_not_done_cold(name: str) -> None:
    hard = f"- exercise: {name}\n  for: 20 s\n"
    (found,) = order(hard)
    assert found.startswith("4: this is all-out work for cold muscles")
    assert order(EASY.format(60) + hard) == []
    assert len(order(hard + hard + SHARP)) == 1


@pytest.mark.parametrize("name", ["easy sprints", "jumping jacks", "star jumps", "small hops", "split squats", "rope"])
def test_what_only_sounds_like_it_is_left_alone(name: str) -> None:
    assert order(f"- exercise: {name}\n  for: 20 s\n") == []


@pytest.mark.parametrize("stretch", ["exercise: front splits", "exercise: long hamstring stretch", "hold: side splits"])
def test_splits_and_long_stretches_are_no_warm_up(stretch: str) -> None:
    (found,) = order(f"- {stretch}\n  for: 90 s\n{SHARP}")
    name = stretch.partition(": ")[2]
    assert found.endswith(f"too little easy exercise comes before it (“{name}” is a stretch, which does not warm)")
    assert order(f"- exercise: dynamic stretching, leg swings\n  for: 90 s\n{SHARP}") == []


def test_a_technique_that_comes_for_the_first_time_at_the_end_is_a_hint_at_its_word() -> None:
    kick = "- combination: [jab, rear spinning back kick]\n"
    known = "- combination: [jab, rear spinning back kick]\n  teach: 1\n"
    (found,) = order(WALK + LONG + kick + WALK)
    assert found.startswith("11: the rear spinning back kick comes for the first time after ")
    assert order(WALK + known + LONG + kick + WALK) == []
    assert order(WALK + kick.replace("rear", "lead") + LONG + kick + WALK) == []  # the other leg is no new kick
    assert order(kick) == []  # no full session
    assert order(WALK + LONG + "- combination: [step left, parry left]\n" + WALK) == []  # light


def test_a_word_of_the_club_that_comes_first_at_the_end_is_a_hint() -> None:
    words = "words:\n  heron: {kind: stance, sides: left/right}\n"
    text = f"drill: Order\nlevel: 7\n{words}steps:\n{WALK}{LONG}- combination: [heron left, jab]\n{WALK}"
    (problem,) = found_by(review, text)
    assert (problem.severity, problem.at) == ("hint", (13, 17))
    assert problem.text.startswith("the heron comes for the first time after ")
