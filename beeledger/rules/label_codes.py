"""What the code on a jar says: the article number and the element string of GS1.

The symbol itself is drawn by whoever draws the label.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date

from beeledger.rules.labels import DateForm

GTIN_LENGTHS = (8, 12, 13, 14)
MOST_LOT_CHARACTERS = 20
_LOT = re.compile(r"[!\"%&'()*+,\-./0-9:;<=>?A-Z_a-z]{1,20}")
"""AI (10): up to 20 characters of the GS1 AI encodable character set 82."""


@dataclass(frozen=True, slots=True)
class ElementString:
    """Application identifiers with their values, in the order they are put into the symbol."""

    elements: tuple[tuple[str, str], ...]

    def human(self) -> str:
        """For people, under the symbol, and for symbol writers: "(01)…(15)…(10)…"."""
        return "".join(f"({ai}){value}" for ai, value in self.elements)

    def plain(self) -> str:
        """As a scanner hands it over, without the leading FNC1.

        Only AI (10) has no fixed length; it stands last, so no separator is needed.
        """
        return "".join(ai + value for ai, value in self.elements)

    def is_open_trade(self) -> bool:
        """Whether it has an article number: GS1 wants (01) with (10) and (15) outside the farm."""
        return any(ai == "01" for ai, _ in self.elements)


def gtin_check_digit(digits: str) -> str:
    """The check digit for an article number without its last digit.

    From the right, digits count three and one in turn; the check digit fills up to the next ten
    (GS1 General Specifications, check digit calculation). ValueError for anything but digits.
    """
    if not (digits.isascii() and digits.isdigit()):
        raise ValueError("an article number (GTIN) has digits only")
    total = sum(int(digit) * (1 if place % 2 else 3) for place, digit in enumerate(reversed(digits)))
    return str(-total % 10)


def is_gtin(text: str) -> bool:
    """Whether these are 8, 12, 13 or 14 digits with a right check digit; blanks do not matter."""
    digits = "".join(text.split())
    if not (digits.isascii() and digits.isdigit()) or len(digits) not in GTIN_LENGTHS:
        return False
    return gtin_check_digit(digits[:-1]) == digits[-1]


def gtin_14(text: str) -> str:
    """An article number filled to 14 digits, as AI (01) wants it. ValueError when it is none."""
    if not is_gtin(text):
        raise ValueError(f"{text!r} is not an article number (GTIN): its check digit does not agree")
    return "".join(text.split()).zfill(14)


def code_date(best_before: date, form: DateForm) -> str:
    """The date of best before as AI (15) holds it: YYMMDD.

    Where no day is printed the day is 00, read as the last of the month; where only the year is
    printed, 00 of December. Source: GS1 General Specifications, AI (15).
    """
    if form is DateForm.DAY:
        return f"{best_before:%y%m%d}"
    month = best_before.month if form is DateForm.MONTH else 12
    return f"{best_before.year % 100:02d}{month:02d}00"


def element_string(lot_mark: str, best_before: date, form: DateForm, gtin: str = "") -> ElementString:
    """(01) article number where there is one, (15) best before, (10) lot; fixed lengths first.

    ``lot_mark`` without the printed L. ValueError when it cannot stand in AI (10), or the article
    number is wrong: symbol writers do not look at that.
    """
    if not _LOT.fullmatch(lot_mark):
        raise ValueError(
            f"a lot in a GS1 code has 1 to {MOST_LOT_CHARACTERS} plain characters, not {lot_mark!r}"
        )
    article = (("01", gtin_14(gtin)),) if gtin.strip() else ()
    return ElementString((*article, ("15", code_date(best_before, form)), ("10", lot_mark)))
