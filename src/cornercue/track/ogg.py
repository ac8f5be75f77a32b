"""The pages of an Ogg file, given one serial number (RFC 3533, section 6, "The Ogg page format").

libsndfile draws the number at random; with the same one each time, the same drill gives the same bytes.
"""

from __future__ import annotations

import zlib
from pathlib import Path

SERIAL = 1
"""Any fixed number serves: it tells apart streams that share a file."""

HEAD = 27
"""Bytes of a page before its table of segments, whose last byte is how many there are."""

NUMBER, CHECKSUM = slice(14, 18), slice(22, 26)

MIRRORED = bytes(int(f"{byte:08b}"[::-1], 2) for byte in range(256))
"""Each byte with its bits in the other order."""


def fix_serial(path: Path) -> None:
    """Write `SERIAL`, and the checksum that follows from it, into every page. Raises ValueError where there is none."""
    with path.open("r+b") as file:
        at = 0
        while head := file.read(HEAD):
            if head[:4] != b"OggS":
                raise ValueError(f"there is no Ogg page at byte {at}")
            segments = file.read(head[-1])
            page = bytearray(head + segments + file.read(sum(segments)))
            page[NUMBER] = SERIAL.to_bytes(4, "little")
            page[CHECKSUM] = bytes(4)
            page[CHECKSUM] = checksum(page).to_bytes(4, "little")
            file.seek(at)
            file.write(page)
            at += len(page)


def checksum(page: bytes | bytearray) -> int:
    """The CRC of Ogg: polynomial 0x04C11DB7, from 0, its bits not mirrored.

    zlib's has the same polynomial with mirrored bits, starts from and ends with all ones turned: so the bytes go in
    mirrored, both turns are undone, and what comes out is mirrored back.
    """
    mirrored = zlib.crc32(page.translate(MIRRORED), 0xFFFFFFFF) ^ 0xFFFFFFFF
    return int.from_bytes(mirrored.to_bytes(4, "little").translate(MIRRORED))
