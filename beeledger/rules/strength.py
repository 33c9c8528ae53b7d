"""Strength checks: which hives to open for a grower, and what the count says of all of them.

Frames of bees are counted in tenths, each frame by how much of both sides is covered. Figures and sources
stand in ``resources/rules/pollination.toml``. Intervals hold for a sample drawn by lot from the hives
that were placed; a sample picked by eye proves nothing, and the report says which it was.
"""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from math import comb, sqrt
from typing import Protocol

from beeledger.base.resources import table

_TAIL = Fraction(25, 1_000)
"""Either tail of a 95 % interval."""


class Chance(Protocol):
    """A seeded generator, handed in: ``random.Random`` is one."""

    def sample(self, population: Sequence[str], k: int) -> list[str]:
        """``k`` different members of ``population``, each as likely as any other."""
        ...


@dataclass(frozen=True, slots=True)
class CountedHive:
    """One hive that was opened, in tenths of a frame; None: not counted."""

    mark: str
    bees_tenths: int
    brood_tenths: int | None = None


@dataclass(frozen=True, slots=True)
class StrengthResult:
    """What a count of ``opened`` hives says of the ``placed``; hundredths of a frame and of a per cent.

    The ``low`` and ``high`` bounds are of 95 % intervals, for the mean by Student's t and for the
    number of weak hives exactly (hypergeometric), both with the correction for a small whole. The
    mean's bounds are None for a single hive. ``meets_mean`` is None when no mean was agreed.
    """

    placed: int
    opened: int
    mean_hundredths: int
    mean_low_hundredths: int | None
    mean_high_hundredths: int | None
    least_tenths: int
    most_tenths: int
    under: int
    under_share_hundredths: int
    under_low: int
    under_high: int
    meets_least: bool
    meets_mean: bool | None


def sample_size(placed: int, share_hundredths: int | None = None) -> int:
    """How many of ``placed`` hives to open: 10 % unless agreed otherwise, rounded up; all are the most."""
    usual: int = table("rules", "pollination.toml")["sample"]["share_hundredths"]
    share = usual if share_hundredths is None else share_hundredths
    return min(placed, -(-placed * share // 10_000))


def choose_sample(marks: Iterable[str], chance: Chance, size: int | None = None) -> list[str]:
    """Hives drawn by lot, in the order of their numbers; the same seed draws the same hives.

    ValueError when ``size`` is more than there are.
    """
    every = sorted(set(marks), key=number_order)
    wanted = sample_size(len(every)) if size is None else size
    if not 0 <= wanted <= len(every):
        raise ValueError(f"{wanted} hives cannot be drawn from {len(every)}")
    return sorted(chance.sample(every, wanted), key=number_order)


def number_order(mark: str) -> tuple[tuple[int, int, str], ...]:
    """A key that puts 9 before 10 and P9 before P10."""
    parts = re.findall(r"\d+|\D+", mark)
    return tuple((0, int(part), "") if part.isdecimal() else (1, 0, part) for part in parts)


def strength_result(
    counts: Sequence[CountedHive], placed: int, least_tenths: int, mean_tenths: int | None = None
) -> StrengthResult:
    """Judge a count against what was agreed: the least frames of bees, and a mean if there was one.

    The mean is compared exactly and not as it is printed. ValueError when nothing was opened or more
    than was placed.
    """
    opened = len(counts)
    if not 0 < opened <= placed:
        raise ValueError(f"{opened} hives opened of {placed} placed cannot be judged")
    bees = [hive.bees_tenths for hive in counts]
    mean = Fraction(sum(bees), opened)
    low, high = _mean_bounds(bees, placed)
    under = sum(value < least_tenths for value in bees)
    under_low, under_high = weak_bounds(placed, opened, under)
    return StrengthResult(
        placed=placed,
        opened=opened,
        mean_hundredths=_half_up(mean * 10),
        mean_low_hundredths=low,
        mean_high_hundredths=high,
        least_tenths=min(bees),
        most_tenths=max(bees),
        under=under,
        under_share_hundredths=_half_up(Fraction(under * 10_000, opened)),
        under_low=under_low,
        under_high=under_high,
        meets_least=under == 0,
        meets_mean=None if mean_tenths is None else mean >= mean_tenths,
    )


def standard_error(values: Sequence[int], whole: int) -> float:
    """Of the mean of a sample without replacement from ``whole``: s·√((1 − n/N)/n). Two values at least.

    Cochran, *Sampling Techniques* (3rd ed. 1977), section 2.6.
    """
    n = len(values)
    mean = Fraction(sum(values), n)
    variance = sum((value - mean) ** 2 for value in values) / (n - 1)
    return sqrt(variance * (1 - Fraction(n, whole)) / n)


def student(freedom: int) -> float:
    """Student's t for a two-sided 95 % interval; between the table's steps the wider neighbour."""
    own = table("rules", "pollination.toml")["student"]
    near: list[int] = own["thousandths"]
    if freedom < 1:
        raise ValueError("an interval needs at least two hives")
    if freedom <= len(near):
        return near[freedom - 1] / 1_000
    steps = [(len(near), near[-1]), *((row[0], row[1]) for row in own["further"])]
    wider: int = next(value for at, value in reversed(steps) if at <= freedom)
    return wider / 1_000


@cache
def weak_bounds(placed: int, opened: int, weak: int) -> tuple[int, int]:
    """The fewest and the most weak hives among ``placed`` that a count does not speak against (95 %).

    Exact, from the hypergeometric distribution with 2.5 % in each tail: what Clopper & Pearson,
    Biometrika 26 (1934), did for a whole without end.
    """

    def at_least(number: int) -> bool:
        return 1 - _chance_at_most(weak - 1, placed, number, opened) > _TAIL

    def too_many(number: int) -> bool:
        return _chance_at_most(weak, placed, number, opened) <= _TAIL

    possible = range(weak, placed - (opened - weak) + 1)
    low = bisect_left(possible, True, key=at_least)
    high = bisect_right(possible, False, key=too_many)
    return possible[low], possible[high - 1]


def _chance_at_most(weak: int, placed: int, weak_placed: int, opened: int) -> Fraction:
    ways = sum(comb(weak_placed, k) * comb(placed - weak_placed, opened - k) for k in range(weak + 1))
    return Fraction(ways, comb(placed, opened))


def _mean_bounds(bees: Sequence[int], placed: int) -> tuple[int | None, int | None]:
    if len(bees) == 1 and placed > 1:
        return None, None
    mean = sum(bees) / len(bees)
    half = 0.0 if len(bees) == placed else student(len(bees) - 1) * standard_error(bees, placed)
    return max(0, round((mean - half) * 10)), round((mean + half) * 10)


def _half_up(number: Fraction) -> int:
    return int(number + Fraction(1, 2))
