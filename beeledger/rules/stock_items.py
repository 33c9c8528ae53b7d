"""What stock is made of: kinds of goods, units, states of boxes, and the accounts goods move between.

An entry takes a quantity of one item from one account to another, so that every item adds up to nothing over
all accounts. Places (a store, a van, a site, a contract extractor) hold what can be touched and counted; the
other accounts say where it came from or what became of it.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from beeledger.base.units import kilograms, litres


class ItemKind(StrEnum):
    """What a thing in the store is."""

    FEED = "feed"
    JAR = "jar"
    LID = "lid"
    LABEL = "label"
    FRAMES = "frames"
    FOUNDATION = "foundation"
    BOX = "box"
    OTHER = "other"


class Unit(StrEnum):
    """What an item is counted in; quantities are whole numbers of it."""

    GRAM = "g"
    MILLILITRE = "ml"
    PIECE = "piece"


class BoxKind(StrEnum):
    """What a box is for."""

    BROOD = "brood"
    SUPER = "super"


class BoxState(StrEnum):
    """What state a box is in."""

    FOUNDATION = "foundation"
    """With frames of undrawn foundation."""
    DRAWN = "drawn"
    """With drawn comb, ready to go on."""
    WET = "wet"
    """Back from extracting or about to go there: sticky, to be kept bee-tight."""
    CLEAN = "clean"
    """Cleaned out by the bees."""
    CONDEMNED = "condemned"
    """Not to go on a hive again."""


class Account(StrEnum):
    """Where goods come from, are, or went."""

    SUPPLIER = "supplier"
    STORE = "store"
    VAN = "van"
    SITE = "site"
    EXTRACTOR = "extractor"
    """At a contract extractor's."""
    HIVES = "hives"
    """On the hives: boxes."""
    USED = "used"
    WASTED = "wasted"
    LOST = "lost"
    UNCOUNTED = "uncounted"
    """What was never counted in: opening balances, differences of counts, use beyond what the record holds."""
    TURNED = "turned"
    """Changed into another item: a wet super that is clean now. Adds up to nothing over the states of a box."""


PLACES = (Account.STORE, Account.VAN, Account.SITE, Account.EXTRACTOR)
"""Where stock can lie and be counted: never below nothing."""


@dataclass(frozen=True, slots=True, order=True)
class At:
    """One account: its kind and, for a place, the number of the store, van, site or extractor."""

    kind: Account
    number: int | None = None

    def __post_init__(self) -> None:
        """A place has a number, nothing else has one."""
        if (self.kind in PLACES) != (self.number is not None):
            raise ValueError(f"{self.kind} {'needs' if self.kind in PLACES else 'has no'} number")


SUPPLIER = At(Account.SUPPLIER)
HIVES = At(Account.HIVES)
USED = At(Account.USED)
WASTED = At(Account.WASTED)
LOST = At(Account.LOST)
UNCOUNTED = At(Account.UNCOUNTED)
TURNED = At(Account.TURNED)


def amount(quantity: int, unit: str) -> str:
    """A quantity as it is said: "12.5 kg", "800 g", "3.2 l", "1,150". The unit is that of the item."""
    if unit == Unit.PIECE:
        return f"{quantity:,}"
    small, large, said = ("g", "kg", kilograms) if unit == Unit.GRAM else ("ml", "l", litres)
    if abs(quantity) < _THOUSAND:
        return f"{quantity} {small}"
    return f"{said(quantity, 0 if quantity % _THOUSAND == 0 else 1)} {large}"


_THOUSAND = 1_000
