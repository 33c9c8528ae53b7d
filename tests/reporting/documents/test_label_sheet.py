"""Sheets of labels as PDF: decoded, measured, refused."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import biip
import pytest
import zxingcpp
from PIL import Image

from beeledger.base.errors import Refused
from beeledger.reporting.documents.label_sheet import label_proof, render_pdf
from beeledger.reporting.pictures import page_count, page_picture, page_text
from tests.reporting.examples import FARM, MADE
from tests.reporting.honey_examples import run

POINT = 72 / 25.4


def picture_of(pdf: bytes, page: int = 0, dpi: float = 300) -> Image.Image:
    picture = page_picture(pdf, page, dpi)
    return Image.frombytes("RGBA", (picture.width, picture.height), picture.rgba).convert("L")


@pytest.mark.parametrize(("layout", "grams", "labels"), [("jar-90x50", 340, 10), ("small-60x34", 113, 21)])
def test_every_label_of_a_full_sheet_is_scanned_at_300_dpi(layout, grams, labels):
    sheet = replace(run(layout, labels, net_g=grams), surface_cm2=70)
    found = zxingcpp.read_barcodes(picture_of(render_pdf(sheet, FARM, MADE)))
    assert len(found) == labels
    for each in found:
        message = biip.parse("]d2" + each.bytes.decode()).gs1_message
        article, before, lot = message.element_strings
        assert (article.gtin.value, article.gtin_error) == ("05012345678900", None)
        assert (before.date, lot.value) == (date(2028, 5, 31), "T26-031")


def test_a_label_says_all_that_the_law_asks():
    text = " ".join(page_text(render_pdf(run(count=1), FARM, MADE)).split())
    for words in (
        "Summer blossom honey", "340 g", "Honey from the United Kingdom", "Tarrow Barn, Nether Aldley, HR9 0ZZ",
        "Best before end May 2028", "L T26-031", "Not for infants under 12 months.",
    ):  # fmt: skip
        assert words in text


def places(
    pdf: bytes, page: int, label_width_mm: float = 90, label_height_mm: float = 50
) -> set[tuple[int, int]]:
    """Column and row of each code found on a 90 × 50 sheet."""
    dots = 300 / 25.4
    return {
        (
            int((found.position.top_left.x / dots - 12.5) // 95),
            int((found.position.top_left.y / dots - 19.5) // 52),
        )
        for found in zxingcpp.read_barcodes(picture_of(pdf, page))
    }


def test_a_sheet_begun_is_used_up_and_the_rest_goes_on_the_next():
    pdf = render_pdf(run(count=5, first=7), FARM, MADE)
    assert page_count(pdf) == 2
    assert places(pdf, 0) == {(1, 3), (0, 4), (1, 4)}
    assert places(pdf, 1) == {(0, 0), (1, 0)}


def test_an_offset_moves_the_print_by_as_much():
    plain = picture_of(render_pdf(run(count=1), FARM, MADE))
    moved = picture_of(
        render_pdf(replace(run(count=1), offset_right_mm=2.54, offset_down_mm=-1.27), FARM, MADE)
    )
    (before,), (after,) = (zxingcpp.read_barcodes(image) for image in (plain, moved))
    # 300 dpi: 2.54 mm are 30 dots, 1.27 mm are 15
    assert after.position.top_left.x - before.position.top_left.x == pytest.approx(30, abs=1)
    assert after.position.top_left.y - before.position.top_left.y == pytest.approx(-15, abs=1)


def test_outlines_are_drawn_only_for_a_trial():
    plain = picture_of(render_pdf(run(count=1), FARM, MADE), dpi=150)
    trial = picture_of(render_pdf(replace(run(count=1), outlines=True), FARM, MADE), dpi=150)
    edge = (round(12.5 / 25.4 * 150), round(44 / 25.4 * 150))
    near = [(edge[0] + step, edge[1]) for step in (-1, 0, 1)]
    assert all(plain.getpixel(at) == 255 for at in near)
    assert any(trial.getpixel(at) < 255 for at in near)


@pytest.mark.parametrize(
    ("changed", "code"),
    [
        ({"origin_words": ""}, "label.origin"),
        ({"address": "post@tarrow.example"}, "label.business"),
        ({"lot_mark": "T26-031"}, "label.lot"),
        ({"best_before": date(2026, 5, 1)}, "label.date"),
    ],
)
def test_a_label_that_lacks_a_particular_is_not_printed(changed, code):
    with pytest.raises(Refused) as refused:
        render_pdf(run(**changed), FARM, MADE)
    assert code in {finding.code for finding in refused.value.findings}


def test_the_proof_of_a_failing_label_can_still_be_looked_at_at_true_size():
    picture = label_proof(run(origin_words=""), dpi=254)
    from io import BytesIO

    image = Image.open(BytesIO(picture))
    assert image.size == pytest.approx((900, 500), abs=1)
    assert image.info["dpi"] == pytest.approx((254, 254), abs=0.1)
    assert image.getpixel((2, 2)) == (255, 255, 255)


def test_the_same_run_gives_the_same_bytes():
    assert render_pdf(run(), FARM, MADE) == render_pdf(run(), FARM, MADE)
