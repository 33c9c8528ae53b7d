"""Two-dimensional codes, drawn as one path of squares: GS1 DataMatrix for jars, QR codes in corners of sheets.

The symbol is written by zxing-cpp to ISO/IEC 16022; GS1 rules and the least module of retail
symbols are those of the GS1 General Specifications. QR codes are written to ISO/IEC 18004.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import zxingcpp
from reportlab.pdfgen.canvas import Canvas

from beeledger.reporting.look.fonts import MM
from beeledger.reporting.look.ink import ink

LEAST_MODULE_MM = 0.33
"""Own choice: decoded in every trial from 150 dpi up; a smaller one wants a better printer."""
QUIET_MODULES = 1
"""Quiet zone at each side of a DataMatrix, modules (ISO/IEC 16022)."""


@dataclass(frozen=True, slots=True)
class Symbol:
    """A square of modules; True is dark. Row 0 is the top."""

    rows: tuple[tuple[bool, ...], ...]

    @property
    def side(self) -> int:
        """Modules a side, without the quiet zone."""
        return len(self.rows)

    def side_mm(self, module_mm: float) -> float:
        """The side with its quiet zones, millimetres."""
        return (self.side + 2 * QUIET_MODULES) * module_mm


def gs1_datamatrix(elements: str) -> Symbol:
    """The symbol of a bracketed GS1 element string: "(01)…(15)…(10)…".

    Raises ValueError with the reason when the string keeps no GS1 rule of length or characters.
    Check digits and dates are the caller's to check.
    """
    try:
        code = zxingcpp.create_barcode(
            elements, zxingcpp.BarcodeFormat.DataMatrix, gs1=True, force_square=True
        )
    except (ValueError, RuntimeError) as error:
        raise ValueError(f"{elements!r} is no GS1 element string: {error}") from None
    return _symbol(code)


def qr(said: bytes) -> Symbol:
    """The QR code of bytes, as small as they allow; its level M mends 15 % (ISO/IEC 18004)."""
    return _symbol(zxingcpp.create_barcode(said, zxingcpp.BarcodeFormat.QRCode, ec_level="M"))


def _symbol(code: Any) -> Symbol:
    image: Any = zxingcpp.write_barcode_to_image(code, scale=1, add_quiet_zones=False)
    grey = memoryview(image)  # its stub does not say that it is a buffer
    high, wide = grey.shape or (0, 0)
    return Symbol(tuple(tuple(grey[y, x] < 128 for x in range(wide)) for y in range(high)))


def draw_symbol(canvas: Canvas, symbol: Symbol, x: float, y: float, module_mm: float) -> None:
    """Draw the symbol as one path; ``x``, ``y`` (points) is the lower left of its quiet zone."""
    module = module_mm * MM
    left = x + QUIET_MODULES * module
    top = y + (QUIET_MODULES + symbol.side) * module
    path = canvas.beginPath()
    for row, modules in enumerate(symbol.rows):
        start = None
        for column, dark in enumerate((*modules, False)):
            if dark and start is None:
                start = column
            elif not dark and start is not None:
                path.rect(left + start * module, top - (row + 1) * module, (column - start) * module, module)
                start = None
    canvas.setFillColor(ink("ink"))
    canvas.drawPath(path, stroke=0, fill=1)
