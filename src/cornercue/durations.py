"""Times in figures, the same everywhere: "12:34" for a moment, "2 min 30 s" for how long something lasts."""

from __future__ import annotations


def clock(seconds: float) -> str:
    """Minutes and seconds, rounded: 754.2 is "12:34"; nothing below 0:00."""
    minutes, rest = divmod(max(0, round(seconds)), 60)
    return f"{minutes}:{rest:02d}"


def clock_with_tenths(seconds: float) -> str:
    """Minutes, seconds and tenths: 61.26 is "1:01.3"."""
    tenths = round(seconds * 10)
    return f"{tenths // 600}:{tenths % 600 / 10:04.1f}"


def lasting(seconds: float) -> str:
    """A duration as people say it: "45 s", "2 min", "2 min 30 s"."""
    minutes, rest = divmod(round(seconds), 60)
    return " ".join([f"{minutes} min"] * bool(minutes) + [f"{rest} s"] * bool(rest or not minutes))
