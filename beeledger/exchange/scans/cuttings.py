"""Pieces of a scanned page to be looked at: one box with its surroundings, one line, the head."""

from __future__ import annotations

import io

from PIL import Image, ImageDraw

from beeledger.exchange.scans.records import Mark, ScannedPage
from beeledger.exchange.scans.straight import SCALE, SIZE
from beeledger.rules.rounds.paper import BOX, MM, SIDE, edges

_ROUND_X, _ROUND_Y = 11 * MM, 3 * MM
_HEAD_UP, _HEAD_DOWN = 50.0, 27.0
"""The head to write on stands so far above the first row, points."""
_PARTS = ((0, 8), (8, 11), (11, 16))
"""Columns of one strip of a line, by their upright rules: three strips, one under the other."""


def box_picture(page: ScannedPage, mark: Mark) -> bytes:
    """A box with what is round it, framed so that it is seen which is meant, as PNG."""
    box = mark.box
    piece = _cut(page, box.x - _ROUND_X, box.y - _ROUND_Y, box.x + BOX + _ROUND_X, box.y + BOX + _ROUND_Y)
    left, top = (_ROUND_X - 3) * SCALE, (_ROUND_Y - 3) * SCALE
    shown = piece.convert("RGB")
    side = (BOX + 6) * SCALE
    ImageDraw.Draw(shown).rectangle((left, top, left + side, top + side), outline=(178, 60, 20), width=2)
    return _png(shown)


def line_picture(page: ScannedPage, row: int) -> bytes:
    """One line of the sheet as PNG, in strips one under the other so that handwriting is large enough to read."""
    _, top, high = next(one for one in page.paper.rows() if one[0] == row)
    places = [*edges(), 0.0]
    places[-1] = SIZE[0] / SCALE - 2 * SIDE
    strips = [
        _cut(page, SIDE + places[first], top - 2, SIDE + places[min(last, len(places) - 1)], top + high + 2)
        for first, last in _PARTS
    ]
    return _png(_stacked(strips))


def head_picture(page: ScannedPage) -> bytes:
    """What was written at the head of the sheet: date, crew, times, weather, in two strips."""
    top = page.paper.top / 10
    middle = SIZE[0] / SCALE / 2
    strips = [
        _cut(page, left, top - _HEAD_UP, left + middle - SIDE, top - _HEAD_DOWN) for left in (SIDE, middle)
    ]
    return _png(_stacked(strips))


def _cut(page: ScannedPage, left: float, top: float, right: float, low: float) -> Image.Image:
    places = [round(side * SCALE) for side in (left, top, right, low)]
    return page.straight.crop((places[0], places[1], places[2], places[3]))


def _stacked(strips: list[Image.Image]) -> Image.Image:
    whole = Image.new("L", (max(one.width for one in strips), sum(one.height + 6 for one in strips)), 255)
    down = 0
    for strip in strips:
        whole.paste(strip, (0, down))
        down += strip.height + 6
    return whole


def _png(picture: Image.Image) -> bytes:
    out = io.BytesIO()
    picture.save(out, "PNG")
    return out.getvalue()
