"""The pages of image and PDF files as grey pictures."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pypdfium2
from PIL import Image, ImageOps, ImageSequence

from beeledger.base.errors import CannotNow

PDF_DPI = 200
ENDINGS = (".pdf", ".jpg", ".jpeg", ".png", ".tif", ".tiff")
_MOST_PIXELS = 60_000_000
"""A phone's photograph has 12 to 50 million; more is no photograph of a sheet."""


def pictures_of(path: Path) -> Iterator[tuple[str, Image.Image]]:
    """Each page of a file with its name in words. CannotNow when the file is not one of pictures."""
    try:
        if path.suffix.lower() == ".pdf":
            yield from _pages(path)
        else:
            yield from _frames(path)
    except (OSError, ValueError, SyntaxError, pypdfium2.PdfiumError, Image.DecompressionBombError):
        raise CannotNow(
            f"{path.name} cannot be read as a picture.", "Scan the sheet as PDF, JPEG or PNG, and read that."
        ) from None


def _pages(path: Path) -> Iterator[tuple[str, Image.Image]]:
    document = pypdfium2.PdfDocument(path)
    try:
        for number in range(len(document)):
            page = document[number]
            wide, high = page.get_size()
            scale = min(PDF_DPI / 72, (_MOST_PIXELS / max(wide * high, 1)) ** 0.5)
            name = path.name if len(document) == 1 else f"{path.name}, page {number + 1}"
            yield name, page.render(scale=scale, grayscale=True).to_pil().convert("L")
    finally:
        document.close()


def _frames(path: Path) -> Iterator[tuple[str, Image.Image]]:
    with Image.open(path) as opened:
        many = getattr(opened, "n_frames", 1)
        for number, frame in enumerate(ImageSequence.Iterator(opened), start=1):
            if frame.width * frame.height > _MOST_PIXELS:
                raise ValueError("too large")
            name = path.name if many == 1 else f"{path.name}, page {number}"
            yield name, ImageOps.exif_transpose(frame).convert("L")
