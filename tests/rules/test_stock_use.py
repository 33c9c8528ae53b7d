"""What rounds and jarrings take: the item that is meant, in the unit it is kept in."""

from __future__ import annotations

import pytest

from beeledger.rules.rounds.entry import FeedKind
from beeledger.rules.stock_items import BoxState, ItemKind, Unit, amount
from beeledger.rules.stock_use import (
    Draw,
    Kept,
    comes_off_as,
    converted,
    feed_draws,
    jar_draws,
    supers_that_go_on,
)

SUGAR = Kept(1, ItemKind.FEED, Unit.GRAM, FeedKind.SUGAR, 10_000)
THICK = Kept(2, ItemKind.FEED, Unit.MILLILITRE, FeedKind.SYRUP_2_1, 6_667)
TUBS = Kept(3, ItemKind.FEED, Unit.GRAM, FeedKind.SYRUP_READY, 6_500)
FONDANT = Kept(4, ItemKind.FEED, Unit.GRAM, FeedKind.FONDANT)
ALL = (SUGAR, THICK, TUBS, FONDANT)


def test_feed_takes_the_item_of_its_kind_in_the_unit_it_was_fed_in() -> None:
    fed = {FeedKind.SYRUP_2_1: (6_000, 0), FeedKind.FONDANT: (0, 2_500)}
    assert feed_draws(fed, ALL) == [Draw((2,), 6_000), Draw((4,), 2_500)]


def test_several_items_of_a_kind_are_taken_from_together() -> None:
    more = Kept(9, ItemKind.FEED, Unit.GRAM, FeedKind.FONDANT)
    assert feed_draws({FeedKind.FONDANT: (0, 2_500)}, (*ALL, more)) == [Draw((4, 9), 2_500)]


def test_syrup_mixed_at_home_takes_its_sugar() -> None:
    # Worked example: 1,000 l of 2:1 needs 885 kg of sugar (density 1.327 kg/l at 66.7 per cent, 20 °C: NBS Circular
    # C440, 1942, table 113; two thirds of it sugar).
    (draw,) = feed_draws({FeedKind.SYRUP_2_1: (1_000_000, 0)}, (SUGAR, FONDANT))
    assert draw.item_ids == (1,)
    assert draw.quantity == pytest.approx(885_000, rel=0.002)


def test_ready_syrup_kept_by_weight_takes_the_weight_of_what_was_poured() -> None:
    # 65 per cent: 1.3163 kg/l at 20 °C: NBS Circular C440 (1942), table 113; from memory.
    (draw,) = feed_draws({FeedKind.SYRUP_READY: (10_000, 0)}, ALL)
    assert draw.item_ids == (3,)
    assert draw.quantity == pytest.approx(13_163, rel=0.002)


def test_what_no_item_means_takes_nothing() -> None:
    assert feed_draws({FeedKind.PATTY: (0, 500), FeedKind.SYRUP_READY: (2_000, 0)}, (FONDANT,)) == []


@pytest.mark.parametrize("sugar", [5_000, 6_667])
def test_litres_to_grams_and_back_again(sugar: int) -> None:
    grams = converted(10_000, Unit.MILLILITRE, Unit.GRAM, sugar)
    assert grams is not None
    assert converted(grams, Unit.GRAM, Unit.MILLILITRE, sugar) == pytest.approx(10_000, abs=1)


def test_no_density_is_made_up() -> None:
    assert converted(10_000, Unit.MILLILITRE, Unit.GRAM, None) is None
    assert converted(10_000, Unit.MILLILITRE, Unit.GRAM, 7_700) is None
    assert converted(10_000, Unit.MILLILITRE, Unit.PIECE, 6_000) is None


def test_jars_are_those_of_the_size_else_those_for_any() -> None:
    small, large = (
        Kept(5, ItemKind.JAR, Unit.PIECE, fits_g=227),
        Kept(6, ItemKind.JAR, Unit.PIECE, fits_g=454),
    )
    lid = Kept(7, ItemKind.LID, Unit.PIECE)
    items = (small, large, lid)
    assert jar_draws(ItemKind.JAR, 454, 60, items) == [Draw((6,), 60)]
    assert jar_draws(ItemKind.JAR, 340, 60, items) == []
    assert jar_draws(ItemKind.LID, 454, 60, items) == [Draw((7,), 60)]
    assert jar_draws(ItemKind.LID, 454, 0, items) == []


def box(number: int, state: BoxState, kind: str = "super", size: str = "national_super") -> Kept:
    return Kept(number, ItemKind.BOX, Unit.PIECE, box=kind, frame_size=size, box_state=state)


def test_drawn_supers_go_on_first_and_condemned_ones_never() -> None:
    boxes = (
        box(1, BoxState.FOUNDATION), box(2, BoxState.CONDEMNED), box(3, BoxState.CLEAN), box(4, BoxState.DRAWN),
        box(5, BoxState.DRAWN, "brood"),
    )  # fmt: skip
    assert [one.id for one in supers_that_go_on(boxes)] == [4, 3, 1]


def test_a_super_comes_off_wet_where_wet_ones_of_its_size_are_kept_apart() -> None:
    drawn, wet = box(1, BoxState.DRAWN), box(2, BoxState.WET)
    other = box(3, BoxState.WET, size="langstroth_medium")
    assert comes_off_as(drawn, (drawn, wet, other)) == wet
    assert comes_off_as(drawn, (drawn, other)) == drawn


@pytest.mark.parametrize(
    ("quantity", "unit", "said"),
    [(800, "g", "800 g"), (12_500, "g", "12.5 kg"), (25_000, "g", "25 kg"), (3_200, "ml", "3.2 l"), (1_150, "piece", "1,150")],
)  # fmt: skip
def test_quantities_are_said_in_the_larger_unit(quantity: int, unit: str, said: str) -> None:
    assert amount(quantity, unit) == said
