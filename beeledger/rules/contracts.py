"""Contracts for pollination: how many hives, which are ready, and what is owed line by line.

Figures and sources stand in ``resources/rules/pollination.toml``; stocking is a rule of thumb that the
grower and the farm agree on. Money is exact: every line is a whole quantity times whole pence, and the
lines add up to the sum. Tax is named by its code and reckoned by those who keep the accounts.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal
from fractions import Fraction
from functools import cache

from beeledger.base import dates
from beeledger.base.resources import table
from beeledger.base.text import counted
from beeledger.base.units import SQUARE_METRES_PER_ACRE, frames, money, scaled
from beeledger.rules.strength import number_order

_HECTARE_M2 = 10_000


@dataclass(frozen=True, slots=True)
class Crop:
    """A crop and its stocking in hundredths of a colony a hectare; ``typed`` is what a form proposes."""

    code: str
    words: str
    from_hundredths: int
    to_hundredths: int
    typed_hundredths: int
    source: str


@dataclass(frozen=True, slots=True)
class Terms:
    """What was agreed. Pence and tenths of a frame; prices are what the grower owes, deductions positive.

    ``weak_price_pence`` is paid for a hive under ``least_tenths`` (0: not paid). ``by_share`` lets the
    share of weak hives in the count stand for all of them; otherwise only hives that were opened are
    reduced. ``bonus_pence`` is for each frame and hive that the counted mean stands above
    ``bonus_from_tenths``. ``late_on``, ``early_off`` and ``late_off`` are deducted for each hive and day,
    ``missing_pence`` for each hive never brought, beside its price. ``extra_paid`` pays for more hives
    than agreed.
    """

    hives: int
    price_pence: int
    on: date
    off: date
    least_tenths: int | None = None
    weak_price_pence: int = 0
    by_share: bool = False
    bonus_from_tenths: int | None = None
    bonus_pence: int = 0
    late_on_pence: int = 0
    early_off_pence: int = 0
    late_off_pence: int = 0
    missing_pence: int = 0
    extra_paid: bool = False
    tax_code: str = ""


@dataclass(frozen=True, slots=True)
class Brought:
    """A hive that stood on the crop: local days on and off (None: still there), frames of bees if counted.

    A hive that was exchanged for another is one of these, with the day the first came and the day the
    second left.
    """

    mark: str
    on: date
    off: date | None = None
    bees_tenths: int | None = None


@dataclass(frozen=True, slots=True)
class Line:
    """One line of what is owed: ``quantity`` × ``unit_pence`` = ``amount_pence``, deductions below 0."""

    code: str
    words: str
    quantity: int
    unit_pence: int
    why: str = ""
    marks: tuple[str, ...] = ()

    @property
    def amount_pence(self) -> int:
        """Exactly quantity times unit."""
        return self.quantity * self.unit_pence


@dataclass(frozen=True, slots=True)
class Owed:
    """The lines, what they add up to before tax, and the hives paid for."""

    lines: tuple[Line, ...]
    total_pence: int
    hives_paid: int
    tax_code: str


@dataclass(frozen=True, slots=True)
class Strength:
    """Frames of bees a colony had when last looked at; None when never counted."""

    mark: str
    bees_tenths: int | None
    on: date | None


@dataclass(frozen=True, slots=True)
class Ready:
    """Which colonies are strong enough, which are not, and of which it is not known; and how many are short."""

    strong: tuple[str, ...]
    weak: tuple[str, ...]
    unknown: tuple[str, ...]
    short: int


@cache
def crops() -> Mapping[str, Crop]:
    """The crops of ``pollination.toml`` by code, read once."""
    return {row["code"]: Crop(**row) for row in table("rules", "pollination.toml")["crop"]}


def hives_wanted(area_m2: int, per_hectare_hundredths: int) -> int:
    """Colonies for an area, rounded up to whole ones. ValueError for a negative area or rate."""
    if area_m2 < 0 or per_hectare_hundredths < 0:
        raise ValueError("neither an area nor a stocking is negative")
    return -(-area_m2 * per_hectare_hundredths // (_HECTARE_M2 * 100))


def per_hectare_hundredths(per_acre_hundredths: int) -> int:
    """Hundredths of a colony an acre as hundredths a hectare, to the nearest."""
    exact = Decimal(per_acre_hundredths) * _HECTARE_M2 / SQUARE_METRES_PER_ACRE
    return int(exact.to_integral_value(ROUND_HALF_UP))


def acres_m2(acres_hundredths: int) -> int:
    """Hundredths of an acre as square metres, rounded up, so that a stocking by the acre stays whole."""
    return int((Decimal(acres_hundredths) * SQUARE_METRES_PER_ACRE / 100).to_integral_value(ROUND_CEILING))


def readiness(strengths: Iterable[Strength], least_tenths: int, on: date, hives: int) -> Ready:
    """Which colonies would pass ``least_tenths`` by what was last counted, for a contract of ``hives``.

    A count older than three weeks on ``on`` says nothing, and nothing is added for growth.
    """
    good_for: int = table("rules", "pollination.toml")["ready"]["good_for_days"]
    strong, weak, unknown = [], [], []
    for each in strengths:
        if each.bees_tenths is None or each.on is None or (on - each.on).days > good_for:
            unknown.append(each.mark)
        elif each.bees_tenths >= least_tenths:
            strong.append(each.mark)
        else:
            weak.append(each.mark)
    return Ready(_ordered(strong), _ordered(weak), _ordered(unknown), max(0, hives - len(strong)))


def owed(terms: Terms, brought: Sequence[Brought], today: date) -> Owed:
    """What the grower owes by the movement log and the counts, before tax.

    Lines that come to nothing are left out, except that a shortfall, a weak hive and days late are
    said even where nothing is deducted for them. ``today`` closes the days of hives still there.
    """
    # A hive that came after the end or left before the beginning was never on the contract.
    came = [hive for hive in brought if hive.on < terms.off and (hive.off is None or hive.off > terms.on)]
    paid = len(came) if terms.extra_paid else min(len(came), terms.hives)
    lines = [
        Line("hives", "Hives brought", paid, terms.price_pence, f"{terms.hives} agreed, {len(came)} brought"),
        *_extra(terms, len(came), paid),
        *_missing(terms, len(came)),
        *_weak(terms, came, paid),
        *_bonus(terms, came, paid),
        *_days(terms, came, today),
    ]
    return Owed(tuple(lines), sum(line.amount_pence for line in lines), paid, terms.tax_code)


def _extra(terms: Terms, came: int, paid: int) -> list[Line]:
    more = came - paid
    why = f"more than the {terms.hives} agreed, not charged"
    return [Line("extra", "Hives beyond the contract", more, 0, why)] if more else []


def _missing(terms: Terms, came: int) -> list[Line]:
    short = terms.hives - came
    why = f"{came} of {terms.hives} brought"
    return [Line("missing", "Hives not brought", short, -terms.missing_pence, why)] if short > 0 else []


def _weak(terms: Terms, came: Sequence[Brought], paid: int) -> list[Line]:
    least, bees = terms.least_tenths, [hive for hive in came if hive.bees_tenths is not None]
    if least is None:
        return []
    under = [hive.mark for hive in bees if hive.bees_tenths is not None and hive.bees_tenths < least]
    if not under:
        return []
    number, why = min(len(under), paid), f"under {frames(least)} frames of bees when opened"
    if terms.by_share:
        number = min(paid, int(Fraction(len(under) * paid, len(bees)) + Fraction(1, 2)))
        why = f"{len(under)} of {len(bees)} opened were under {frames(least)} frames of bees, taken for all {paid}"
    deduction = terms.price_pence - terms.weak_price_pence
    return [Line("weak", "Hives under strength", number, -deduction, why, _ordered(under))]


def _bonus(terms: Terms, came: Sequence[Brought], paid: int) -> list[Line]:
    bees = [hive.bees_tenths for hive in came if hive.bees_tenths is not None]
    if terms.bonus_from_tenths is None or not bees or not terms.bonus_pence:
        return []
    above = Fraction(sum(bees), len(bees)) - terms.bonus_from_tenths
    unit = int(above / 10 * terms.bonus_pence + Fraction(1, 2))  # to the nearest penny a hive
    if above <= 0 or unit == 0:
        return []
    mean = scaled(int(Fraction(sum(bees) * 10, len(bees)) + Fraction(1, 2)), 100)
    why = (
        f"mean of {counted(len(bees), 'hive')} {mean} frames, {money(terms.bonus_pence)} for each frame "
        f"above {frames(terms.bonus_from_tenths)}"
    )
    return [Line("bonus", "Bonus for strength", paid, unit, why)]


def _days(terms: Terms, came: Sequence[Brought], today: date) -> list[Line]:
    rules: list[tuple[str, str, int, str, Callable[[Brought], int]]] = [
        ("late_on", "Hive-days late to the crop", terms.late_on_pence, f"agreed for {dates.long(terms.on)}",
         lambda hive: (hive.on - terms.on).days),
        ("early_off", "Hive-days taken off early", terms.early_off_pence, f"agreed until {dates.long(terms.off)}",
         lambda hive: 0 if hive.off is None else (terms.off - hive.off).days),
        ("late_off", "Hive-days left too long", terms.late_off_pence, f"agreed until {dates.long(terms.off)}",
         lambda hive: ((hive.off or today) - terms.off).days),
    ]  # fmt: skip
    lines = []
    for code, words, pence, why, days in rules:
        over = {hive.mark: days(hive) for hive in came if days(hive) > 0}
        if over:
            lines.append(Line(code, words, sum(over.values()), -pence, why, _ordered(over)))
    return lines


def _ordered(marks: Iterable[str]) -> tuple[str, ...]:
    return tuple(sorted(marks, key=number_order))
