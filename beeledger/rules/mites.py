"""Mites: per cent from a sample, mites from a natural drop, what comes of them, whether to treat.

Figures and sources stand in ``resources/rules/mites.toml``. Every figure is an estimate: a sugar roll
finds fewer mites than a wash and is a least figure; a drop means nothing while a treatment works. The
presence of varroa is reportable in England and Wales. Treatment follows the label and the law.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from fractions import Fraction
from functools import cache
from math import ceil, log2

from beeledger.base.resources import table
from beeledger.base.units import per_cent


class Judgement(StrEnum):
    """What a count asks for."""

    FINE = "fine"
    WATCH = "watch"
    TREAT = "treat"


@dataclass(frozen=True, slots=True)
class MiteFigures:
    """The figures of the room; shares in hundredths of a per cent, months from January."""

    month_factor: tuple[int, ...]
    less_accurate_months: tuple[int, ...]
    most_mites: int
    doubling_days: int
    sample_bees: int
    watch_hundredths: int
    treat_hundredths: int


@cache
def figures() -> MiteFigures:
    """The figures of ``mites.toml``, read once."""
    toml = table("rules", "mites.toml")
    return MiteFigures(
        month_factor=tuple(toml["drop"]["month_factor"]),
        less_accurate_months=tuple(toml["drop"]["less_accurate_months"]),
        most_mites=toml["drop"]["most_mites"],
        doubling_days=toml["growth"]["doubling_days"],
        sample_bees=toml["sample"]["bees"],
        watch_hundredths=toml["line"]["watch_hundredths"],
        treat_hundredths=toml["line"]["treat_hundredths"],
    )


def infestation_hundredths(mites: int, bees: int | None = None) -> int:
    """Mites on bees in hundredths of a per cent: 9 in 300 are 300.

    ``bees`` is the number washed or rolled, about 300 when it was not counted. ValueError when it is
    not positive or the mites are negative.
    """
    sample = figures().sample_bees if bees is None else bees
    if sample <= 0 or mites < 0:
        raise ValueError("a count needs bees, and mites cannot be fewer than none")
    return int(Fraction(mites * 10_000, sample) + Fraction(1, 2))


def daily_drop_hundredths(mites: int, days: int) -> int:
    """Mites a day in hundredths: 21 in 7 days are 300. ValueError when no day passed."""
    if days <= 0 or mites < 0:
        raise ValueError("a drop needs at least one day, and mites cannot be fewer than none")
    return int(Fraction(mites * 100, days) + Fraction(1, 2))


def mites_from_drop(mites: int, days: int, month: int) -> int:
    """Mites in the colony from a natural drop, by the season's factor (× 30, × 100 or × 400)."""
    if days <= 0 or mites < 0:
        raise ValueError("a drop needs at least one day, and mites cannot be fewer than none")
    return int(Fraction(mites * figures().month_factor[month - 1], days) + Fraction(1, 2))


def drop_is_accurate(month: int) -> bool:
    """False in the months whose factor the leaflet calls less accurate."""
    return month not in figures().less_accurate_months


def projected(mites: int, days: int) -> int:
    """Mites after ``days`` with brood and no treatment, doubling every 33 days."""
    return round(mites * 2 ** (days / figures().doubling_days))


def days_until(mites: int, limit: int | None = None) -> int | None:
    """Whole days until ``limit`` (by default 1,000 mites) is reached; 0 at or above it, None from no mites."""
    own = figures()
    most = own.most_mites if limit is None else limit
    if mites <= 0:
        return None
    return max(0, ceil(own.doubling_days * log2(most / mites)))


def judge(infestation: int, line_hundredths: int | None = None) -> Judgement:
    """What a share of bees with mites (hundredths of a per cent) asks for; the line itself is over it.

    ``line_hundredths`` is the farm's own line; None: the published one.
    """
    own = figures()
    line = own.treat_hundredths if line_hundredths is None else line_hundredths
    if infestation >= line:
        return Judgement.TREAT
    return Judgement.WATCH if infestation >= min(own.watch_hundredths, line) else Judgement.FINE


def line_words(line_hundredths: int) -> str:
    """A line as it is said, without needless decimals: "3", "2.5"."""
    return per_cent(line_hundredths, 2).rstrip("0").rstrip(".")


def judge_drop(mites: int, days: int, on: date) -> Judgement:
    """What a natural drop asks for, by the estimate of mites against the most a colony should carry."""
    estimate, most = mites_from_drop(mites, days, on.month), figures().most_mites
    if estimate >= most:
        return Judgement.TREAT
    # Half the limit is one doubling, about a month, away.
    return Judgement.WATCH if 2 * estimate >= most else Judgement.FINE


def efficacy_hundredths(before: int, after: int, control: tuple[int, int] | None = None) -> int:
    """Hundredths of a per cent of the mites that a treatment killed; below 0 when they grew.

    ``before`` and ``after`` are shares of the same kind; ``control`` the same pair of an untreated
    group, for the correction of Henderson & Tilton 1955. ValueError when nothing was there before.
    """
    first, last = control or (1, 1)
    if before <= 0 or first <= 0 or last <= 0:
        raise ValueError("efficacy needs mites before the treatment and in the control")
    return round((1 - Fraction(after, before) * Fraction(first, last)) * 10_000)
