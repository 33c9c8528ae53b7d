"""Feed for the autumn: the sugar that lifts each colony's stores to what it wants for the winter.

(target − stores) ÷ 1.05 for each colony, the targets and the factor as in ``stores.toml``; a guide for ordering,
no more. Sugar and syrup are heavy: full sacks and drums are not for one person to lift.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from functools import cache

from beeledger.base.resources import table
from beeledger.rules.stock_items import Unit
from beeledger.rules.stores import density_g_per_litre, sugar_needed_g, syrup_for, winter_target_g

MIX = "2:1"
_WHOLE = 10_000
_LITRE_ML = 1_000
_SOLUTION = 7_000
"""Above so many hundredths of a per cent sugar no longer dissolves, and the density is not known."""


@dataclass(frozen=True, slots=True)
class Wintering:
    """A colony going into winter; stores in grams, None where nobody has looked lately."""

    nucleus: bool
    brood_boxes: int
    stores_g: int | None


@dataclass(frozen=True, slots=True)
class AutumnFeed:
    """What the colonies still need: how many there are, how many were seen, how many of these are short."""

    colonies: int
    known: int
    short: int
    sugar_g: int
    syrup_ml: int
    """The same as 2:1."""


@cache
def _season() -> tuple[str, str]:
    own = table("rules", "stock.toml")["autumn"]
    return own["first"], own["last"]


def is_feeding_time(today: date) -> bool:
    """Whether colonies are fed for the winter at that time of year."""
    first, last = _season()
    return first <= f"{today:%m-%d}" <= last


def target_g(colony: Wintering) -> int:
    """Grams wanted for the winter by what the colony sits in."""
    if colony.nucleus:
        return winter_target_g("nucleus")
    return winter_target_g("single" if colony.brood_boxes < 2 else "double")


def autumn_feed(colonies: Sequence[Wintering]) -> AutumnFeed:
    """The sugar that the colonies seen still need; those nobody has looked at lately are not guessed at."""
    needs = [
        sugar_needed_g(target_g(colony), colony.stores_g)
        for colony in colonies
        if colony.stores_g is not None
    ]
    sugar = sum(needs)
    return AutumnFeed(
        len(colonies), len(needs), sum(need > 0 for need in needs), sugar, syrup_for(sugar, MIX).syrup_ml
    )


def sugar_in_stock_g(quantity: int, unit: Unit, sugar_hundredths: int | None) -> int:
    """Grams of sugar in so much feed of the stock; nought where its share, or its density, is not known."""
    if sugar_hundredths is None or unit is Unit.PIECE:
        return 0
    if unit is Unit.GRAM:
        return quantity * sugar_hundredths // _WHOLE
    if sugar_hundredths > _SOLUTION:
        return 0
    grams = Fraction(density_g_per_litre(sugar_hundredths)) * quantity / _LITRE_ML
    return int(grams * sugar_hundredths / _WHOLE)
