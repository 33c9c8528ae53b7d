"""The arithmetic of what if, line by line, against worked examples of published figures."""

from __future__ import annotations

from datetime import date

import pytest

from beeledger.rules.what_if import (
    Step,
    Stocked,
    if_counted,
    if_dropped,
    if_fed,
    if_hatched,
    if_laying_stopped,
)

MAY, SEPTEMBER = date(2026, 5, 14), date(2026, 9, 1)


def said(steps: list[Step]) -> dict[str, str]:
    return {step.words: step.figure for step in steps}


def test_a_litre_of_two_to_one_holds_885_g_of_sugar():
    """2:1 by weight is 66.67 °Brix, 1.327 kg a litre, 885 g of sugar (ICUMSA-type polynomial, from memory)."""
    lines = said(if_fed(1_000, "2:1", Stocked(), MAY))
    assert lines["1.0 l of 2:1 syrup × 1.327 kg a litre"] == "1.33 kg"
    assert lines["of it sugar, 66.7 % by weight"] == "0.89 kg"  # 885 g
    assert lines["its stores are not known"] == ""


def test_what_five_litres_do_for_a_light_colony_in_may():
    """By hand: 4.42 kg of sugar × 1.05 = 4.64; 4.9 kg on 5 May less 9 days of 2 kg a month is 4.3; 9.0 together."""
    lines = said(if_fed(5_000, "2:1", Stocked(4_900, date(2026, 5, 5)), MAY))
    assert lines["kept as stores, × 1.05"] == "4.64 kg"
    assert lines["used since, by the months"] == "−0.6 kg"
    assert lines["stores with the feed"] == "9.0 kg"
    assert lines["light under 5.0 kg now"] == "not light"


def test_what_is_still_to_feed_for_the_winter():
    """Six full brood frames are 13.2 kg; to 20 kg they want 6.5 kg of sugar: 8.2 l of 1 kg to 630 ml (worked example)."""
    lines = said(if_fed(0, "thick", Stocked(13_200, SEPTEMBER), SEPTEMBER))
    assert lines["wanted for the winter, single"] == "20.0 kg"
    assert lines["still to feed"] == "8.2 l: 6.5 kg sugar, 4.1 l water"
    double = said(if_fed(0, "2:1", Stocked(13_200, SEPTEMBER, brood_boxes=2), SEPTEMBER))
    assert double["wanted for the winter, double"] == "25.0 kg"


@pytest.mark.parametrize(
    ("found", "bees", "share", "verdict"),
    [
        (9, 300, "3.0 %", "decide on a treatment"),
        (6, 300, "2.0 %", "watch"),
        (15, 300, "5.0 %", "decide on a treatment"),
        (4, 285, "1.4 %", "under it"),
    ],
)
def test_a_count_is_its_share_and_stands_to_the_line(found, bees, share, verdict):
    """9 in 300 are 3 %, the line of USDA-ARS advice."""
    lines = said(if_counted(found, bees, 300, MAY))
    assert lines[f"{found} mites on {bees} bees × 100"] == share
    assert lines["the farm's line, 3 %"] == verdict


def test_a_count_after_a_treatment_says_what_it_killed():
    """5.0 % before and 0.5 % after are 90 % fewer (worked example of an efficacy)."""
    lines = said(if_counted(3, 600, 300, MAY, before_hundredths=500))
    assert lines["against 5.0 % before the treatment"] == "90 % fewer"
    worse = said(if_counted(18, 300, 300, MAY, before_hundredths=500))
    assert worse["against 5.0 % before the treatment"] == "20 % more"


@pytest.mark.parametrize(
    ("found", "days", "on", "factor", "estimate"),
    [
        (21, 7, date(2026, 7, 1), "× 30 in July", "about 90 mites"),
        (140, 7, date(2026, 8, 1), "× 30 in August", "about 600 mites"),
        (28, 14, date(2026, 1, 10), "× 400 in January", "about 800 mites"),
        (35, 7, date(2026, 3, 10), "× 100 in March, less accurate this month", "about 500 mites"),
    ],
)
def test_a_drop_is_taken_by_the_factor_of_its_season(found, days, on, factor, estimate):
    """Managing Varroa (National Bee Unit): daily drop × 30 May to August, × 400 November to February."""
    assert said(if_dropped(found, days, on))[factor] == estimate


def test_a_hundred_mites_on_the_first_of_may_are_a_thousand_on_19_august():
    """Projection with 33-day doubling: 3.32 doublings, 110 days. 23.33 mites in 7 days of May × 30 are 100."""
    lines = said(if_dropped(10, 3, date(2026, 5, 1)))
    assert lines["× 30 in May"] == "about 100 mites"
    assert lines["doubling in 33 days with brood: reached after"] == "110 days, 19 Aug"


def test_a_queen_that_hatched_on_13_june_lays_about_the_25th_and_is_feared_a_drone_layer_on_4_july():
    """The worked rearing calendar: emerged 13 June, mating from 18 June, laying about 25 June, no eggs by 4 July."""
    lines = said(if_hatched(date(2026, 6, 13)))
    assert lines["she flies to mate"] == "18 Jun to 28 Jun"
    assert lines["she lays about"] == "25 Jun 2026"
    assert lines["without eggs a drone layer is feared from"] == "4 Jul 2026"
    # Drones for a mating on 18 June from eggs laid 38 days before: 11 May.
    assert lines["mature drones need eggs laid by"] == "11 May 2026"


def test_a_queen_that_stops_on_1_november_leaves_no_worker_brood_on_the_22nd():
    """Worker 21 days from the egg, drone 24 (Winston 1987)."""
    lines = said(if_laying_stopped(date(2026, 11, 1)))
    assert lines["no worker brood from"] == "22 Nov 2026"
    assert lines["no drone brood from"] == "25 Nov 2026"


def test_every_figure_has_its_source():
    for steps in (
        if_fed(5_000, "2:1", Stocked(4_900, MAY), MAY),
        if_counted(3, 300, 300, MAY),
        if_dropped(21, 7, MAY),
        if_hatched(MAY),
        if_laying_stopped(MAY),
    ):
        assert all(step.source for step in steps)
