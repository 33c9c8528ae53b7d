"""Inter on paper: heights against the font's own tables, read by fontTools."""

from __future__ import annotations

import pytest
from fontTools.ttLib import TTFont

from beeledger.base.resources import resource
from beeledger.reporting.look import fonts


@pytest.mark.parametrize("face", fonts.FACES)
def test_figures_of_every_face_have_one_width_so_that_columns_stand(face):
    widths = [fonts.width(figure, f"Inter-{face}", 9) for figure in "0123456789"]
    # the static faces were cut from a variable font: rounding leaves a fiftieth of a point
    assert max(widths) - min(widths) < 0.02
    assert fonts.width("1111", f"Inter-{face}", 9) > fonts.width("llll", f"Inter-{face}", 9)


@pytest.mark.parametrize("face", fonts.FACES)
def test_the_x_height_and_the_figures_are_as_high_as_the_font_says(face):
    # Outside: the same file read with fontTools, the reference library for OpenType.
    with TTFont(resource("fonts", "paper", f"Inter-{face}.ttf")) as font:
        glyphs, names, units = font["glyf"], font.getBestCmap(), font["head"].unitsPerEm
        lowest = min(glyphs[names[ord(figure)]].yMax for figure in "0123456789")
        x_high = glyphs[names[ord("x")]].yMax
    assert fonts.figure_height_mm(face, 72) == pytest.approx(lowest / units * 25.4)
    assert fonts.x_height_mm(face, 72) == pytest.approx(x_high / units * 25.4)


def test_a_ten_point_figure_of_the_semibold_is_2_57_mm_high():
    # by hand: Inter's figures are 2048 of 2816 units high; 10 pt are 3.528 mm
    assert fonts.figure_height_mm("SemiBold", 10) == pytest.approx(10 * 25.4 / 72 * 2048 / 2816)


def test_the_size_for_a_height_gives_that_height():
    size = fonts.size_for_figures("SemiBold", 4.0)
    assert fonts.figure_height_mm("SemiBold", size) == pytest.approx(4.0)
    small = fonts.size_for_x_height("Regular", 1.2)
    assert fonts.x_height_mm("Regular", small) == pytest.approx(1.2)


def test_welsh_accents_signs_and_the_e_mark_can_be_drawn():
    assert fonts.lacking("ŵŷẃŴŶâêîôûïö £ − × ± – · ℮ °") == ""


def test_what_the_face_lacks_is_named_once_each():
    assert fonts.lacking("Tŷ שלש") == "של"
