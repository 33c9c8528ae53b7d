"""What a farm may set for itself of the rule: each figure as shipped, with its source, and its bounds.

A farm's own figures are kept by name: whole numbers, and days of the year as ``04-01``.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from beeledger.base.resources import table
from beeledger.rules.due.figures import NO_SOURCE, DueSettings, default_settings, month_day, reason_figures

Own = Mapping[str, int | str]
DAY = "day"


@dataclass(frozen=True, slots=True)
class Adjustable:
    """A figure a farm may set: under which reason, its name, words and unit, its bounds, its source."""

    reason: str
    name: str
    words: str
    unit: str
    least: int = 0
    most: int = 0
    source: str = NO_SOURCE

    @property
    def shipped(self) -> int | str:
        """As the program ships it: a whole number, or a day as ``04-01``."""
        return _plain(getattr(default_settings(), self.name))


@cache
def adjustables() -> tuple[Adjustable, ...]:
    """Every figure a farm may set, in the order of the reasons."""
    found = [Adjustable(**row) for row in table("rules", "due.toml")["figure"]]
    return tuple(sorted(found, key=lambda one: reason_figures()[one.reason].rank))


def with_own(settings: DueSettings, own: Own, off: Iterable[str] = ()) -> DueSettings:
    """The settings with the farm's figures, and without the reasons it switched off.

    ValueError with a sentence for a figure that is not the farm's to set, is out of its bounds, or a reason
    that is always there.
    """
    said = {name: _checked(name, value) for name, value in own.items()}
    for code in off:
        if code not in reason_figures():
            raise ValueError(f"there is no reason {code}")
        if reason_figures()[code].always:
            raise ValueError(f"{reason_figures()[code].title} is always shown")
    return replace(settings, off=frozenset(off), **said)


def _checked(name: str, value: Any) -> Any:
    one = next((each for each in adjustables() if each.name == name), None)
    if one is None:
        raise ValueError(f"what is due has no figure {name}")
    if one.unit == DAY:
        if not isinstance(value, str):
            raise ValueError(f"{one.words}: a day is written as 04-01")
        return month_day(value)
    if type(value) is not int or not one.least <= value <= one.most:
        raise ValueError(f"{one.words}: from {one.least} to {one.most} {one.unit}")
    return value


def _plain(value: Any) -> int | str:
    return f"{value[0]:02d}-{value[1]:02d}" if isinstance(value, tuple) else int(value)
