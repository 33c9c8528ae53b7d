"""Feed for the autumn: worked examples by hand."""

from __future__ import annotations

from datetime import date

import pytest

from beeledger.rules.autumn_feed import Wintering, autumn_feed, is_feeding_time, sugar_in_stock_g, target_g
from beeledger.rules.stock_items import Unit


def test_a_colony_on_six_frames_needs_six_and_a_half_kilograms() -> None:
    # By hand: target 20 kg on a single National box (BBKA News, August 2013), six full frames of 2.2 kg are 13.2 kg:
    # (20 − 13.2) ÷ 1.05 = 6.476 kg of sugar, 7.3 l of 2:1 at 885 g of sugar a litre.
    need = autumn_feed([Wintering(nucleus=False, brood_boxes=1, stores_g=13_200)])
    assert need.sugar_g == 6_476
    assert need.syrup_ml == pytest.approx(7_300, abs=40)


def test_twelve_hundred_colonies_of_twelve_kilograms() -> None:
    # By hand: each 12.6 kg under its 20 kg: 12 kg of sugar, in all 14.4 t, which is 16.28 m3 of 2:1 (density 1.327
    # kg/l at 66.7 per cent and 20 °C: NBS Circular C440, 1942, table 113).
    need = autumn_feed([Wintering(nucleus=False, brood_boxes=1, stores_g=7_400)] * 1_200)
    assert (need.short, need.sugar_g) == (1_200, 14_400_000)
    assert need.syrup_ml == pytest.approx(16_280_000, rel=0.003)


def test_colonies_nobody_has_looked_at_are_counted_and_not_guessed_at() -> None:
    colonies = [Wintering(False, 2, 30_000), Wintering(False, 1, None), Wintering(True, 1, 8_950)]
    need = autumn_feed(colonies)
    assert (need.colonies, need.known, need.short, need.sugar_g) == (3, 2, 1, 1_000)


def test_the_target_is_by_what_it_sits_in() -> None:
    # BBKA News, August 2013 and the National Bee Unit; a nucleus: common practice, no source.
    said = [target_g(Wintering(*each, None)) for each in ((False, 1), (False, 2), (True, 1))]
    assert said == [20_000, 25_000, 10_000]


def test_the_sugar_of_what_lies_in_the_store() -> None:
    assert sugar_in_stock_g(25_000, Unit.GRAM, 10_000) == 25_000
    assert sugar_in_stock_g(12_500, Unit.GRAM, 8_000) == 10_000
    # 2:1 holds 885 g of sugar a litre: as above.
    assert sugar_in_stock_g(10_000, Unit.MILLILITRE, 6_667) == pytest.approx(8_850, abs=15)
    assert sugar_in_stock_g(10_000, Unit.MILLILITRE, 7_500) == 0
    assert sugar_in_stock_g(10_000, Unit.GRAM, None) == 0


@pytest.mark.parametrize(
    ("day", "fed"), [((7, 31), False), ((8, 1), True), ((9, 30), True), ((10, 15), True), ((10, 16), False)]
)
def test_colonies_are_fed_for_the_winter_from_august(day: tuple[int, int], fed: bool) -> None:
    assert is_feeding_time(date(2026, *day)) is fed
