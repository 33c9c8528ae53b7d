"""Quantities of stock as they are typed and shown."""

from __future__ import annotations

import pytest

from beeledger.queries.records.stock import Item
from beeledger.rules.stock_items import ItemKind, Unit
from beeledger.ui.places.stock.quantities import figure, find_item, packs_words, read_quantity, said


@pytest.mark.parametrize(
    ("typed", "unit", "meant"),
    [
        ("12.5", Unit.GRAM, 12_500),
        ("800 g", Unit.GRAM, 800),
        ("2 KG", Unit.GRAM, 2_000),
        ("1,150", Unit.PIECE, 1_150),
        ("3 sacks", Unit.GRAM, 75_000),
        ("1 pack", Unit.GRAM, 25_000),
        ("4·5 l", Unit.MILLILITRE, 4_500),
        ("3 litres", Unit.MILLILITRE, 3_000),
        ("250ml", Unit.MILLILITRE, 250),
    ],
)
def test_a_quantity_is_read_as_it_was_meant(typed: str, unit: Unit, meant: int) -> None:
    assert read_quantity(typed, unit, 25_000, "sack") == meant


@pytest.mark.parametrize(
    ("typed", "unit", "why"),
    [
        ("a few", Unit.GRAM, "'a few' is no quantity"),
        ("3 l", Unit.GRAM, "it is kept in kg, not in l"),
        ("2 sacks", Unit.GRAM, "nobody wrote down how much a pack holds"),
        ("-4", Unit.PIECE, "'-4' is no quantity"),
        ("1.5", Unit.PIECE, "1.5 is finer than can be kept (steps of 1/1)"),
    ],
)
def test_what_cannot_be_meant_is_refused_with_a_sentence(typed: str, unit: Unit, why: str) -> None:
    with pytest.raises(ValueError) as raised:  # the sentence is what is compared
        read_quantity(typed, unit, None, "sack")
    assert str(raised.value) == why


def test_a_figure_has_no_more_decimals_than_it_needs() -> None:
    assert [figure(grams, Unit.GRAM) for grams in (12_000, 12_500, 12_550, 12_555)] == [
        "12", "12.5", "12.55", "12.555",
    ]  # fmt: skip
    assert (said(1_150, Unit.PIECE), said(800, Unit.GRAM), said(3_000, Unit.MILLILITRE)) == (
        "1,150",
        "0.8 kg",
        "3 l",
    )


def test_packs_are_said_one_and_many() -> None:
    assert [packs_words(*each) for each in ((1, "box"), (9, "box"), (2, "tray"), (3, ""), (0, "tray"), (None, ""))] == [
        "1 box", "9 boxes", "2 trays", "3 packs", "", "",
    ]  # fmt: skip


def test_an_item_is_found_by_a_part_that_only_one_name_has() -> None:
    kept = [_item(1, "White sugar"), _item(2, "Sugar bricks"), _item(3, "Lids")]
    assert find_item(kept, "lid").id == 3
    assert find_item(kept, "white SUGAR").id == 1
    assert find_item(kept, "2").id == 2
    for typed, why in (("sugar", "several are called so"), ("wax", "the farm keeps no wax")):
        with pytest.raises(ValueError, match=why):
            find_item(kept, typed)


def _item(number: int, name: str) -> Item:
    return Item(
        number, name, ItemKind.FEED, Unit.GRAM, None, "", None, None, None, "", None, None, None, None, None, None,
        None, "",
    )  # fmt: skip
