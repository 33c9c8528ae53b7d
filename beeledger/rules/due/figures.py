"""The figures of ``resources/rules/due.toml``: when things fall due, what they are called, how long they take."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from beeledger.base.resources import table
from beeledger.rules import mites, queens

MonthDay = tuple[int, int]
NO_SOURCE = "common practice, no source"
_DAYS = ("swarm_from", "swarm_until", "heft_on", "oxalic_on")


@dataclass(frozen=True, slots=True)
class ReasonFigures:
    """A kind of reason: the counted word, its minutes alone and on top of another, its rank.

    ``title`` and ``when`` say it in the settings, with its source. ``always``: it cannot be switched off.
    ``scope`` is what it is a reason for: a colony, a site, a contract.
    """

    words: str
    minutes: int
    extra: int
    rank: int
    title: str = ""
    when: str = ""
    source: str = NO_SOURCE
    always: bool = False
    scope: str = "colony"


@dataclass(frozen=True, slots=True)
class DueSettings:
    """When things fall due, in days; the farm's settings replace what they want of it."""

    swarm_from: MonthDay
    swarm_until: MonthDay
    unseen_days_summer: int
    unseen_days_winter: int
    summer_months: frozenset[int]
    soon_days: int
    light_days: int
    cells_sealed_days: int
    cells_open_days: int
    queenless_days: int
    queen_unseen_days: int
    super_months: frozenset[int]
    super_full_tenths: int
    super_bees_tenths: int
    super_days: int
    count_months: frozenset[int]
    count_days: int
    count_least_days: int
    recount_days: int
    treat_days: int
    not_found_days: int
    question_days: int
    refill_days: int
    refill_days_solid: int
    dose_days: int
    heft_on: MonthDay
    oxalic_on: MonthDay
    oxalic_after_days: int
    winter_work_from_month: int
    mite_line_hundredths: int = field(default_factory=lambda: mites.figures().treat_hundredths)
    every_days: int = field(default_factory=lambda: queens.swarm_check_days(clipped=False))
    every_days_clipped: int = field(default_factory=lambda: queens.swarm_check_days(clipped=True))
    off: frozenset[str] = frozenset()
    """Kinds of reason the farm has switched off."""


@cache
def default_settings() -> DueSettings:
    """The settings of ``due.toml``, before the farm's own."""
    rows: dict[str, Any] = dict(table("rules", "due.toml")["settings"])
    for name in ("summer_months", "super_months", "count_months"):
        rows[name] = frozenset(rows[name])
    for name in _DAYS:
        rows[name] = month_day(rows[name])
    return DueSettings(**rows)


@cache
def reason_figures() -> Mapping[str, ReasonFigures]:
    """The kinds of reason by code, most urgent first."""
    rows = table("rules", "due.toml")["reason"]
    return {row["code"]: _reason(row, rank) for rank, row in enumerate(rows)}


def month_day(text: str) -> MonthDay:
    """A day of the year as ``04-01``. ValueError where there is none such."""
    month, _, day = text.partition("-")
    found = (int(month), int(day))
    if not (1 <= found[0] <= 12 and 1 <= found[1] <= _LENGTHS[found[0] - 1]):
        raise ValueError(f"{text} is no day of every year")
    return found


_LENGTHS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


def _reason(row: Mapping[str, Any], rank: int) -> ReasonFigures:
    said = {key: value for key, value in row.items() if key != "code"}
    return ReasonFigures(rank=rank, **said)
