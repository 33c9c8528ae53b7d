"""Charts: their scales, and that what they draw stands where the figures say."""

from __future__ import annotations

from datetime import date
from io import BytesIO

import pytest
from reportlab.lib.colors import HexColor
from reportlab.pdfgen.canvas import Canvas

from beeledger.reporting.drawing.charts import HivesByDay, ShareBar, Threshold, WeightDots, steps
from beeledger.reporting.look.fonts import register
from beeledger.reporting.look.ink import INKS
from beeledger.reporting.pictures import Picture, page_picture


def drawn(flowable, wide: float = 400, dpi: float = 72) -> Picture:
    register()
    buffer = BytesIO()
    _, high = flowable.wrap(wide, 500)
    canvas = Canvas(buffer, pagesize=(wide, high), invariant=1)
    flowable.drawOn(canvas, 0, 0)
    canvas.save()
    return page_picture(buffer.getvalue(), 0, dpi)


def coloured(picture: Picture, name: str, row: int, end: int | None = None) -> int:
    colour = HexColor(INKS[name])
    wanted = tuple(round(255 * part) for part in (colour.red, colour.green, colour.blue))
    line = picture.rgba[row * picture.width * 4 : (row + 1) * picture.width * 4]
    return sum(tuple(line[x : x + 3]) == wanted for x in range(0, 4 * (end or picture.width), 4))


def test_shares_are_as_long_as_they_are_large():
    picture = drawn(ShareBar([4510, 2097, 1872, 1521]))
    lengths = [coloured(picture, name, 6) for name in ("c1", "c2", "c3", "c4")]
    assert lengths == pytest.approx([180.4, 83.9, 74.9, 60.8], abs=3)


def test_parts_past_the_fourth_are_grey():
    picture = drawn(ShareBar([1, 1, 1, 1, 1, 1]))
    assert coloured(picture, "line5", 6) == pytest.approx(133, abs=6)


@pytest.mark.parametrize(
    ("low", "high", "expected"),
    [(0, 26.9, [0, 10, 20]), (0, 4.5, [0, 1, 2, 3, 4]), (318, 348, [320, 330, 340]), (0, 1.1, [0, 1])],
)
def test_a_scale_has_few_round_steps(low, high, expected):
    assert steps(low, high) == expected


def test_counts_begin_at_nought_and_weights_need_not():
    hives = HivesByDay([(date(2026, 5, 4), 20)], date(2026, 5, 1), date(2026, 5, 31), 24)
    weights = WeightDots([341.0, 342.5], [Threshold(340, "340 g nominal")], 329.8)
    assert hives.low == 0
    assert weights.low > 300


def test_the_line_of_hives_stands_at_the_count_of_each_day():
    chart = HivesByDay([(date(2026, 5, 11), 20)], date(2026, 5, 1), date(2026, 5, 31), 24)
    picture = drawn(chart, dpi=288)
    row = picture.height - round(4 * chart.y(20))
    end = round(4 * (400 - chart.right))  # its name stands to the right of the plot
    # from 11 May to the end: 21 of 31 days of the plot's width
    length = max(coloured(picture, "c1", near, end) for near in (row - 1, row, row + 1))
    assert length / 4 == pytest.approx((400 - chart.left - chart.right) * 21 / 31, abs=4)
