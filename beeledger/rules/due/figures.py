"""The figures of ``resources/rules/due.toml``: when things fall due, what they are called, how long they take."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from beeledger.base.resources import table
from beeledger.rules import mites, queens


@dataclass(frozen=True, slots=True)
class ReasonFigures:
    """A kind of reason: the counted word, its minutes alone and on top of another, its rank."""

    words: str
    minutes: int
    extra: int
    rank: int


@dataclass(frozen=True, slots=True)
class DueSettings:
    """When things fall due, in days; the farm's settings replace what they want of it."""

    swarm_from: tuple[int, int]
    swarm_until: tuple[int, int]
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
    recount_days: int
    treat_days: int
    not_found_days: int
    question_days: int
    mite_line_hundredths: int = field(default_factory=lambda: mites.figures().treat_hundredths)
    every_days: int = field(default_factory=lambda: queens.swarm_check_days(clipped=False))
    every_days_clipped: int = field(default_factory=lambda: queens.swarm_check_days(clipped=True))


@cache
def default_settings() -> DueSettings:
    """The settings of ``due.toml``, before the farm's own."""
    rows: dict[str, Any] = dict(table("rules", "due.toml")["settings"])
    for name in ("summer_months", "super_months", "count_months"):
        rows[name] = frozenset(rows[name])
    for name in ("swarm_from", "swarm_until"):
        month, day = rows[name].split("-")
        rows[name] = (int(month), int(day))
    return DueSettings(**rows)


@cache
def reason_figures() -> Mapping[str, ReasonFigures]:
    """The kinds of reason by code, most urgent first."""
    rows = table("rules", "due.toml")["reason"]
    return {
        row["code"]: ReasonFigures(row["words"], row["minutes"], row["extra"], rank)
        for rank, row in enumerate(rows)
    }
