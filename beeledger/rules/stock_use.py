"""What rounds and jarrings take from the stock: which items a feed, a jar or a super means, and how much.

Only what the farm keeps is taken. Syrup that no item is takes the sugar it was mixed from, by the strengths
of the rules of stores.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from beeledger.rules.rounds.entry import FeedKind
from beeledger.rules.stock_items import BoxState, ItemKind, Unit
from beeledger.rules.stores import density_g_per_litre, sugar_g_in

_MIXED = {FeedKind.SYRUP_1_1: "1:1", FeedKind.SYRUP_2_1: "2:1"}
_SOLUTION = 7_000
"""Above so many hundredths of a per cent a figure of density is not known."""
_GOES_ON = (BoxState.DRAWN, BoxState.CLEAN, BoxState.WET, BoxState.FOUNDATION)
_LITRE_ML = 1_000


@dataclass(frozen=True, slots=True)
class Kept:
    """What of an item decides whether something takes from it. Shares in hundredths of a per cent."""

    id: int
    kind: ItemKind
    unit: Unit
    feed_kind: FeedKind | None = None
    sugar_hundredths: int | None = None
    fits_g: int | None = None
    box: str | None = None
    frame_size: str | None = None
    box_state: BoxState | None = None


@dataclass(frozen=True, slots=True)
class Draw:
    """A quantity to be taken from the first of these items that has it, in their common unit."""

    item_ids: tuple[int, ...]
    quantity: int


def feed_draws(fed: Mapping[FeedKind, tuple[int, int]], items: Sequence[Kept]) -> list[Draw]:
    """What feed takes: for each kind fed, its millilitres and grams.

    An item of that kind in the unit in which it was fed; else one in the other unit, by its density; else, for
    syrup of a known strength, the sugar that it was mixed from. What none of these fits takes nothing.
    """
    return [
        draw
        for kind, measures in fed.items()
        for unit, quantity in zip((Unit.MILLILITRE, Unit.GRAM), measures, strict=True)
        if quantity and (draw := _feed_draw(kind, unit, quantity, items)) is not None
    ]


def _feed_draw(kind: FeedKind, unit: Unit, quantity: int, items: Sequence[Kept]) -> Draw | None:
    of_kind = [item for item in items if item.kind is ItemKind.FEED and item.feed_kind is kind]
    if same := tuple(item.id for item in of_kind if item.unit is unit):
        return Draw(same, quantity)
    for item in of_kind:
        if (other := converted(quantity, unit, item.unit, item.sugar_hundredths)) is not None:
            return Draw((item.id,), other)
    sugar = tuple(
        item.id
        for item in items
        if item.kind is ItemKind.FEED and item.feed_kind is FeedKind.SUGAR and item.unit is Unit.GRAM
    )
    if kind in _MIXED and unit is Unit.MILLILITRE and sugar:
        return Draw(sugar, sugar_g_in(quantity, _MIXED[kind]))
    return None


def converted(quantity: int, unit: Unit, into: Unit, sugar_hundredths: int | None) -> int | None:
    """Grams of a syrup as millilitres or the other way, by its sugar; None where that cannot be known."""
    if {unit, into} != {Unit.GRAM, Unit.MILLILITRE} or sugar_hundredths is None:
        return None
    if sugar_hundredths > _SOLUTION:
        return None
    density = Fraction(density_g_per_litre(sugar_hundredths)) / _LITRE_ML
    return round(quantity / density if into is Unit.MILLILITRE else quantity * density)


def jar_draws(kind: ItemKind, jar_g: int, pieces: int, items: Sequence[Kept]) -> list[Draw]:
    """What so many jars of a nominal weight take of jars, lids or labels: those for that weight, else those for any."""
    of_kind = [item for item in items if item.kind is kind and item.unit is Unit.PIECE]
    for fits in (jar_g, None):
        if ids := tuple(item.id for item in of_kind if item.fits_g == fits):
            return [Draw(ids, pieces)] if pieces else []
    return []


def supers_that_go_on(items: Iterable[Kept]) -> tuple[Kept, ...]:
    """Supers in the order in which they are put on: drawn comb first; never condemned ones."""
    supers = [item for item in items if item.box == "super" and item.box_state in _GOES_ON]
    return tuple(sorted(supers, key=lambda item: (_GOES_ON.index(item.box_state or BoxState.WET), item.id)))


def comes_off_as(item: Kept, items: Iterable[Kept]) -> Kept:
    """What a super is when it has come off: the wet one of its frame size, where the farm keeps that apart."""
    wet = [
        other
        for other in items
        if (other.box, other.frame_size, other.box_state) == (item.box, item.frame_size, BoxState.WET)
    ]
    return wet[0] if wet else item
