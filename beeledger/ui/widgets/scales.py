"""From values to pixels, and which values an axis names."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from beeledger.base.dates import MONTHS

MOST_LINES = 5


@dataclass(frozen=True, slots=True)
class Scale:
    """A straight scale: ``low`` stands at pixel ``start``, ``high`` at ``end``."""

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float) -> float:
        """The pixel of a value."""
        span = self.high - self.low
        share = (value - self.low) / span if span else 0.5
        return self.start + share * (self.end - self.start)

    def value(self, pixel: float) -> float:
        """The value at a pixel."""
        length = self.end - self.start
        return self.low + (pixel - self.start) / length * (self.high - self.low) if length else self.low


def ticks(low: float, high: float, most: int = MOST_LINES) -> list[float]:
    """At most ``most`` round values (steps of 1, 2 or 5 times a power of ten) from ``low`` to ``high``."""
    if high <= low:
        return [low]
    for step in _steps(high - low, most):
        first = math.ceil(low / step - 1e-9)
        last = math.floor(high / step + 1e-9)
        if last - first + 1 <= most:
            return [round(at * step, 10) for at in range(first, last + 1)]
    return [low, high]


def reach(values: Iterable[float], *, from_nought: bool, most: int = MOST_LINES) -> tuple[float, float]:
    """From where to where an axis goes.

    From nought it ends on the round value above all others; otherwise it ends a little outside them.
    """
    known = list(values)
    if not known:
        return 0.0, 1.0
    low, high = min(known), max(known)
    if not from_nought:
        air = (high - low) * 0.06 or 1.0
        return low - air, high + air
    low, high = min(0.0, low), max(0.0, high)
    if high == low:
        return 0.0, 1.0
    for step in _steps(high - low, most):
        bottom, top = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
        if top - bottom + 1 <= most:
            return bottom * step, top * step
    return low, high


def _steps(span: float, most: int) -> list[float]:
    power = 10.0 ** math.floor(math.log10(span / most))
    return [factor * power for factor in (1, 2, 5, 10, 20, 50, 100)]


def figure(value: float) -> str:
    """An axis value in the fewest digits, with the true minus."""
    text = f"{value:,.10g}" if abs(value) >= 1000 else f"{value:.10g}"
    return text.replace("-", "−")


def month_starts(first: date, last: date) -> list[date]:
    """The first of each month from the one that holds ``first`` to ``last``."""
    starts, year, month = [], first.year, first.month
    while (start := date(year, month, 1)) <= last:
        starts.append(start)
        year, month = (year + 1, 1) if month == 12 else (year, month + 1)
    return starts


def month_word(day: date) -> str:
    """The short name of the month: Jun."""
    return MONTHS[day.month - 1]
