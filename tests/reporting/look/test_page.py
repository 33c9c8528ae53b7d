"""The page: foot, running head, the document's own facts."""

from __future__ import annotations

import re
from dataclasses import replace

import pypdfium2
import pytest

from beeledger.reporting.look.page import LANDSCAPE, PORTRAIT, Heading, build, made_words
from beeledger.reporting.look.text import Lines
from beeledger.reporting.pictures import page_count, page_picture, page_text
from tests.reporting.examples import FARM, HOSTILE, MADE

HEADING = Heading("trial-report", "Trial report", "Withy Bank", "1 to 31 May 2026")
LONG = "Nothing happened. " * 900


def test_each_page_says_which_it_is_of_how_many_and_carries_the_key():
    pdf = build(HEADING, FARM, MADE, [Lines(LONG)])
    count = page_count(pdf)
    assert count >= 3
    for page in range(count):
        assert f"trial-report · page {page + 1} of {count}" in page_text(pdf, page)


def test_the_foot_says_when_and_from_which_data():
    assert made_words(MADE) == "Made Tue 2 Jun 2026, 18:40 · from tarrow.db, act 4,211 · RH"
    assert made_words(MADE) in page_text(build(HEADING, FARM, MADE, []))


def test_the_pages_after_the_first_repeat_title_and_farm():
    text = page_text(build(HEADING, FARM, MADE, [Lines(LONG)]), 1)
    assert "Trial report · Withy Bank · 1 to 31 May 2026" in text
    assert "Tarrow Bees" in text


@pytest.mark.parametrize("paper", [PORTRAIT, LANDSCAPE])
def test_the_same_data_make_the_same_bytes_and_another_moment_others(paper):
    first = build(HEADING, FARM, MADE, [Lines(LONG)], paper)
    assert build(HEADING, FARM, MADE, [Lines(LONG)], paper) == first
    assert build(HEADING, FARM, replace(MADE, act=4212), [Lines(LONG)], paper) != first


def test_the_file_knows_its_title_and_the_moment_of_its_data():
    document = pypdfium2.PdfDocument(build(HEADING, FARM, MADE, []))
    try:
        facts = document.get_metadata_dict()
    finally:
        document.close()
    assert facts["Title"] == "Trial report Withy Bank"
    assert facts["CreationDate"] == "D:20260602184000+01'00'"


def test_a_hostile_farm_and_title_come_out_whole_and_within_the_margins():
    farm = replace(FARM, name=HOSTILE, address=(HOSTILE, HOSTILE))
    pdf = build(
        Heading("trial", HOSTILE, HOSTILE, HOSTILE, HOSTILE), farm, replace(MADE, source="s" * 150), []
    )
    text = "".join(page_text(pdf).split())
    assert text.count("x" * 30) >= 6
    assert "<b>TŷGŵyn</b>&Sons=1+1" in text
    picture = page_picture(pdf, 0, 50)
    edge = int(10 / 25.4 * 50)
    row = picture.width * 4
    right = b"".join(
        picture.rgba[y * row + (picture.width - edge) * 4 : (y + 1) * row] for y in range(picture.height)
    )
    assert set(right) == {255}


def test_every_font_is_embedded_and_is_inter():
    pdf = build(HEADING, FARM, MADE, [Lines("Tŷ Gŵyn")])
    names = set(re.findall(rb"/BaseFont /(\S+)", pdf))
    assert names
    assert all(re.fullmatch(rb"[A-Z]{6}\+Inter-\w+", name) for name in names)
    assert pdf.count(b"/FontFile2") == len(names)
