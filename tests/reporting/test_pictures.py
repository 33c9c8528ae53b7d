"""Pages as pictures."""

from __future__ import annotations

from io import BytesIO

import pytest
from PIL import Image
from reportlab.pdfgen.canvas import Canvas

from beeledger.reporting.pictures import joined, page_count, page_picture, page_pictures


@pytest.fixture
def two_pages() -> bytes:
    buffer = BytesIO()
    canvas = Canvas(buffer, pagesize=(72, 36), invariant=1)
    canvas.setFillColorRGB(1, 0, 0)
    canvas.rect(0, 0, 36, 36, stroke=0, fill=1)
    canvas.showPage()
    canvas.showPage()
    canvas.save()
    return buffer.getvalue()


def test_a_page_is_drawn_on_white_with_its_colours_in_order(two_pages):
    picture = page_picture(two_pages, 0, 72)
    assert (picture.width, picture.height) == (72, 36)
    assert picture.rgba[:4] == bytes([255, 0, 0, 255])
    assert picture.rgba[-4:] == bytes([255, 255, 255, 255])
    assert len(picture.rgba) == 72 * 36 * 4


def test_an_odd_width_leaves_no_padding_between_rows(two_pages):
    picture = page_picture(two_pages, 0, 73.5)
    assert len(picture.rgba) == picture.width * picture.height * 4


def test_every_page_comes_in_turn_and_no_other(two_pages):
    assert page_count(two_pages) == 2
    assert len(list(page_pictures(two_pages, 36))) == 2
    with pytest.raises(IndexError, match="no page 3"):
        page_picture(two_pages, 2)


def test_a_png_reads_back_the_same(two_pages):
    image = Image.open(BytesIO(page_picture(two_pages, 0, 144).png(144)))
    assert image.size == (144, 72)
    assert (image.getpixel((1, 1)), image.getpixel((140, 1))) == ((255, 0, 0), (255, 255, 255))


def test_several_documents_become_one_in_their_order(two_pages):
    buffer = BytesIO()
    canvas = Canvas(buffer, pagesize=(100, 50), invariant=1)
    canvas.showPage()
    canvas.save()
    whole = joined([buffer.getvalue(), two_pages])
    assert page_count(whole) == 3
    assert [page.width for page in page_pictures(whole, 72)] == [100, 72, 72]


def test_no_documents_cannot_become_one():
    with pytest.raises(ValueError, match="no pages"):
        joined([])
