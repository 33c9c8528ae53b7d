"""Cells of hive rows by meaning: dates, years, colours, yes and no, temper, hive marks."""

from __future__ import annotations

import re
from datetime import date, datetime, timedelta

from beeledger.base.dates import long, read_date
from beeledger.base.resources import table
from beeledger.base.text import folded, tidy
from beeledger.exchange.register.figures import (
    UnreadCell,
    is_not_given,
    read_figure,
    shown,
    whole,
    words,
)
from beeledger.exchange.tables import Broken, Cell

_WEEKDAY = re.compile(r"^(mon|tue|wed|thu|fri|sat|sun)[a-z]*[.,]?\s+", re.IGNORECASE)
_CLOCK = re.compile(r"[\sT]+\d{1,2}[:.]\d{2}(:\d{2}(\.\d+)?)?\s*(am|pm|h|hrs)?$", re.IGNORECASE)
_MONTH_FIRST = re.compile(r"([A-Za-z]{3,9})\.?\s+(\d{1,2})(?:st|nd|rd|th)?(?:[\s,]+(\d{2}|\d{4}))?")
_YEAR_FIRST = re.compile(r"(\d{4})[./](\d{1,2})[./](\d{1,2})")
_RUN_TOGETHER = re.compile(r"(20\d{2})(\d{2})(\d{2})")
_YEAR = re.compile(r"(?<!\d)(?:(19|20)(\d{2})|['’`‘]?(\d{2}))(?!\d)")
_DAY_FIRST = "Write the day first, as 14/05/2026"
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


def read_day(value: Cell, today: date, *, epoch_1904: bool = False) -> date | None:
    """The day of a look: a real date, a day number, or words. None when not given. UnreadCell else."""
    if is_not_given(value):
        return None
    if isinstance(value, Broken):
        raise UnreadCell(f"the date is {value.why}, {value.text}", "Type the date itself")
    if isinstance(value, datetime):
        day = value.date()
    elif isinstance(value, date):
        day = value
    elif isinstance(value, int | float) and not isinstance(value, bool):
        day = _from_serial(float(value), epoch_1904=epoch_1904)
    else:
        day = _from_words(shown(value), today)
    if day > today:
        raise UnreadCell(f"{shown(value)} is after today, {long(today)}", "Correct the date")
    return day


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


def _from_serial(number: float, *, epoch_1904: bool) -> date:
    reading = table("rules", "register.toml")["reading"]
    if number == 0 or not reading["first_serial"] <= number <= reading["last_serial"]:
        raise UnreadCell(f"{shown(number)} is not a date", _DAY_FIRST)
    return (date(1904, 1, 1) if epoch_1904 else date(1899, 12, 30)) + timedelta(days=int(number))


def _from_words(text: str, today: date) -> date:
    plain = _CLOCK.sub("", _WEEKDAY.sub("", text)).replace("'", "").replace("’", "")
    plain = re.sub(r"\s+of\s+", " ", plain, flags=re.IGNORECASE).strip(" .,")
    if match := _MONTH_FIRST.fullmatch(plain):
        plain = " ".join(part for part in (match[2], match[1], match[3]) if part)
    elif match := _YEAR_FIRST.fullmatch(plain) or _RUN_TOGETHER.fullmatch(plain):
        plain = "-".join(match.groups())
    elif plain.isdigit() and len(plain) == 5:
        return _from_serial(float(plain), epoch_1904=False)
    try:
        return read_date(plain, today)
    except ValueError as error:
        raise UnreadCell(str(error).replace(plain, tidy(text)), _DAY_FIRST) from None


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
