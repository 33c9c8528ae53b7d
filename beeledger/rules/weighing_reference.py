"""The reference test an inspector applies to a batch of packs: contents by double sampling, and the mean.

SI 2006/659 Sched. 2, Directive 76/211/EEC Annex II. A pack is defective when it is below T1.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from typing import Any

from beeledger.base.resources import table
from beeledger.rules.weighing import deviation_g, tolerance


class Outcome(StrEnum):
    """Where a test stands."""

    ACCEPT = "accept"
    SECOND = "draw the second sample"
    REJECT = "reject"


@dataclass(frozen=True, slots=True)
class Plan:
    """How many packs are drawn, and with how many defective ones the batch is taken or refused."""

    first: int
    first_accept: int
    first_reject: int
    second: int = 0
    both_accept: int = 0
    both_reject: int = 0


@dataclass(frozen=True, slots=True)
class MeanPlan:
    """How many packs the mean is taken over, and k of the limit nominal − k·s."""

    sample: int
    k: float


@dataclass(frozen=True, slots=True)
class MeanCheck:
    """The mean of the packs against its limit, in grams."""

    mean_g: float
    deviation_g: float
    limit_g: float
    outcome: Outcome


def plan_for(batch_size: int, *, destructive: bool = False) -> Plan | None:
    """The sampling plan of the contents check; None below 100 packs, which are weighed whole."""
    if batch_size < _rules()["whole_below"]:
        return None
    if destructive:
        return Plan(**_rules()["destructive"])
    return next(plan for upto, plan in _plans() if upto is None or batch_size <= upto)


def mean_plan_for(batch_size: int, *, destructive: bool = False) -> MeanPlan | None:
    """Sample and k of the mean check; None below 100 packs, where the mean must reach the nominal weight."""
    if batch_size < _rules()["whole_below"]:
        return None
    if destructive:
        return _mean_plan(_rules()["mean_destructive"])
    return next(_mean_plan(row) for row in _rules()["mean"] if batch_size <= row.get("upto", batch_size))


def is_one_batch(batch_size: int, *, one_hour_of_a_line: bool = False) -> bool:
    """Whether so many packs may be tested as one batch: at most 10,000, or one hour off a line's end."""
    return one_hour_of_a_line or batch_size <= int(_rules()["most_batch"])


def contents_check(plan: Plan, first_defective: int, both_defective: int | None = None) -> Outcome:
    """The contents check by its plan.

    ``first_defective``: packs below T1 in the first sample; ``both_defective``: in both samples
    together, None while the second is not drawn. A first sample that decides is final.
    ValueError when the two counts contradict each other.
    """
    if both_defective is not None and both_defective < first_defective:
        raise ValueError("both samples together hold at least what the first one held")
    if first_defective <= plan.first_accept:
        return Outcome.ACCEPT
    if first_defective >= plan.first_reject:
        return Outcome.REJECT
    if both_defective is None:
        return Outcome.SECOND
    return Outcome.ACCEPT if both_defective <= plan.both_accept else Outcome.REJECT


def mean_check(
    batch_size: int, nominal_g: int, weights_tenths_g: Sequence[int], *, destructive: bool = False
) -> MeanCheck:
    """The mean check: accepted when the mean is at least nominal − k·s, or nominal below 100 packs.

    ``weights_tenths_g`` in the order they were drawn: the plan's number of them is used.
    ValueError when there are too few.
    """
    plan = mean_plan_for(batch_size, destructive=destructive)
    needed = batch_size if plan is None else plan.sample
    if len(weights_tenths_g) < needed or needed == 0:
        raise ValueError(f"{needed} packs are to be weighed, not {len(weights_tenths_g)}")
    used = weights_tenths_g[:needed]
    spread = deviation_g(used) if needed > 1 else 0.0
    outcome, limit = mean_outcome(nominal_g, sum(used) / needed / 10, spread, plan)
    return MeanCheck(sum(used) / needed / 10, spread, limit, outcome)


def mean_outcome(
    nominal_g: int, mean_g: float, spread_g: float, plan: MeanPlan | None
) -> tuple[Outcome, float]:
    """The outcome and the limit in grams, from a mean and a standard deviation in grams."""
    limit = nominal_g - (plan.k * spread_g if plan else 0.0)
    return (Outcome.ACCEPT if mean_g >= limit else Outcome.REJECT), limit


def defective(nominal_g: int, weights_tenths_g: Sequence[int]) -> int:
    """How many packs are below T1."""
    limit = tolerance(nominal_g).t1_tenths_g
    return sum(weight < limit for weight in weights_tenths_g)


def _mean_plan(row: Mapping[str, int]) -> MeanPlan:
    return MeanPlan(row["sample"], row["k_thousandths"] / 1000)


@cache
def _plans() -> tuple[tuple[int | None, Plan], ...]:
    """The double sampling plans with the largest batch of each, None for the last."""
    ends = ("from", "upto")
    return tuple(
        (row.get("upto"), Plan(**{key: value for key, value in row.items() if key not in ends}))
        for row in _rules()["plan"]
    )


def _rules() -> dict[str, Any]:
    rules: dict[str, Any] = table("rules", "packaging.toml")["reference"]
    return rules
