"""Pages of a PDF as pictures, for the preview on screen, for printing and for the tests that look."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from io import BytesIO

import pypdfium2

_POINTS_AN_INCH = 72


@dataclass(frozen=True, slots=True)
class Picture:
    """One page, eight bits each of red, green, blue and a full alpha, row by row from the top."""

    width: int
    height: int
    rgba: bytes

    def png(self, dpi: float = 0) -> bytes:
        """The picture as a PNG file; ``dpi`` is written into it where it is given."""
        from PIL import Image  # noqa: PLC0415  # start-up time: previews need no PNG

        buffer = BytesIO()
        image = Image.frombytes("RGBA", (self.width, self.height), self.rgba).convert("RGB")
        image.save(buffer, "PNG", **({"dpi": (dpi, dpi)} if dpi else {}))
        return buffer.getvalue()


def page_count(pdf: bytes) -> int:
    """How many pages a PDF has."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        return len(document)
    finally:
        document.close()


def page_picture(pdf: bytes, page: int = 0, dpi: float = 96) -> Picture:
    """One page (from 0) on white paper at ``dpi``; IndexError when there is no such page."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        if not 0 <= page < len(document):
            raise IndexError(f"there is no page {page + 1}")
        return _render(document, page, dpi)
    finally:
        document.close()


def page_pictures(pdf: bytes, dpi: float = 96) -> Iterator[Picture]:
    """Every page in turn."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        for page in range(len(document)):
            yield _render(document, page, dpi)
    finally:
        document.close()


def joined(pdfs: Iterable[bytes]) -> bytes:
    """Several PDFs as one, in their order; ValueError when there are none."""
    whole = pypdfium2.PdfDocument.new()
    try:
        for pdf in pdfs:
            part = pypdfium2.PdfDocument(pdf)
            try:
                whole.import_pages(part)
            finally:
                part.close()
        if not len(whole):
            raise ValueError("there are no pages to join")
        buffer = BytesIO()
        whole.save(buffer)
        return buffer.getvalue()
    finally:
        whole.close()


def page_text(pdf: bytes, page: int = 0) -> str:
    """The text of one page, for search and for tests."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        return str(document[page].get_textpage().get_text_bounded())
    finally:
        document.close()


def codes_on(pdf: bytes, page: int = 0, dpi: float = 300) -> list[str]:
    """What a scanner reads from the codes printed on a page."""
    import zxingcpp  # noqa: PLC0415  # start-up time: only the self-test reads codes
    from PIL import Image  # noqa: PLC0415

    picture = page_picture(pdf, page, dpi)
    image = Image.frombytes("RGBA", (picture.width, picture.height), picture.rgba).convert("L")
    return [found.bytes.decode("ascii", "replace") for found in zxingcpp.read_barcodes(image)]


def _render(document: pypdfium2.PdfDocument, page: int, dpi: float) -> Picture:
    bitmap = document[page].render(scale=dpi / _POINTS_AN_INCH, rev_byteorder=True, force_bitmap_format=4)
    # format 4 is PDFium's BGRA; with the order reversed the bytes stand as RGBA. The bitmap is
    # filled white first, and its memory goes with it, so the bytes are copied out.
    width, height, stride = bitmap.width, bitmap.height, bitmap.stride
    data = bytes(bitmap.buffer)
    if stride != 4 * width:
        data = b"".join(data[row * stride : row * stride + 4 * width] for row in range(height))
    return Picture(width, height, data)
