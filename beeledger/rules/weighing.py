"""The weight in the jar: tolerable errors, the packer's three rules, and how long to keep the check.

What an inspector does stands in ``weighing_reference``. Weights are net, in tenths of a gram,
as the scale shows them; nominal weights are whole grams as printed on the label.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from functools import cache

from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.resources import table
from beeledger.base.units import per_cent, scaled

NOWHERE = Where()


@dataclass(frozen=True, slots=True)
class Band:
    """One row of the table of tolerable errors: a share of the nominal weight, or a fixed weight."""

    upto_g: int
    share_tenths: int | None = None
    tenths_g: int | None = None


@dataclass(frozen=True, slots=True)
class AverageFigures:
    """The bounds of the rules of average weight."""

    source: str
    least_nominal_g: int
    most_nominal_g: int
    short_share_hundredths: int


@dataclass(frozen=True, slots=True)
class Tolerance:
    """The limits that follow from a nominal weight, in tenths of a gram."""

    nominal_g: int
    tne_tenths_g: int
    t1_tenths_g: int
    """Nominal less one tolerable error: a jar below it is short."""
    t2_tenths_g: int
    """Nominal less two: a jar below it may not be sold."""


@dataclass(frozen=True, slots=True)
class WeightCheck:
    """The three rules over the jars weighed. Means and deviation in grams, for showing."""

    tolerance: Tolerance
    weighed: int
    mean_g: float
    deviation_g: float | None
    """Standard deviation of a sample (n − 1); None for a single jar."""
    below_t1: int
    below_t2: int
    short_share_hundredths: int
    mean_met: bool
    short_met: bool
    none_inadequate: bool
    source: str

    @property
    def met(self) -> bool:
        """Whether the jars weighed meet all three rules."""
        return self.mean_met and self.short_met and self.none_inadequate


@cache
def bands() -> tuple[Band, ...]:
    """The table of tolerable negative errors, smallest weights first (SI 2006/659 Sched. 3)."""
    return tuple(Band(**row) for row in table("rules", "packaging.toml")["tne"])


@cache
def average_figures() -> AverageFigures:
    """The bounds, read once from packaging.toml."""
    return AverageFigures(**table("rules", "packaging.toml")["average_quantity"])


def is_in_scope(nominal_g: int) -> bool:
    """Whether the average rules reach a pack of this nominal weight (5 g to 25 kg)."""
    return average_figures().least_nominal_g <= nominal_g <= average_figures().most_nominal_g


def tolerance(nominal_g: int) -> Tolerance:
    """The tolerable negative error of a nominal weight and the two limits below it.

    Shares are rounded up to the next tenth of a gram. ValueError outside 5 g to 25 kg, where the
    regulations do not reach. Source: SI 2006/659 Sched. 3.
    """
    if not is_in_scope(nominal_g):
        raise ValueError(f"the rules of average weight reach from 5 g to 25 kg, not {nominal_g:,} g")
    band = next(band for band in bands() if nominal_g <= band.upto_g)
    # A tenth of a per cent of a gram is a hundredth of a tenth of a gram.
    error = band.tenths_g if band.share_tenths is None else -(-nominal_g * band.share_tenths // 100)
    assert error is not None
    return Tolerance(nominal_g, error, nominal_g * 10 - error, nominal_g * 10 - 2 * error)


def net_weights(gross_tenths_g: Sequence[int], tare_tenths_g: int) -> tuple[int, ...]:
    """Net weights from jars weighed full, less one tare (the mean of some empty jars with lids)."""
    return tuple(gross - tare_tenths_g for gross in gross_tenths_g)


def check_weights(nominal_g: int, weights_tenths_g: Sequence[int]) -> WeightCheck:
    """The packer's three rules over net weights in tenths of a gram.

    1: their mean is not below the nominal weight. 2: at most 2.5 % lie below T1 (guidance).
    3: none lies below T2. Compared exactly, without rounding. ValueError without weights.
    The rules bind the whole batch; a sample only speaks for it.
    """
    if not weights_tenths_g:
        raise ValueError("nothing was weighed")
    limits, number = tolerance(nominal_g), len(weights_tenths_g)
    total = sum(weights_tenths_g)
    short = sum(weight < limits.t1_tenths_g for weight in weights_tenths_g)
    inadequate = sum(weight < limits.t2_tenths_g for weight in weights_tenths_g)
    figures = average_figures()
    return WeightCheck(
        tolerance=limits,
        weighed=number,
        mean_g=total / number / 10,
        deviation_g=deviation_g(weights_tenths_g) if number > 1 else None,
        below_t1=short,
        below_t2=inadequate,
        short_share_hundredths=round(Fraction(short * 10_000, number)),
        mean_met=total >= nominal_g * 10 * number,
        short_met=short * 10_000 <= figures.short_share_hundredths * number,
        none_inadequate=inadequate == 0,
        source=figures.source,
    )


def weight_findings(check: WeightCheck, where: Where = NOWHERE) -> list[Finding]:
    """What the three rules hold against a batch, each with what was found and what to do."""
    found, limits = [], check.tolerance
    if not check.mean_met:
        what = f"the mean of {check.weighed} jars is {check.mean_g:.2f} g, below {limits.nominal_g:,} g"
        found.append(Finding("weight.mean", Grade.AGAINST, what, "Fill more into each jar", where))
    if not check.short_met:
        share = per_cent(check.short_share_hundredths)
        what = (
            f"{check.below_t1} of {check.weighed} jars ({share} %) are below {_grams(limits.t1_tenths_g)} g"
        )
        found.append(
            Finding("weight.short", Grade.AGAINST, what, "At most 2.5 % may be: weigh more jars", where)
        )
    if not check.none_inadequate:
        what = f"{check.below_t2} of {check.weighed} jars are below {_grams(limits.t2_tenths_g)} g"
        mend = "No such jar may be sold: take them out and fill them up"
        found.append(Finding("weight.inadequate", Grade.AGAINST, what, mend, where))
    return found


def deviation_g(weights_tenths_g: Sequence[int]) -> float:
    """Standard deviation in grams with n − 1, computed from exact sums. ValueError below two jars."""
    number = len(weights_tenths_g)
    if number < 2:
        raise ValueError("a deviation needs two jars")
    mean = Fraction(sum(weights_tenths_g), number)
    squares = sum((weight - mean) ** 2 for weight in weights_tenths_g)
    return math.sqrt(squares / (number - 1)) / 10


def keep_record_until(left_on: date, best_before: date) -> date:
    """The day until which the record of a weighing is kept.

    The earlier of the marked durability date and one year after the jars left the packer (from
    29 February: 1 March). Source: SI 2006/659 reg. 9(1)(b)(ii) and 9(5).
    """
    year = left_on.year + table("rules", "packaging.toml")["records"]["years"]
    try:
        later = left_on.replace(year=year)
    except ValueError:
        later = date(year, 3, 1)
    return min(best_before, later)


def _grams(tenths: int) -> str:
    return scaled(tenths, 10, 1)
