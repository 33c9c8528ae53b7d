"""The lot mark on a jar: the farm's letters, the year, a running number and two check digits.

"HG26-0143-57" is jarring 143 of 2026 of the farm HG. The check digits are those of ISO 7064
MOD 97-10 (also behind IBAN, ISO 13616): every single wrong character and every exchange of two
characters is noticed when a mark is typed or read out. Only digits follow the letters, and the
letters leave out I, O and L, so that nothing can be heard or read as something else and the
"L" that the law wants before a mark is never part of it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

ALPHABET = "ABCDEFGHJKMNPQRSTUVWXYZ"
"""Letters of a farm's prefix: no I (1), no O (0), no L (the lot's own letter)."""
MOST_IN_A_YEAR = 9999
_PREFIX = re.compile(f"[{ALPHABET}]{{2,4}}")
_MARK = re.compile(rf"L?([{ALPHABET}]{{2,4}})([0-9]{{2}})([0-9]{{4}})([0-9]{{2}})")
_SEPARATORS = re.compile(r"[\s\-–—/.:_]+")
_HEARD = str.maketrans("OIL", "011")
"""What is typed for a digit by a hand or an eye that took it for a letter."""


@dataclass(frozen=True, slots=True)
class LotMark:
    """A lot mark taken apart. ``year`` is full (2026), ``number`` counts from 1 in each year."""

    prefix: str
    year: int
    number: int

    def __str__(self) -> str:
        """As kept and as put into a code: "HG26-0143-57"."""
        body = f"{self.prefix}{self.year % 100:02d}{self.number:04d}"
        return f"{body[:-4]}-{body[-4:]}-{check_digits(body)}"

    def printed(self) -> str:
        """As printed on a label, with the L that Directive 2011/91/EU art. 3 asks for."""
        return f"L {self}"

    def spoken(self) -> str:
        """Character by character, for the telephone: "H G, 2 6, 0 1 4 3, 5 7"."""
        compact = str(self).replace("-", "")
        parts = (self.prefix, compact[-8:-6], compact[-6:-2], compact[-2:])
        return ", ".join(" ".join(part) for part in parts)


def check_digits(body: str) -> str:
    """The two check digits of ISO 7064 MOD 97-10 for letters and digits (A = 10 … Z = 35).

    ValueError for any other character.
    """
    return f"{98 - _remainder(body + '00'):02d}"


def is_checked(whole: str) -> bool:
    """Whether letters and digits with their two check digits at the end stand right (ISO 7064)."""
    return _remainder(whole) == 1


def is_prefix(prefix: str) -> bool:
    """Whether a farm may use these letters: 2 to 4 capitals without I, O and L."""
    return _PREFIX.fullmatch(prefix) is not None


def make_mark(prefix: str, year: int, number: int) -> LotMark:
    """The mark of jarring ``number`` of ``year``. ValueError with a sentence when it cannot be one."""
    if not is_prefix(prefix):
        raise ValueError("the letters of a lot mark are 2 to 4 capitals without I, O and L")
    if not 2000 <= year <= 2099:
        raise ValueError(f"a lot mark holds the years 2000 to 2099, not {year}")
    if not 1 <= number <= MOST_IN_A_YEAR:
        raise ValueError(f"a year holds lot marks 1 to {MOST_IN_A_YEAR:,}, not {number:,}")
    return LotMark(prefix, year, number)


def read_mark(text: str) -> LotMark:
    """A mark as someone typed or read it out: any case, blanks, dashes, with or without its L.

    O, I and L in place of a digit are taken for 0, 1 and 1. ValueError with a sentence when it
    has not the form of a mark, or when the check digits say that something is mistyped.
    """
    plain = _with_digits(_SEPARATORS.sub("", text).upper())
    match = _MARK.fullmatch(plain)
    if not match:
        raise ValueError(f"{text.strip()!r} is not a lot mark of this farm (such as HG26-0143-57)")
    prefix, year, number, check = match.groups()
    if not is_checked(prefix + year + number + check) or int(number) == 0:
        raise ValueError(f"{text.strip()!r} is mistyped somewhere: the check digits do not agree")
    return LotMark(prefix, 2000 + int(year), int(number))


def _with_digits(plain: str) -> str:
    """The last eight characters of a mark are digits: mend what was taken for a letter there."""
    return plain[:-8] + plain[-8:].translate(_HEARD)


def _remainder(text: str) -> int:
    if not text.isascii() or not text.isalnum() or text != text.upper():
        raise ValueError("check digits are computed over capital letters and digits only")
    return int("".join(str(int(ch, 36)) for ch in text)) % 97
