"""Exact quantities: whole numbers whose scale stands in the name, and how they are written.

Honey, feed and boxes are grams; liquids millilitres; money pence; frames tenths; moisture and
shares hundredths of a per cent; refractive index hundred-thousandths; temperature tenths of a
degree Celsius; area square metres; distance metres.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from decimal import ROUND_HALF_UP, Decimal

GRAMS_PER_POUND = Decimal("453.59237")
"""Exactly, by the international yard and pound agreement of 1959."""
SQUARE_METRES_PER_ACRE = Decimal("4046.8564224")
"""Exactly, from the international foot."""

MINUS = "\N{MINUS SIGN}"


def share_out(total: int, weights: Sequence[int]) -> list[int]:
    """Split ``total`` by ``weights`` into whole parts that sum to it, by largest remainders.

    ``weights`` are not negative and not all nought; ties go to the earlier part. Raises
    ValueError otherwise. The method is Hamilton's, as described for apportionment in
    Balinski & Young, *Fair Representation* (1982).
    """
    whole = sum(weights)
    if whole <= 0 or min(weights) < 0:
        raise ValueError("weights must not be negative and must not all be nought")
    sign = -1 if total < 0 else 1
    size = abs(total)
    parts = [size * weight // whole for weight in weights]
    rest = size - sum(parts)
    order = sorted(range(len(weights)), key=lambda i: (-(size * weights[i] % whole), i))
    for i in order[:rest]:
        parts[i] += 1
    return [sign * part for part in parts]


def scaled(value: int, scale: int, places: int | None = None) -> str:
    """Write ``value`` / ``scale`` (a power of ten) with ``places`` decimals (all by default)."""
    digits = len(str(scale)) - 1
    number = Decimal(value) / scale
    step = Decimal(1).scaleb(-(digits if places is None else places))
    return signed_text(number.quantize(step, rounding=ROUND_HALF_UP) + 0)  # nought has no sign


def signed_text(number: Decimal | int) -> str:
    """A number with a true minus and a comma from four digits: −1,150.25."""
    text = f"{number:,}"
    return MINUS + text[1:] if text.startswith("-") else text


def kilograms(grams: int, places: int = 1) -> str:
    """Grams as kilograms without the unit: 13608 → "13.6"."""
    return scaled(grams, 1000, places)


def litres(millilitres: int, places: int = 1) -> str:
    """Millilitres as litres without the unit."""
    return scaled(millilitres, 1000, places)


def frames(tenths: int) -> str:
    """Tenths of a frame as the shortest figure: 80 → "8", 75 → "7.5"."""
    return scaled(tenths, 10, 0 if tenths % 10 == 0 else 1)


def per_cent(hundredths: int, places: int = 1) -> str:
    """Hundredths of a per cent without the sign: 1760 → "17.6"."""
    return scaled(hundredths, 100, places)


def degrees(tenths: int) -> str:
    """Tenths of a degree Celsius without the unit."""
    return scaled(tenths, 10, 1)


def money(pence: int) -> str:
    """Pence as pounds sterling: 148800 → "£1,488.00"."""
    sign = MINUS if pence < 0 else ""
    pounds, rest = divmod(abs(pence), 100)
    return f"{sign}£{pounds:,}.{rest:02d}"


def hectares(square_metres: int) -> str:
    """Square metres as hectares without the unit: 85000 → "8.5"."""
    text = scaled(square_metres, 10_000, 2)
    return text.rstrip("0").rstrip(".")


def kilometres(metres: int) -> str:
    """Metres as kilometres without the unit, one decimal."""
    return scaled(metres, 1000, 1)


_NUMBER = re.compile(r"[+-]?(?:\d{1,3}(?:,\d{3})+|\d+)?(?:\.\d+)?", re.ASCII)
_MOST = 10**18
"""What a column of 64 bits holds, with room to spare."""


def to_scale(text: str, scale: int) -> int:
    """Read a decimal as typed ("7.5", "1,150", "7·5") into whole units of 1/``scale``.

    A comma parts thousands: "7,5" is refused, for it could be meant as 7.5. Raises ValueError with a
    sentence when it is no number, has more decimals than the scale can hold, or is too large to keep.
    """
    plain = text.strip().replace("·", ".").replace(MINUS, "-")
    if not plain.strip("+-") or not _NUMBER.fullmatch(plain):
        raise ValueError(f"{text!r} is not a number")
    number = Decimal(plain.replace(",", "")) * scale
    if abs(number) > _MOST:
        raise ValueError(f"{text} is more than can be kept")
    whole = number.to_integral_value()
    if whole != number:
        raise ValueError(f"{text} is finer than can be kept (steps of 1/{scale})")
    return int(whole)
