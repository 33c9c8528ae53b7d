"""Codes on paper, read back with zxing-cpp as a scanner and biip as the GS1 reader."""

from __future__ import annotations

from datetime import date
from io import BytesIO

import biip
import pytest
import zxingcpp
from biip.symbology import SymbologyIdentifier
from PIL import Image
from reportlab.pdfgen.canvas import Canvas

from beeledger.reporting.drawing.codes import LEAST_MODULE_MM, draw_symbol, gs1_datamatrix
from beeledger.reporting.pictures import page_picture

# The GTIN is the example of the GS1 General Specifications family 5012345678900: check digit 0.
ELEMENTS = "(01)05012345678900(15)280500(10)T26-031"


def drawn(module_mm: float, dpi: float) -> Image.Image:
    buffer = BytesIO()
    canvas = Canvas(buffer, pagesize=(200, 200), invariant=1)
    draw_symbol(canvas, gs1_datamatrix(ELEMENTS), 40, 60, module_mm)
    canvas.save()
    picture = page_picture(buffer.getvalue(), 0, dpi)
    return Image.frombytes("RGBA", (picture.width, picture.height), picture.rgba).convert("L")


@pytest.mark.parametrize(("module_mm", "dpi"), [(LEAST_MODULE_MM, 300), (0.4, 300), (0.5, 200)])
def test_a_drawn_code_is_read_back_as_gs1(module_mm, dpi):
    (found,) = zxingcpp.read_barcodes(drawn(module_mm, dpi))
    assert (found.format, found.symbology_identifier) == (zxingcpp.BarcodeFormat.DataMatrix, "]d2")
    message = biip.parse("]d2" + found.bytes.decode()).gs1_message
    assert message is not None
    article, before, lot = message.element_strings
    assert (article.value, article.gtin.value) == ("05012345678900", "05012345678900")
    assert not article.gtin_error
    assert before.date == date(2028, 5, 31)  # day 00 is the last of the month
    assert lot.value == "T26-031"


def test_biip_reads_the_symbology_as_gs1_datamatrix():
    assert SymbologyIdentifier.extract("]d2010501").gs1_symbology is not None


def test_the_symbol_is_square_with_its_quiet_zone_on_each_side():
    symbol = gs1_datamatrix(ELEMENTS)
    assert all(len(row) == symbol.side for row in symbol.rows)
    assert symbol.side_mm(0.5) == pytest.approx((symbol.side + 2) * 0.5)
    # ISO/IEC 16022: the left and the lower edge are solid, the others alternate
    assert all(row[0] for row in symbol.rows)
    assert all(symbol.rows[-1])
    assert list(symbol.rows[0]) == [column % 2 == 0 for column in range(symbol.side)]


@pytest.mark.parametrize("elements", ["(01)123", "(99", "T26-031", "(10)ŵ", ""])
def test_what_is_no_element_string_is_refused_with_a_sentence(elements):
    with pytest.raises(ValueError, match="is no GS1 element string"):
        gs1_datamatrix(elements)
