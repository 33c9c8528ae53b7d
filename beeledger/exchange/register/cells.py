"""Cells of hive rows by meaning: years, colours, yes and no, temper, hive marks."""

from __future__ import annotations

import re
from datetime import date, datetime

from beeledger.base.resources import table
from beeledger.base.text import folded
from beeledger.exchange.figures import (
    UnreadCell,
    is_not_given,
    read_figure,
    shown,
    whole,
    words,
)
from beeledger.exchange.tables import Broken, Cell

_YEAR = re.compile(r"(?<!\d)(?:(19|20)(\d{2})|['’`‘]?(\d{2}))(?!\d)")
_MARK = re.compile(r"[A-Za-z]{0,4}[\s\-/.]?\d{1,6}[A-Za-z]?")


def text_of(value: Cell) -> str:
    """A cell as free text; a formula that was saved without a result is the text that was typed."""
    if isinstance(value, Broken) and not value.text.startswith("="):
        return ""
    return shown(value)


def read_mark(value: Cell) -> str:
    """A hive's mark: 1 → "1", 12.0 → "12", "Hive 12" → "12", "H007" stays. "" when not given."""
    if is_not_given(value) or isinstance(value, Broken | bool | date):
        return ""
    text = shown(value)
    bare = folded(text)
    for prefix in sorted(words("hive_prefix"), key=len, reverse=True):
        if bare.startswith(prefix) and re.fullmatch(r"[\s.:#]*\d+[a-z]?", bare[len(prefix) :]):
            return text[len(prefix) :].strip(" .:#")
    return text


def looks_like_mark(value: Cell) -> bool:
    """Whether a cell could be a hive's number and not a name or a word."""
    if isinstance(value, bool | Broken) or value is None:
        return False
    if isinstance(value, int | float):
        return 0 <= value < 1_000_000 and value == int(value)
    return isinstance(value, str) and _MARK.fullmatch(read_mark(value)) is not None


def read_year(value: Cell, today: date, *, epoch_1904: bool = False) -> int | None:
    """A queen's year: 2025, "'25", "25", "2025 blue". None when not given. UnreadCell otherwise."""
    if is_not_given(value):
        return None
    year = _year(value, epoch_1904=epoch_1904)
    if year is None:
        raise UnreadCell(f"{shown(value)!r} is not read as a year", "Write the year with four figures")
    limits = table("rules", "register.toml")["limits"]
    if not limits["first_year"] <= year <= today.year:
        raise UnreadCell(f"a queen of {year} is not possible", "Correct the year")
    return year


def read_colour(value: Cell) -> str | None:
    """The marking colour in full, None when there is none. UnreadCell for any other word."""
    if is_not_given(value):
        return None
    found = colour_in(shown(value))
    if found is None:
        raise UnreadCell(
            f"{shown(value)!r} is not a marking colour", "White, yellow, red, green or blue, or blank"
        )
    return None if found == "none" else found


def colour_in(text: str) -> str | None:
    """The first word that is a marking colour; "none" for unmarked; None when no word is."""
    for word in re.findall(r"[a-z]+", folded(text)):
        for colour, spellings in table("words", "register.toml")["colours"].items():
            if word in spellings:
                return str(colour)
    return None


def read_yes_no(value: Cell) -> bool | None:
    """Yes and no in their usual forms. None when not given. UnreadCell otherwise."""
    if is_not_given(value) or isinstance(value, bool):
        return value if isinstance(value, bool) else None
    bare = folded(shown(value)).rstrip(".")
    if bare in words("yes"):
        return True
    if bare in words("no"):
        return False
    if colour_in(bare) not in (None, "none"):
        return True
    raise UnreadCell(f"{shown(value)!r} is neither yes nor no", "Write yes or no")


def read_temper(value: Cell) -> int | None:
    """Temper from 1 calm to 5 fierce, from a figure or a word. UnreadCell otherwise."""
    if is_not_given(value):
        return None
    if isinstance(value, str):
        bare = folded(value)
        for figure, spellings in table("words", "register.toml")["temper"].items():
            if bare in spellings:
                return int(figure)
        value = re.sub(r"\s*/\s*5$", "", value)
    limits = table("rules", "register.toml")["limits"]
    figure_read = read_figure(value, (), "temper")
    number = whole(figure_read) if figure_read else None
    if number is None or not limits["temper_from"] <= number <= limits["temper_to"]:
        raise UnreadCell(f"temper {shown(value)} is not on the scale from 1 to 5", "Write 1 to 5")
    return number


def _year(value: Cell, *, epoch_1904: bool) -> int | None:
    if isinstance(value, datetime | date):
        day = value.date() if isinstance(value, datetime) else value
        # 2024 in a cell that was given a date's form reads as a day of 1905.
        epoch = date(1904, 1, 1) if epoch_1904 else date(1899, 12, 30)
        return day.year if day.year >= 1990 else (day - epoch).days
    if isinstance(value, int | float) and not isinstance(value, bool):
        if not -1e6 < value < 1e6 or value != int(value):
            return None
        return int(value) + (2000 if 0 <= value < 100 else 0)
    match = None if isinstance(value, Broken) else _YEAR.search(shown(value))
    if match is None:
        return None
    return int(match[1] + match[2]) if match[1] else 2000 + int(match[3])
