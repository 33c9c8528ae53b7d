"""Stock ahead: use from use recorded, when it runs out, what to order by when.

Plain arithmetic on whole quantities. A mean of so few years is no more than a guide: what a forecast stands
on is always said with it, and whether to order is for a person to decide. Figures: ``stock.toml``.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from functools import cache

from beeledger.base.resources import table
from beeledger.base.text import counted

WEEK = 7


@dataclass(frozen=True, slots=True)
class StockFigures:
    """The figures of the room."""

    weeks_ahead: int
    years_back: int
    recent_weeks: int
    short_weeks: int
    expiry_days: int


@dataclass(frozen=True, slots=True)
class Forecast:
    """Use ahead, week by week, the first beginning today; ``basis`` says in words what it stands on."""

    weeks: tuple[int, ...]
    basis: str


@dataclass(frozen=True, slots=True)
class Outlook:
    """What lies ahead of an item; quantities in its unit."""

    weeks: tuple[int, ...]
    """Use in each of the weeks ahead, the first beginning today."""
    basis: str
    """What the forecast stands on, in words."""
    runs_out_on: date | None
    """The day on which it is all used; None: not within the weeks ahead."""
    order_by: date | None
    """None where it does not run out, or nobody wrote down how long a delivery takes."""
    order: int
    """How much to order so that it lasts through the weeks ahead; 0: nothing."""
    order_packs: int | None
    """The same in whole packs; None where the item has no pack."""
    short: bool
    """Less there than the next weeks need that cannot wait."""


@cache
def figures() -> StockFigures:
    """The figures of ``stock.toml``, read once."""
    toml = table("rules", "stock.toml")
    return StockFigures(
        toml["forecast"]["weeks_ahead"], toml["forecast"]["years_back"], toml["forecast"]["recent_weeks"],
        toml["pressing"]["short_weeks"], toml["pressing"]["expiry_days"],
    )  # fmt: skip


def forecast(used: Mapping[date, int], since: date | None, today: date) -> Forecast | None:
    """Use ahead from use recorded: the mean of the same weeks of the earlier years on record.

    ``used`` is use by day, ``since`` the day of the item's first entry. A year counts when its weeks lie wholly
    on record. Without one, the mean of the last weeks; None when there are none of those either.
    """
    own = figures()
    years = _years(since, today, own.years_back)
    if years:
        sums = [_in_weeks(used, _years_before(today, year), own.weeks_ahead) for year in years]
        weeks = _means(sums)
        return Forecast(weeks, f"the mean of the same weeks of {counted(len(years), 'earlier year')}")
    recent = min(own.recent_weeks, (today - since).days // WEEK) if since is not None else 0
    if recent < 1:
        return None
    past = sum(_in_weeks(used, today - timedelta(days=recent * WEEK), recent))
    steps = [[Fraction(past, recent)] * own.weeks_ahead]
    return Forecast(_rounded(steps), f"the mean of the last {counted(recent, 'week')}")


def windows(today: date) -> list[tuple[date, date]]:
    """The days that a forecast looks at, first and last: the weeks past, and the weeks ahead of earlier years."""
    own = figures()
    ahead = timedelta(days=own.weeks_ahead * WEEK - 1)
    starts = [_years_before(today, back) for back in range(1, own.years_back + 1)]
    return [
        (today - timedelta(days=own.recent_weeks * WEEK), today),
        *((first, first + ahead) for first in starts),
    ]


def outlook(ahead: Forecast, there: int, today: date, lead_days: int | None, pack: int | None) -> Outlook:
    """When what is there runs out, and what to order by when. ``there`` is not negative."""
    out = run_out(there, ahead.weeks, today)
    order_by = out - timedelta(days=lead_days) if out is not None and lead_days is not None else None
    order, packs = to_order(sum(ahead.weeks), there, pack)
    short = there < sum(ahead.weeks[: figures().short_weeks])
    return Outlook(ahead.weeks, ahead.basis, out, order_by, order, packs, short)


def run_out(there: int, weeks: Sequence[int], today: date) -> date | None:
    """The day on which use ahead has taken all that is there; a week's use is spread evenly over its days.

    None when it lasts longer than the weeks, or nothing is used.
    """
    left = there
    for number, use in enumerate(weeks):
        if use and left <= use:
            return today + timedelta(days=number * WEEK + left * WEEK // use)
        left -= use
    return None


def to_order(needed: int, there: int, pack: int | None) -> tuple[int, int | None]:
    """How much is missing of what is needed, in whole packs where the pack is known: quantity and packs."""
    missing = max(0, needed - there)
    if pack is None:
        return missing, None
    packs = -(-missing // pack)
    return packs * pack, packs


def _years(since: date | None, today: date, most: int) -> list[int]:
    """How many years back lie the weeks that count: those that begin when the item was on record already."""
    if since is None:
        return []
    return [back for back in range(1, most + 1) if _years_before(today, back) >= since]


def _years_before(day: date, years: int) -> date:
    """The same day of an earlier year; 29 February is the 28th there."""
    try:
        return day.replace(year=day.year - years)
    except ValueError:
        return day.replace(year=day.year - years, day=28)


def _in_weeks(used: Mapping[date, int], first: date, weeks: int) -> list[int]:
    sums = [0] * weeks
    for day, quantity in used.items():
        week = (day - first).days // WEEK
        if 0 <= week < weeks:
            sums[week] += quantity
    return sums


def _means(years: Sequence[Sequence[int]]) -> tuple[int, ...]:
    return _rounded([[Fraction(use, len(years)) for use in year] for year in years])


def _rounded(parts: Sequence[Sequence[Fraction]]) -> tuple[int, ...]:
    """Whole weeks that add up to the whole: each is what the rounded running total gains."""
    total, before, weeks = Fraction(0), 0, []
    for week in zip(*parts, strict=True):
        total += sum(week)
        now = int(total + Fraction(1, 2))
        weeks.append(now - before)
        before = now
    return tuple(weeks)
