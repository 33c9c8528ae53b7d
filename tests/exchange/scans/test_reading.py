"""Scanned round sheets read back: what is sure is right, and what cannot be used is said in words."""

from __future__ import annotations

import io
from collections import Counter
from random import Random

import numpy as np
import pytest
from PIL import Image

from beeledger.exchange.scans import Says, read_scans
from beeledger.exchange.scans.straight import projection
from beeledger.rules.rounds.paper import boxes_of
from tests.benchmarks.scans import outcomes, read_against, sheet_pages
from tests.builders.scans import Printed, filled, scanned

SEED = 20260514


@pytest.fixture(scope="module")
def pages() -> list[Printed]:
    return sheet_pages()


def saved(path, data: bytes):
    path.write_bytes(data)
    return path


def codes(findings) -> list[str]:
    return [finding.code for finding in findings]


def test_marks_read_as_sure_are_right_on_turned_blurred_shaded_scans(pages):
    sums = sum(outcomes(pages, 8, SEED), Counter())
    sure = sums["right"] + sums["missed"] + sums["invented"]
    assert sums["pages lost"] == 0
    assert sure > 1400
    assert sums["right"] >= 0.998 * sure


def test_nothing_is_invented_on_an_empty_sheet(pages):
    sums = sum(outcomes(pages, 4, SEED, share=0, strays=0), Counter())
    assert sums["invented"] == sums["pages lost"] == 0
    assert sums["right"] > 700


def test_the_layout_that_is_read_is_the_one_that_was_printed(pages, tmp_path):
    picture = io.BytesIO()
    pages[0].picture.save(picture, "PNG")
    read = read_scans([saved(tmp_path / "straight.png", picture.getvalue())]).pages[0]
    places = [(box.x * 200 / 72, box.y * 200 / 72) for box in boxes_of(read.paper)]
    assert np.allclose(places, [box[:2] for box in pages[0].boxes], atol=1.0)


def test_one_mark_alone_is_read_in_its_own_box(pages):
    page = Printed(pages[0].picture, pages[0].boxes[13:14])
    paper, _ = filled(page, Random(SEED), share=1.1, strays=0)
    told = read_against(scanned(paper, Random(SEED)), [at == 13 for at in range(len(pages[0].boxes))])
    assert told["right"] == len(pages[0].boxes)


def test_pages_of_a_pdf_upside_down_twice_and_of_something_else_are_told_apart(pages, tmp_path):
    chance = Random(SEED)
    made = [filled(page, chance)[0] for page in pages]
    images = [
        Image.open(io.BytesIO(scanned(paper, chance, upside_down=turned)))
        for paper, turned in ((made[1], True), (made[0], False), (made[0], False))
    ]
    images.append(Image.new("L", (1654, 2339), 240))
    images[0].save(tmp_path / "all.pdf", save_all=True, append_images=images[1:], resolution=200)
    broken = saved(tmp_path / "broken.jpg", b"no picture")
    found = read_scans([tmp_path / "all.pdf", broken])
    assert [page.paper.page for page in found.pages] == [1, 2]
    told = codes(found.findings)
    assert sorted(told) == sorted(
        ["round-scan.turned", "round-scan.twice", "round-scan.no-code", "round-scan.file"]
    )
    assert found.findings[0].where.sheet == "all.pdf, page 1"


def test_a_page_without_one_of_its_corners_is_read_and_without_two_is_refused(pages, tmp_path):
    page = pages[0].picture.copy()
    page.paste(255, (0, 0, 200, 200))
    page.save(tmp_path / "three.png")
    assert len(read_scans([tmp_path / "three.png"]).pages) == 1
    page.paste(255, (2100, 0, 2339, 200))
    page.save(tmp_path / "two.png")
    found = read_scans([tmp_path / "two.png"])
    assert not found.pages
    assert codes(found.findings) == ["round-scan.few-codes"]


def test_a_stroke_that_only_ends_in_a_box_is_asked_about(pages, tmp_path):
    from PIL import ImageDraw

    page = pages[0].picture.copy()
    left, top, right, low = pages[0].boxes[0]
    ImageDraw.Draw(page).line([(left - 60, low + 20), ((left + right) / 2, (top + low) / 2)], 40, 4)
    page.save(tmp_path / "stray.png")
    marks = read_scans([tmp_path / "stray.png"]).pages[0].marks
    assert not marks[0].sure
    assert all(mark.sure and mark.says is Says.BLANK for mark in marks[1:])


def test_the_projection_takes_a_square_to_any_quadrangle_and_back():
    # four points define it exactly; checked by putting them in
    square, seen = (
        [(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)],
        [(3.0, 8.0), (91.0, 2.0), (99.0, 96.0), (4.0, 88.0)],
    )
    a, b, c, d, e, f, g, h = projection(square, seen)
    for (x, y), place in zip(square, seen, strict=True):
        below = g * x + h * y + 1
        assert ((a * x + b * y + c) / below, (d * x + e * y + f) / below) == pytest.approx(place, abs=1e-6)
