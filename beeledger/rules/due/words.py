"""How pressing reasons are on a day, and how they are counted in words and minutes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import date
from enum import StrEnum

from beeledger.base.text import counted
from beeledger.rules.due.facts import Due
from beeledger.rules.due.figures import ReasonFigures, default_settings, reason_figures


class Grade(StrEnum):
    """How pressing, worst first."""

    LATE = "late"
    TODAY = "today"
    SOON = "soon"
    LATER = "later"


def grade(due_on: date, today: date, soon_days: int | None = None) -> Grade:
    """How pressing a date is on ``today``."""
    if due_on < today:
        return Grade.LATE
    if due_on == today:
        return Grade.TODAY
    within = default_settings().soon_days if soon_days is None else soon_days
    return Grade.SOON if (due_on - today).days <= within else Grade.LATER


def pressing(dues: Iterable[Due], today: date, soon_days: int | None = None) -> list[Due]:
    """Those that are late, due today or soon, worst first."""
    kept = [one for one in dues if grade(one.due_on, today, soon_days) is not Grade.LATER]
    return sorted(kept, key=lambda one: (one.due_on, reason_figures()[one.code].rank, one.colony))


def grade_words(due_on: date, today: date) -> str:
    """The grade as a table shows it: "late, 4 days", "today", "in 3 days"."""
    days = (due_on - today).days
    if days == 0:
        return "today"
    return f"in {counted(days, 'day')}" if days > 0 else f"late, {counted(-days, 'day')}"


def counted_words(dues: Iterable[Due], today: date) -> str:
    """The reasons of a site as counted words, worst first: "9 swarm check · 4 strips out · 2 light".

    First the kinds that have something late, then today, then soon; among these the more numerous.
    """
    every = list(dues)
    count = Counter(one.code for one in every)
    order = list(Grade)
    worst = {
        code: min(order.index(grade(one.due_on, today)) for one in every if one.code == code)
        for code in count
    }
    codes = sorted(count, key=lambda code: (worst[code], -count[code], reason_figures()[code].rank))
    return " · ".join(f"{count[code]} {reason_figures()[code].words}" for code in codes)


def work_minutes(dues: Iterable[Due]) -> int:
    """Minutes of work at the hives: for each the longest reason, and the others on top of it.

    Driving, suiting up and walking between hives are not in it.
    """
    by_colony: dict[int, dict[str, ReasonFigures]] = {}
    for one in dues:
        by_colony.setdefault(one.colony, {})[one.code] = reason_figures()[one.code]
    return sum(_minutes(list(figures.values())) for figures in by_colony.values())


def _minutes(figures: Sequence[ReasonFigures]) -> int:
    longest = max(figures, key=lambda one: (one.minutes, one.extra))
    return longest.minutes + sum(one.extra for one in figures if one is not longest)
