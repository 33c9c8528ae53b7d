"""A measured figure beside its bar, and the table of them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median


@dataclass(frozen=True, slots=True)
class Figure:
    """What was measured. ``value`` and ``bar`` are in ``unit``; no bar is a figure for comparison only."""

    what: str
    value: float
    bar: float | None
    unit: str
    how: str

    @property
    def holds(self) -> bool:
        """Whether it is at or under its bar."""
        return self.bar is None or self.value <= self.bar


def p95(values: Sequence[float]) -> float:
    """The 95th percentile by nearest rank."""
    ranked = sorted(values)
    return ranked[max(0, math.ceil(0.95 * len(ranked)) - 1)]


def ratio_of_medians(ours: Sequence[float], bare: Sequence[float]) -> float:
    """How many times the baseline; medians, so that one slow run of either does not decide."""
    return median(ours) / median(bare)


def ms(seconds: Sequence[float]) -> str:
    """The median in milliseconds, for the words of a figure."""
    return f"{median(seconds) * 1000:,.1f} ms"


def table(figures: Sequence[Figure]) -> str:
    """The figures as lines of text, each with its bar and whether it holds."""
    rows = [("what", "measured", "bar", "", "how")]
    for one in figures:
        bar = "" if one.bar is None else f"{one.bar:g}{_glued(one.unit)}"
        verdict = "" if one.bar is None else ("holds" if one.holds else "MISSED")
        rows.append((one.what, f"{one.value:,.2f}{_glued(one.unit)}", bar, verdict, one.how))
    wide = [max(len(row[column]) for row in rows) for column in range(4)]
    return "\n".join(
        "  ".join(
            [
                row[0].ljust(wide[0]),
                row[1].rjust(wide[1]),
                row[2].rjust(wide[2]),
                row[3].ljust(wide[3]),
                row[4],
            ]
        )
        for row in rows
    )


def _glued(unit: str) -> str:
    return unit if unit == "×" else f" {unit}"
