"""Scripts that are right, for property tests: plain data of every step kind, with repeats in repeats and includes."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import yaml
from hypothesis import strategies as st

from cornercue.script.model import Drill
from cornercue.script.read import read_drill
from cornercue.script.silence import RULES

Data = dict[str, Any]

# Written by hand and not taken from the vocabulary's table, so that a loss there is seen here.
NAMES = (
    "jab", "cross", "lead hook", "rear hook", "lead uppercut", "rear uppercut", "body jab", "rear body hook",
    "overhand", "backfist", "palm heel lead", "rear elbow", "knee rear", "lead front kick", "rear side kick",
    "rear low roundhouse kick", "lead high roundhouse kick", "low kick", "back kick rear", "straight right",
    "left hook", "right roundhouse to the head", "parry left", "cover", "weave left", "roll right", "slip right",
    "duck", "high block left", "block low", "step left", "pivot right", "circle left", "switch stance",
    "rear knife-hand strike", "lead spear hand", "rear spinning backfist", "rising elbow right", "lead flying knee",
    "rear high axe kick", "lead hook kick", "spinning hook kick left", "lead skipping side kick", "double block left",
    "knife-hand block right", "inside block", "step diagonally back left", "walking stance left", "horse stance",
    "sprawl", "side breakfall right", "shoulder roll", "technical stand-up left",
)  # fmt: skip
POSITIONS = ("side kick", "roundhouse kick", "front kick", "rear side kick", "lead knee", "low block", "duck", "elbow",
             "horse stance", "walking stance left", "rear side kick chamber", "chamber of the lead roundhouse kick",
             "high knee", "side kick chamber", "cat stance", "plank", "Wall sit", "hollow body")  # fmt: skip
OPEN_POSITIONS = ("side kick", "roundhouse kick", "front kick", "low block", "elbow", "high block", "high knee",
                  "side kick chamber", "cat stance", "double block chamber")  # fmt: skip
FREE_POSITIONS = ("butterfly stretch", "plank", "Wall sit", "Child's pose", "cat stretch", "hip circle, then still")
NO_FRONT = ("horse stance", "plank", "Wall sit", "hollow body")
"""Held once, whatever the stances: no foot is in front."""
ANGLES = ("ahead", "left 30", "right 60", "left 90", "right 90", "left 180", "behind", "right 135", "left 1")
PACES: tuple[Any, ...] = ("learning", "steady", "sharp", 0.2, 1.5, "2 s")

signs = st.text(st.characters(exclude_categories=["C", "Z"]), min_size=1, max_size=12)
texts = signs.filter(lambda text: any(map(str.isalnum, text))) | st.sampled_from(
    ["Knees soft.", "no", "12", "sink at the knees", "circle left", "null", "- x", "a: b", "{0}", "%s", "ô"]
)
durations = st.integers(1, 40).flatmap(
    lambda n: st.sampled_from([n, f"{n} s", f"{n} sec", f"0:{n:02}", f"{n / 60:.4f} min", f"{n}.5 s"])
)
rests = st.integers(3, 40).flatmap(lambda n: st.sampled_from([n, f"{n} s", f"0:{n:02}"]))
reps = st.integers(1, 6) | st.integers(1, 2).map(lambda n: f"{n} per level")
def by_level(values: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    """A value, or now and then a table of such values by level."""
    return values | values | st.dictionaries(st.integers(1, 10), values, min_size=1, max_size=2)


reps_of_sets = reps | by_level(st.integers(1, 6)) | by_level(st.lists(st.integers(1, 5), min_size=2, max_size=3))
spacings = durations | st.sampled_from(["3 s down to 1.5 s", "2 s up to 4.5 s", {1: "4 s", 3: "4 s down to 3 s"}])
checks = st.lists(texts, min_size=1, max_size=2)


@dataclass(frozen=True)
class Script:
    """A script as plain data, with the files it includes by name."""

    data: Data
    others: dict[str, Data] = field(default_factory=dict)

    def text(self) -> str:
        return as_yaml(self.data)

    def read(self) -> Drill:
        """The drill that the reader makes of it, from files."""
        with TemporaryDirectory() as folder:
            for name, data in {"main.yaml": self.data, **self.others}.items():
                Path(folder, name).write_text(as_yaml(data), encoding="utf-8")
            return read_drill(Path(folder, "main.yaml"))


class _Plain(yaml.SafeDumper):
    """Writes a value that comes twice twice, since scripts have no aliases."""

    def ignore_aliases(self, data: Any) -> bool:
        return True


def as_yaml(data: Data) -> str:
    return str(yaml.dump(data, Dumper=_Plain, sort_keys=False, allow_unicode=True))


def _step(kind: str, value: st.SearchStrategy[Any], **optional: st.SearchStrategy[Any]) -> st.SearchStrategy[Data]:
    """A step with its kind first, and with each of its other keys in every second one or so."""
    maybe = {key: st.none() | inner for key, inner in optional.items()}
    return st.fixed_dictionaries({kind: value, **maybe}).map(
        lambda step: {kind: step[kind], **{key: value for key, value in step.items() if value is not None}}
    )


taught = st.sampled_from(NAMES) | st.builds(lambda name, cue: {name: cue}, st.sampled_from(NAMES), texts)
combinations = _step(
    "combination",
    st.lists(taught, min_size=1, max_size=4) | st.sampled_from(["1-2-3", "1, 2b, 5", "jab, cross", [1, 2, 6]]),
    teach=st.integers(0, 2),
    reps=reps_of_sets,
    sets=by_level(st.integers(1, 2)),
    rest=rests,
    angles=st.lists(st.sampled_from(ANGLES), min_size=1, max_size=3) | st.just("ahead, right 90"),
    every=spacings,
    between=texts,
    pace=st.sampled_from(PACES),
).map(lambda step: _sets_told_once(step if "rest" in step else _without(step, "sets")))
counted = _step(
    "exercise", texts, reps=reps_of_sets, sets=by_level(st.integers(1, 3)), every=spacings, rest=by_level(rests),
    check=checks,
)  # fmt: skip
timed = _step("exercise", texts, sets=st.integers(1, 3), rest=rests, check=checks)
exercises = st.builds(lambda step, n: step if "reps" in step else {**step, "reps": n}, counted, reps).map(
    lambda step: _sets_told_once(step)
) | st.builds(lambda step, seconds: {**step, "for": seconds}, timed, by_level(durations))
_HOLD = {"for": by_level(durations), "sets": by_level(st.integers(1, 2)), "rest": rests, "check": checks,
         "points": st.sampled_from(["once", "each set"])}  # fmt: skip
holds = _step("hold", st.sampled_from(POSITIONS), **_HOLD) | _step(
    "hold", st.sampled_from(OPEN_POSITIONS), sides=st.sampled_from(["left", "right", "both"]), **_HOLD
) | _step("hold", st.sampled_from(FREE_POSITIONS), sides=st.sampled_from(["left", "right", "both"]), **_HOLD)
holds = holds.map(lambda step: step if "check" in step else _without(step, "points"))
FREE_WORDS = ("left", "right", "freeze", "touch the floor", "stop")
_words = st.lists(st.sampled_from([*NAMES, *FREE_WORDS]), min_size=1, max_size=5, unique=True)
_react = {"seconds": st.sampled_from([1, "2 s", "0:03"]), "between": texts, "pace": st.sampled_from(PACES)}
reacts = st.builds(
    lambda step, weights, length: {
        **step, "react": dict(zip(step["react"], weights, strict=False)) if weights else step["react"], **length,
    },
    _step("react", _words, **_react),
    st.just([]) | st.lists(st.sampled_from([1, 2, 0.5, 3]), min_size=5, max_size=5),
    st.builds(lambda n: {"reps": n}, reps) | st.builds(lambda seconds: {"for": seconds}, durations),
)  # fmt: skip
PUNCHES = ("jab", "cross", "lead hook", "rear body hook", "palm heel lead", "lead knee")
SHIELD = ("lead front kick", "rear side kick", "right roundhouse kick", "push kick lead")
_struck = st.sampled_from([PUNCHES, SHIELD]).flatmap(
    lambda names: st.lists(
        st.lists(st.sampled_from(names), min_size=1, max_size=3), min_size=1, max_size=3, unique_by=str
    )
)
_pads = {"order": st.sampled_from(["random", "alternate"]), "between": texts, "pace": st.sampled_from(PACES)}
pads = st.builds(
    lambda step, length: {**step, **length},
    _step("pads", _struck, **_pads),
    st.builds(lambda n: {"reps": n}, reps) | st.builds(lambda seconds: {"for": seconds}, durations),
)
_kinds = st.sampled_from(
    [combinations, combinations, exercises, holds, reacts, pads, _step("say", texts), _step("rest", rests)]
)
plain_steps: st.SearchStrategy[Data] = _kinds.flatmap(lambda kind: kind)


def _repeats(inner: st.SearchStrategy[Data]) -> st.SearchStrategy[Data]:
    return st.builds(
        lambda count, rest, steps: {"repeat": count, **rest, "steps": steps},
        st.integers(1, 3),
        st.fixed_dictionaries({}, optional={"rest": rests}),
        st.lists(inner, min_size=1, max_size=2),
    )


def _sets_told_once(step: Data) -> Data:
    """Without `sets` where the repetitions are told set by set; with a rest then, which is not worked out by calls."""
    dose = step.get("reps")
    if not any(isinstance(one, list) for one in (dose.values() if isinstance(dose, dict) else [dose])):
        return step
    return {**_without(step, "sets"), "rest": step.get("rest", 20)}


def drills(steps: st.SearchStrategy[Data], most: int = 4) -> st.SearchStrategy[Data]:
    """Whole scripts of such steps."""
    return _heads(steps, most).map(lambda data: data if data.get("junior", True) else _without(data, "ages"))


def _without(data: Data, key: str) -> Data:
    return {name: value for name, value in data.items() if name != key}


def _heads(steps: st.SearchStrategy[Data], most: int) -> st.SearchStrategy[Data]:
    return st.fixed_dictionaries(
        {
            "drill": texts,
            "stance": st.sampled_from(["both", "orthodox", "southpaw"]),
            "steps": st.lists(steps, min_size=1, max_size=most),
        },
        optional={
            "about": texts,
            "level": st.integers(1, 4),
            "pace": st.sampled_from(PACES),
            "calls": st.sampled_from(["names", "numbers"]),
            "gear": st.lists(texts, min_size=1, max_size=2),
            "junior": st.booleans(),
            "ages": st.sampled_from(["5-6", "7 to 9", 8, "10-12", "13-15", "16-17"]),
            "silence": st.dictionaries(st.sampled_from(RULES), st.just("it is meant to be so"), min_size=1, max_size=3),
        },
    )


def scripts() -> st.SearchStrategy[Script]:
    """Scripts with every step kind, repeats nested up to three deep, and includes of up to two files."""
    steps = _repeats(_repeats(plain_steps | _repeats(plain_steps)) | plain_steps) | plain_steps

    def with_includes(others: list[Data]) -> st.SearchStrategy[Script]:
        files = {f"part {index}.yaml": data for index, data in enumerate(others)}
        includes = [{"include": name} for name in files]
        wanted = steps | st.sampled_from(includes) | _repeats(st.sampled_from(includes)) if includes else steps
        return drills(wanted).map(lambda data: Script(data, files))

    return st.lists(drills(plain_steps | _repeats(plain_steps), most=2), max_size=2).flatmap(with_includes)


def speech(seed: int) -> Callable[[str, float], float]:
    """A made-up voice: any phrase takes 0.1 to 3 s, always the same, and less where it is spoken faster."""

    def seconds(text: str, rate: float) -> float:
        drawn = hashlib.blake2b(f"{seed} {text}".encode(), digest_size=4).digest()
        return (0.1 + 2.9 * int.from_bytes(drawn, "big") / 0xFFFFFFFF) / rate

    return seconds


def beats(seed: int) -> Callable[[str, float], float]:
    """When that voice's phrases are heard to fall: up to 0.3 s after their start, within the first half; or at once."""

    def beat(text: str, rate: float) -> float:
        drawn = hashlib.blake2b(f"beat {seed} {text}".encode(), digest_size=4).digest()
        return min(0.3, speech(seed)(text, 1.0) / 2) * int.from_bytes(drawn, "big") / 0xFFFFFFFF / rate

    return beat if seed % 4 else lambda text, rate: 0.0


voice_seeds = st.integers(0, 10_000)
voices = voice_seeds.map(speech)
