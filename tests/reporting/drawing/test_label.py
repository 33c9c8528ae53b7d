"""A label within its edges: the law's least heights, and what happens when there is no room."""

from __future__ import annotations

from dataclasses import replace

import pytest

from beeledger.reporting.documents.label_sheet import lay, measured, particulars
from beeledger.reporting.look.fonts import text_width
from beeledger.rules.label_law import breaches
from tests.reporting.honey_examples import run

# SI 1987/1538 and Regulation (EU) 1169/2011 art. 13: sheet, grams, least figures, least x-height, surface
LEAST = [
    ("small-60x34", 42, 2.0, 0.9, 60),
    ("small-60x34", 113, 3.0, 0.9, 70),
    ("jar-90x50", 340, 4.0, 1.2, 120),
    ("roll-90x50", 454, 4.0, 1.2, 140),
    ("bucket-95x135", 1360, 6.0, 1.2, 300),
]


@pytest.mark.parametrize(("layout", "grams", "figures", "letters", "surface"), LEAST)
def test_figures_and_letters_are_at_least_as_high_as_the_law_asks(layout, grams, figures, letters, surface):
    found = measured(replace(run(layout, net_g=grams), surface_cm2=surface))
    assert found.figure_height_mm >= figures
    assert found.x_height_mm >= letters
    assert found.cut == ()


@pytest.mark.parametrize("layout", ["small-60x34", "jar-90x50", "roll-90x50", "bucket-95x135"])
def test_every_line_stands_within_the_label_and_none_over_another(layout):
    laid = lay(replace(run(layout, imperial=True, e_mark=True, net_g=113), surface_cm2=70))
    boxes = []
    for line in laid.lines:
        wide = text_width(line.text, line.role)
        left = line.x - wide if line.align == "right" else line.x
        boxes.append((left, line.y, left + wide, line.y + line.role.size * 0.727))
    side = laid.symbol.side_mm(laid.module_mm) * 72 / 25.4
    boxes.append((*laid.symbol_at, laid.symbol_at[0] + side, laid.symbol_at[1] + side))
    for left, bottom, right, top in boxes:
        assert left >= 3
        assert bottom >= 3
        assert right <= laid.width - 3
        assert top <= laid.height - 3
    for index, one in enumerate(boxes):
        for other in boxes[index + 1 :]:
            apart = one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
            assert apart


def test_the_label_of_a_340_g_jar_meets_every_particular():
    assert breaches(particulars(run())) == ()


def test_a_label_with_more_words_than_room_says_what_was_cut_and_is_not_to_be_used():
    crowded = run("small-60x34", other_words=("A long story of the bees of this valley. " * 6,))
    assert measured(crowded).cut == ("name and particulars",)
    assert [each.key for each in breaches(particulars(crowded))] == ["whole"]


def test_more_words_make_smaller_letters_and_never_smaller_than_the_law():
    sizes = [measured(run(other_words=tuple(["set in the jar"] * count))).x_height_mm for count in range(4)]
    assert sizes == sorted(sizes, reverse=True)
    assert sizes[0] > sizes[-1] >= 1.2


def test_the_module_of_the_code_is_never_under_a_third_of_a_millimetre():
    assert all(lay(run(layout)).module_mm >= 0.33 for layout, *_ in LEAST)
