"""Figures as people type them into cells: "2 fr", "½", "7+", "6-7", "24 hives"."""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Collection
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from fractions import Fraction

from beeledger.base.resources import table
from beeledger.base.text import folded, tidy
from beeledger.exchange.tables import Broken, Cell

# "1/2" and "3/4" are parts of a frame; "6/7" is six or seven.
_NUMBER = r"-?\d+(?:[.,·]\d+)?(?:\s+\d/[234])?|-?\d/[234]"
_ONE = re.compile(rf"({_NUMBER})")
_RANGE = re.compile(rf"({_NUMBER})\s*(?:-|to|/|or)\s*({_NUMBER})")
_DASHES = str.maketrans("–—−‒", "----")


class UnreadCell(Exception):
    """A cell that cannot be read: what is wrong and how to mend it."""

    def __init__(self, what: str, mend: str = "") -> None:
        super().__init__(what)
        self.what = what
        self.mend = mend


@dataclass(frozen=True, slots=True)
class Figure:
    """A number as read, and why it is doubtful ("" when it is not)."""

    value: Fraction
    doubt: str = ""


def words(kind: str) -> frozenset[str]:
    """A list of cell words from the resource file."""
    return frozenset(table("words", "register.toml")["cells"][kind])


def shown(value: Cell) -> str:
    """A cell's value as the person sees it, for a sentence."""
    if isinstance(value, Broken):
        return value.text
    if isinstance(value, datetime):
        return value.date().isoformat() if value.time() == time() else value.isoformat(" ", "minutes")
    if isinstance(value, float) and value.is_integer() and abs(value) < 1e15:
        return str(int(value))
    return tidy(str(value)) if value is not None else ""


def is_not_given(value: Cell) -> bool:
    """Blank, or one of the marks people use for not known."""
    return value is None or (isinstance(value, str) and folded(value) in words("blank"))


def read_figure(value: Cell, units: Collection[str], named: str) -> Figure | None:
    """A number, None when not given. ``named`` says what it counts, for the sentence.

    Understands halves, "about" words, ranges (the middle, doubtful) and ``units`` behind it.
    Raises UnreadCell.
    """
    if is_not_given(value):
        return None
    if isinstance(value, bool | Broken):
        raise _unread(value, named)
    if isinstance(value, int | float):
        return Figure(_finite(value, named))
    if isinstance(value, date | datetime | time | timedelta):
        what = f"a date or time, {shown(value)}, stands where {named} should"
        raise UnreadCell(what, "The spreadsheet may have made a date of a range such as 6-7; type it as text")
    return _from_text(str(value), units, named)


def whole(figure: Figure) -> int | None:
    """The figure as a whole number; None when it is not one."""
    return int(figure.value) if figure.value.denominator == 1 else None


def tenths(figure: Figure) -> Figure:
    """The figure times ten, rounded half up and then doubtful when it is finer than that."""
    scaled = figure.value * 10
    if scaled.denominator == 1:
        return Figure(scaled, figure.doubt)
    rounded = Fraction(math.floor(scaled + Fraction(1, 2)))
    return Figure(rounded, figure.doubt or f"is finer than tenths and was rounded to {float(rounded) / 10:g}")


def _finite(value: float, named: str) -> Fraction:
    if isinstance(value, float) and not math.isfinite(value):
        raise _unread(value, named)
    return Fraction(Decimal(str(value)))


def _from_text(text: str, units: Collection[str], named: str) -> Figure:
    plain = folded(_fractions(tidy(text))).translate(_DASHES)
    if plain in words("nought"):
        return Figure(Fraction(0))
    for unit in sorted(units, key=len, reverse=True):
        plain = re.sub(rf"(?<![a-z]){re.escape(unit)}(?![a-z])", " ", plain)
    about = False
    for word in sorted(words("about"), key=len, reverse=True):
        pattern = (
            rf"(?<![a-z]){re.escape(word)}(?![a-z])" if word.isalpha() and word != "ish" else re.escape(word)
        )
        plain, times = re.subn(pattern, " ", plain)
        about = about or times > 0
    plain = plain.strip()
    if match := _ONE.fullmatch(plain):
        number = _number(match[1])
        return Figure(number, f"is not exact, read as {float(number):g}" if about else "")
    if match := _RANGE.fullmatch(plain):
        middle = (_number(match[1]) + _number(match[2])) / 2
        return Figure(middle, f"is a range, read as {float(middle):g}")
    raise _unread(text, named)


def _fractions(text: str) -> str:
    """Fraction signs spelt out: "7½" as "7 1/2"."""
    parts = []
    for letter in text:
        spelt = unicodedata.normalize("NFKD", letter).replace("\N{FRACTION SLASH}", "/")
        parts.append(f" {spelt}" if "/" in spelt and letter != "/" else letter)
    return "".join(parts).strip()


def _number(text: str) -> Fraction:
    plain = re.sub(r"[,·]", ".", text)
    sign = -1 if plain.startswith("-") else 1
    try:
        return sign * sum((Fraction(part) for part in plain.lstrip("-").split()), Fraction(0))
    except ZeroDivisionError:
        raise UnreadCell(f"{text} is not a number") from None


def _unread(value: Cell, named: str) -> UnreadCell:
    if isinstance(value, Broken):
        return UnreadCell(
            f"{named}: the cell holds {value.why}, {value.text}",
            "Type the figure itself, or open and save the file in your spreadsheet program",
        )
    return UnreadCell(f"{named}: {shown(value)!r} is not a number", "Type a plain number, or leave it blank")
