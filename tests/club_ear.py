"""How the calls of the club's library sound to an ear that is not ours: which of its phrases the recogniser hears.

Each distinct call of a script, and each thing that is held, is said alone in a voice, and pocketsphinx chooses among
all of them in that script, then among all in its group of scripts, then in that script with noise. Terms of a style's
own language are one word each to it, in the nearest English phones (`ear.py`). A grammar cannot answer "none of these".
By hand, the table of docs/measured.md:

    python tests/club_ear.py [VOICE ...]
"""

from __future__ import annotations

import sys
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

import numpy as np
import yaml

from club_library import GROUPS, SCRIPTS
from cornercue.languages import Aloud
from cornercue.script.read import read_drill
from cornercue.sound import SAMPLE_RATE
from cornercue.timing.estimate import estimated_seconds
from cornercue.timing.expand import expand
from cornercue.timing.setting import Request
from cornercue.voice.voices import open_voice
from ear import AROUND, RATE, Ear, at_ear_rate, decibels, in_noise, spoken

SEEDS = range(1, 4)
"""Sessions whose calls are gathered."""


NOISY = 10.0
"""Decibels that a phrase lies above the pink noise, where there is some."""


AS_READ = {
    "age uke": "EY JH Y UW K", "gedan barai": "JH EH D AH N B AE R AY", "soto uke": "S OW T OW Y UW K",
    "gyaku zuki": "JH AY AA K UW Z UW K IY", "oi zuki": "OY Z UW K IY", "mae geri": "M IY JH EH R IY",
    "mawashi geri": "M AE W AA SH IY JH EH R IY", "zenkutsu dachi": "Z EH N K AH T S UW D AE CH AY",
    "kiba dachi": "K IY B AH D AE CH AY", "neko ashi dachi": "N IY K OW AE SH IY D AE CH AY",
    "arae makgi": "EH R IY M AE K G IY", "momtong makgi": "M AA M T AA NG M AE K G IY",
    "olgul makgi": "AA L G AH L M AE K G IY", "ap sogi": "AE P S OW G IY", "jirugi": "JH ER UW G IY",
    "ap chagi": "AE P CH AA G IY", "kihap": "K IH HH AE P",
}  # fmt: skip
"""Terms as an English voice reads their letters (espeak-ng's phonemes, `espeak-ng -v en-us -q --ipa`). Those that it
reads nearly as they are said are left out: yop, dwit, dollyo and naeryo chagi."""


class Heard(NamedTuple):
    """How many phrases were asked, how many were heard right, and which were taken for others."""

    asked: int
    right: int
    wrong: Mapping[str, str]


@dataclass(frozen=True)
class Phrases:
    """The distinct phrases of a script by how the recogniser takes them, and how the club's words are said aloud."""

    texts: Mapping[str, str]
    said: Mapping[str, Aloud]


def phrases_of(script: Path) -> Phrases:
    """Everything that is called or held in a script: "jab, cross", "Cat stance, left. Hold for twelve seconds."."""
    drill = read_drill(script)
    table = yaml.safe_load(script.read_text(encoding="utf-8")).get("words", {})
    own = [term for term, meaning in table.items() if "said" in meaning]
    lines = (expand(drill, Request(seed=seed), estimated_seconds) for seed in SEEDS)
    cues = [cue for line in lines for cue in line.spoken()]
    texts = {cue.text for cue in cues if (cue.kind == "call" and cue.text != "Hold.") or ". Hold for" in cue.text}
    return Phrases({_in_one(spoken(text), own): text for text in sorted(texts)}, drill.said_aloud)


def _in_one(words: str, own: Iterable[str]) -> str:
    """The club's own terms as one word each, as the recogniser has them: "rear apchagi"."""
    for term in sorted(own, key=len, reverse=True):
        words = words.replace(term, term.replace(" ", ""))
    return words


def listened(
    script: Path, voice: str, cache: Path, choices: Iterable[str] | None = None, noise: float | None = None
) -> Heard:
    """Each phrase of a script, said alone, told from the others, or from `choices`.

    In quiet, or with pink noise `noise` dB below the phrase.
    """
    phrases = phrases_of(script)
    ear, wrong = Ear(choices or phrases.texts), {}
    with open_voice(voice, cache, phrases.said) as speech:
        for seed, (words, text) in enumerate(phrases.texts.items()):
            said = at_ear_rate(speech.clip(text).samples, SAMPLE_RATE)
            found = ear.hear(in_noise(np.pad(said, round(AROUND * RATE)), decibels(said), noise, seed))
            if found != words:
                wrong[text] = found
    return Heard(len(phrases.texts), len(phrases.texts) - len(wrong), wrong)


def terms_of(script: Path) -> dict[str, str]:
    """A script's own terms that an English voice would read otherwise, with how they are said."""
    table = yaml.safe_load(script.read_text(encoding="utf-8")).get("words", {})
    return {term: meaning["said"] for term, meaning in table.items() if term in AS_READ and "said" in meaning}


def pronounced(terms: Iterable[str], said: Mapping[str, str], cache: Path) -> dict[str, bool]:
    """Whether each term, said by the system voice, is heard as it is meant to be said, and not as it is read.

    The choice is among all of the terms in both ways.
    """
    meant = {term: term.replace(" ", "") for term in AS_READ}
    read = {f"{word}read": AS_READ[term] for term, word in meant.items()}
    ear, heard = Ear([*meant.values(), *read], more=read), {}
    aloud = {term: Aloud(text) for term, text in said.items()}
    with open_voice("system", cache, aloud) as speech:
        for seed, term in enumerate(terms):
            sound = at_ear_rate(speech.clip(term).samples, SAMPLE_RATE)
            found = ear.hear(in_noise(np.pad(sound, round(AROUND * RATE)), decibels(sound), None, seed))
            assert found in (meant[term], f"{meant[term]}read"), (term, found)
            heard[term] = found == meant[term]
    return heard


def main() -> None:
    """Print a row of the table for each group, and what was misheard."""
    for voice in sys.argv[1:] or ["system"]:
        with TemporaryDirectory() as folder:
            for group in GROUPS:
                scripts = [script for script in SCRIPTS if script.parent.name == group]
                alone = [listened(script, voice, Path(folder)) for script in scripts]
                everything = {words for script in scripts for words in phrases_of(script).texts}
                among = [listened(script, voice, Path(folder), sorted(everything)) for script in scripts]
                noisy = [listened(script, voice, Path(folder), noise=NOISY) for script in scripts]
                asked = sum(one.asked for one in alone)
                told = " | ".join(str(sum(one.right for one in ones)) for ones in (alone, among, noisy))
                print(f"| {voice} | {group} | {asked} | {told} |", flush=True)
                for one in (*alone, *among, *noisy):
                    for text, found in one.wrong.items():
                        print(f"    {text!r} was taken for {found!r}", flush=True)


if __name__ == "__main__":
    main()
