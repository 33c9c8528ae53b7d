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
    span = high - low
    if span <= 0 or most < 2:
        return [low]
    power = 10.0 ** math.floor(math.log10(span / most))
    for factor in (1, 2, 5, 10, 20, 50):
        step = factor * power
        first = math.ceil(low / step - 1e-9)
        last = math.floor(high / step + 1e-9)
        if last - first + 1 <= most:
            return [round(at * step, 10) for at in range(first, last + 1)]
    return [low, high]


def reach(values: Iterable[float], *, from_nought: bool, most: int = MOST_LINES) -> tuple[float, float]:
    """From where to where an axis goes: round ends that hold all values."""
    known = list(values)
    if not known:
        return 0.0, 1.0
    low = 0.0 if from_nought else min(known)
    high = max(*known, low) if len(known) > 1 else max(known[0], low)
    if high == low:
        low, high = (0.0, 1.0) if from_nought and high == 0 else (low - 1, high + 1)
    step = _step(low, high, most)
    bottom = 0.0 if from_nought and low >= 0 else math.floor(low / step + 1e-9) * step
    return bottom, math.ceil(high / step - 1e-9) * step


def _step(low: float, high: float, most: int) -> float:
    marks = ticks(low, high, most)
    return marks[1] - marks[0] if len(marks) > 1 else (high - low)


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
