"""Words as the natural voice speaks them, with when its own network lets each phoneme begin.

Piper's network decides first how many steps (of 12 ms) each phoneme lasts, then makes the sound. That answer stays
inside the model; here it is made an output too, as piper-tts does it in its `patch_voice_with_alignment.py` (read). The
mark of stress is a phoneme of its own there and stands before its vowel: the vowel begins with its mark.
"""

from __future__ import annotations

import json

import numpy as np
import onnxruntime
from piper import PiperVoice
from piper.config import PiperConfig

from cornercue.voice.natural import UNHURRIED, shipped
from phonemes import Spoken

MARKS = "ˈˌ"

GRAPH, OUTPUT, NAME = 7, 12, 1
"""Numbers of fields in ONNX's protobuf (onnx.proto, from memory): a model's graph, a graph's output, its name."""

LENGTHS = b"/Ceil_output_0"
"""What the steps of each phoneme are called in the shipped model."""


def spoken_naturally(words: list[str], rate: float = 1.0) -> dict[str, Spoken]:
    """Each word by the shipped voice at `rate` times its pace, as `NaturalVoice` does; callers check the samples."""
    model = shipped()
    settings = onnxruntime.SessionOptions()
    settings.intra_op_num_threads = settings.inter_op_num_threads = 1
    settings.log_severity_level = 4
    # What is written twice in a protobuf is merged: a second graph that has only an output adds that output.
    telling = model.read_bytes() + _field(GRAPH, _field(OUTPUT, _field(NAME, LENGTHS)))
    session = onnxruntime.InferenceSession(telling, settings, ["CPUExecutionProvider"])
    written = json.loads(model.with_name(f"{model.name}.json").read_text(encoding="utf-8"))
    voice = PiperVoice(session=session, config=PiperConfig.from_dict(written))
    stretch = voice.config.length_scale * (1 / rate - UNHURRIED) / (1 - UNHURRIED)
    return {word: _said(voice, word, stretch) for word in words}


def _field(number: int, payload: bytes) -> bytes:
    """One short field of bytes in a protobuf."""
    return bytes([number << 3 | 2, len(payload)]) + payload


def _said(voice: PiperVoice, word: str, stretch: float) -> Spoken:
    [phonemes] = voice.phonemize(word)
    ids = voice.phonemes_to_ids(phonemes)
    scales = np.array([0, stretch, 0], np.float32)
    sound, steps = voice.session.run(
        None, {"input": np.array([ids]), "input_lengths": np.array([len(ids)]), "scales": scales}
    )
    begins = np.append(0, np.cumsum(steps.squeeze())) * voice.config.hop_length / voice.config.sample_rate
    marked = next(at for at, phoneme in enumerate(phonemes) if phoneme in MARKS)
    assert len(begins) == len(ids) + 1
    loudest = sound.squeeze() / np.abs(sound).max()  # as Piper gives it
    return Spoken(loudest, voice.config.sample_rate, float(begins[2 + 2 * marked]))  # ids: ^ _ p _ p _
