"""The figures behind the checks, against published ones."""

from __future__ import annotations

from math import sqrt

import pytest

from beeledger.rules.rounds.figures import shipped_figures
from beeledger.rules.stores import figures as stores_figures


def test_two_thousand_eggs_a_day_leave_42_000_cells():
    """Brood cells = 21 × eggs a day (21 days to the emerging worker: Winston, Biology of the Honey Bee, 1987)."""
    assert shipped_figures().brood_cells_odd == 42_000


def test_an_egg_every_22_seconds_leaves_no_more_than_82_472_cells():
    """86,400 s × 21 ÷ 22, by hand: 1,814,400 ÷ 22 = 82,472.7 (22 s: common practice, no source)."""
    assert shipped_figures().brood_cells_most == 82_472


def test_a_deep_langstroth_frame_has_nearly_seven_thousand_cells():
    """About 3,500 cells a side, 7,000 a frame, is the usual figure (from memory).

    Its comb is 8 × 16.75 inches = 134 square inches a side (Sagili & Burgett, PNW 623, 2011).
    """
    assert shipped_figures().cells_per_frame("langstroth_deep") == pytest.approx(7_000, rel=0.05)
    frame = shipped_figures().frames["langstroth_deep"]
    assert frame.comb_width_mm * frame.comb_height_mm == pytest.approx(134 * 25.4**2, rel=0.005)


def test_a_national_brood_frame_has_about_five_thousand_cells():
    """5,000 to 5,500 cells, both sides (from memory)."""
    assert 5_000 <= shipped_figures().cells_per_frame("national_brood") <= 5_500


def test_cells_are_counted_by_the_area_of_a_hexagon():
    """A hexagon w across the flats covers w² √3 ÷ 2: at 5.4 mm 25.25 mm², 396 cells in a square decimetre."""
    assert 10_000 / (5.4**2 * sqrt(3) / 2) == pytest.approx(396, abs=0.5)
    national = shipped_figures().frames["national_brood"]
    area_dm2 = national.comb_width_mm * national.comb_height_mm / 10_000
    assert shipped_figures().cells_per_frame("national_brood") == pytest.approx(2 * 396 * area_dm2, rel=0.001)


def test_a_frame_that_counts_as_brood_is_half_covered_at_least():
    """Frames at least 50 % brood: CAPA, Managing Bees for Crop Pollination (Canada)."""
    figures = shipped_figures()
    assert figures.brood_cells(80, "national_brood") == 8 * figures.cells_per_frame("national_brood") // 2


def test_the_frames_are_those_of_the_stores():
    assert set(shipped_figures().frames) <= set(stores_figures().frames_g)
