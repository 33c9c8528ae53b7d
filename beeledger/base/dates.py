"""Dates as people write them on sheets, and as the program writes them."""

from __future__ import annotations

import re
from contextlib import suppress
from datetime import date

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_FULL = (
    "january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november",
    "december",
)  # fmt: skip
_WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_NUMERIC = re.compile(r"(\d{1,2})\s*[./\- ]\s*(\d{1,2})(?:\s*[./\- ]\s*(\d{2}|\d{4}))?")
_ISO = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})(?:[T ].*)?")
_WORDED = re.compile(r"(\d{1,2})(?:st|nd|rd|th)?[\s\-]*([A-Za-z]{3,9})\.?,?[\s\-]*(\d{2}|\d{4})?")


def short(day: date) -> str:
    """For a table where the year is plain."""
    return f"{day.day} {MONTHS[day.month - 1]}"


def long(day: date) -> str:
    """With the year: "5 May 2026"."""
    return f"{short(day)} {day.year}"


def weekday(day: date) -> str:
    """With the day of the week: "Tue 5 May"."""
    return f"{_WEEKDAYS[day.weekday()]} {short(day)}"


def span(first: date, last: date) -> str:
    """A period in the fewest words: "3 to 28 May 2026"."""
    if first == last:
        return long(first)
    if (first.year, first.month) == (last.year, last.month):
        return f"{first.day} to {long(last)}"
    if first.year == last.year:
        return f"{short(first)} to {long(last)}"
    return f"{long(first)} to {long(last)}"


def read_date(text: str, today: date) -> date:
    """Read a date written in the British order, in any of the usual forms.

    "14/05/2026", "14.5.26", "14 May 26", "14th May", "2026-05-14". A missing year is the one
    that puts the date nearest before or at ``today``. Two-digit years are of this century.
    Raises ValueError with a sentence when it is no date or cannot be one (31/02).
    """
    plain = text.strip()
    if match := _ISO.fullmatch(plain):
        year, month, day = (int(part) for part in match.groups()[:3])
        return _date(day, month, year, text)
    if match := _NUMERIC.fullmatch(plain):
        day, month, tail = int(match[1]), int(match[2]), match[3]
    elif match := _WORDED.fullmatch(plain):
        day, month, tail = int(match[1]), _month(match[2], text), match[3]
    else:
        raise ValueError(f"{text!r} is not read as a date")
    if tail is not None:
        return _date(day, month, int(tail) + (2000 if len(tail) == 2 else 0), text)
    return _latest(day, month, today, text)


def days_between(first: date, last: date) -> int:
    """Whole days from ``first`` to ``last``."""
    return (last - first).days


def _latest(day: int, month: int, today: date, text: str) -> date:
    """The last such day up to today: 29 February may lie eight years back (from 1904 to 1896)."""
    for year in range(today.year, today.year - 9, -1):
        with suppress(ValueError):
            if (guess := date(year, month, day)) <= today:
                return guess
    raise ValueError(f"there is no such day as {text.strip()}")


def _month(word: str, text: str) -> int:
    for number, name in enumerate(_FULL, start=1):
        if name.startswith(word.lower()):
            return number
    raise ValueError(f"{text!r} names no month")


def _date(day: int, month: int, year: int, text: str) -> date:
    try:
        return date(year, month, day)
    except ValueError:
        raise ValueError(f"there is no such day as {text.strip()}") from None
