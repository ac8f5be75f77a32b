"""Clips on disk, each under the digest of what it was made from; several processes may use one folder."""

from __future__ import annotations

import hashlib
import logging
import os
import tempfile
from pathlib import Path

import numpy as np

from cornercue.sound import Samples

log = logging.getLogger("cornercue.voice")

DIGEST = 32
"""Bytes of the SHA-256 digest at the head of an entry."""


class Cache:
    """A folder of entries: the digest of key and payload, then the payload, int16 little-endian."""

    def __init__(self, folder: Path) -> None:
        """Use `folder`, which need not exist; nothing is touched yet."""
        self._folder = folder
        self._usable = True

    def load(self, key: str) -> Samples | None:
        """The samples kept under `key`; None, with a warning in the log, also where they are damaged."""
        if not self._usable:
            return None
        path = self._path(key)
        try:
            entry = path.read_bytes()
        except FileNotFoundError:
            return None
        except OSError as fault:
            self._give_up(fault)
            return None
        digest, payload = entry[:DIGEST], entry[DIGEST:]
        if not payload or digest != _digest(key, payload):
            log.warning("A stored clip was damaged (%s); it is made again.", path)
            return None
        return np.frombuffer(payload, "<i2").astype(np.int16)

    def store(self, key: str, samples: Samples) -> None:
        """Keep the samples under `key`. A folder that cannot be used is warned of once, then left alone."""
        if not self._usable:
            return
        payload = samples.astype("<i2").tobytes()
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
            _write(self._path(key), _digest(key, payload) + payload)
        except OSError as fault:
            self._give_up(fault)

    def _give_up(self, fault: OSError) -> None:
        self._usable = False
        log.warning("Clips cannot be kept for next time (%s); everything else works.", fault)

    def _path(self, key: str) -> Path:
        return self._folder / f"{key}.clip"


def digest_of(*facts: object) -> str:
    """The name of an entry made from these facts, in hexadecimal."""
    return hashlib.sha256(repr(facts).encode()).hexdigest()


def _digest(key: str, payload: bytes) -> bytes:
    return hashlib.sha256(key.encode() + payload).digest()


def _write(path: Path, entry: bytes) -> None:
    """Write beside, then rename: another process sees the whole entry or none."""
    handle, beside = tempfile.mkstemp(dir=path.parent, suffix=".part")
    try:
        with open(handle, "wb") as file:
            file.write(entry)
        os.replace(beside, path)
    except BaseException:
        os.unlink(beside)
        raise
