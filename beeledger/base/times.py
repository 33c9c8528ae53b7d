"""Times of day as a crew writes them: minutes after local midnight."""

from __future__ import annotations

import re

_TIME = re.compile(r"(\d{1,2})(?:[:.h]?(\d{2}))?\s*(am|pm)?", re.IGNORECASE)
_NOON = 12


def read_minute(text: str) -> int:
    """Minutes after midnight of "20:30", "2030", "20.30", "8.30 pm", "21".

    Raises ValueError with a sentence when it is no time of day.
    """
    match = _TIME.fullmatch(text.strip())
    if match is None:
        raise ValueError(f"{text.strip()!r} is no time of day")
    hour, minute, half = int(match[1]), int(match[2] or 0), (match[3] or "").lower()
    if half:
        if not 1 <= hour <= _NOON:
            raise ValueError(f"{text.strip()!r} is no time of day")
        hour = hour % _NOON + (_NOON if half == "pm" else 0)
    if hour >= 24 or minute >= 60:
        raise ValueError(
            f"there is no {text.strip()} o'clock" if not match[2] else f"there is no {text.strip()}"
        )
    return hour * 60 + minute


def clock_words(minute: int) -> str:
    """As it stands in a table: "20:30"."""
    return f"{minute // 60:02d}:{minute % 60:02d}"
