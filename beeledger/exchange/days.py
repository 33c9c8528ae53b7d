"""Days as people type them into spreadsheet cells, beyond the plain forms of ``base.dates``."""

from __future__ import annotations

import re
from datetime import date, datetime, timedelta

from beeledger.base.dates import long, read_date
from beeledger.base.resources import table
from beeledger.base.text import tidy
from beeledger.exchange.figures import UnreadCell, is_not_given, shown
from beeledger.exchange.tables import Broken, Cell

_WEEKDAY = re.compile(r"^(mon|tue|wed|thu|fri|sat|sun)[a-z]*[.,]?\s+", re.IGNORECASE)
_CLOCK = re.compile(r"[\sT]+\d{1,2}[:.]\d{2}(:\d{2}(\.\d+)?)?\s*(am|pm|h|hrs)?$", re.IGNORECASE)
_MONTH_FIRST = re.compile(r"([A-Za-z]{3,9})\.?\s+(\d{1,2})(?:st|nd|rd|th)?(?:[\s,]+(\d{2}|\d{4}))?")
_YEAR_FIRST = re.compile(r"(\d{4})[./](\d{1,2})[./](\d{1,2})")
_RUN_TOGETHER = re.compile(r"(20\d{2})(\d{2})(\d{2})")
_MONTH_DAY = re.compile(r"^(\d{1,2})\s*[./\-]\s*(\d{1,2})\s*[./\-]\s*(\d{2,4})")
_DAY_FIRST = "Write the day first, as 14/05/2026"


def read_day(value: Cell, today: date, *, epoch_1904: bool = False, month_first: bool = False) -> date | None:
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
        text = shown(value)
        day = _from_words(_turned(text) if month_first else text, today)
    if day > today:
        raise UnreadCell(f"{shown(value)} is after today, {long(today)}", "Correct the date")
    return day


def _turned(text: str) -> str:
    return _MONTH_DAY.sub(r"\2/\1/\3", text)


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
