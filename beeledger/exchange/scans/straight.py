"""A page turned straight: corner codes found, the plane's projection solved, the picture warped and its light evened."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import zxingcpp
from numpy.typing import NDArray
from PIL import Image, ImageFilter

from beeledger.rules.rounds.paper import CODE, PAGE, code_corners
from beeledger.rules.rounds.paper_code import CORNERS, Corner, read_corner

DPI = 200
SCALE = DPI / 72
"""Pixels of the straight page to a point."""
SIZE = (round(PAGE[0] * SCALE), round(PAGE[1] * SCALE))
_QR = zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode)
_BLOCK = 32
"""Side of a patch whose paper white is taken, pixels: a little more than a box."""
_WHITE = 85
"""The percentile of a patch that is bare paper: most of a patch is."""

Grid = NDArray[np.float32]
Place = tuple[float, float]
Found = tuple[Corner, tuple[Place, ...]]
"""A corner code and where its own four corners lie in the picture."""


def corners_on(picture: Image.Image) -> list[Found]:
    """The corner codes of round sheets in a picture, each with the places of its own four corners.

    Where one is missing, each quarter is looked at again, larger: blur and noise hide a module of three pixels.
    """
    found = _codes(picture)
    if found and len({corner.corner for corner, _ in found}) == CORNERS:
        return found
    have = {(corner.sheet, corner.page, corner.corner) for corner, _ in found}
    for x, y in ((0, 0), (1, 0), (0, 1), (1, 1)):
        for corner, places in _codes_of_quarter(picture, x, y):
            if (corner.sheet, corner.page, corner.corner) not in have:
                have.add((corner.sheet, corner.page, corner.corner))
                found.append((corner, places))
    return found


def _codes_of_quarter(picture: Image.Image, x: int, y: int) -> list[Found]:
    wide, high = picture.width // 3, picture.height // 3
    left, top = x * (picture.width - wide), y * (picture.height - high)
    quarter = picture.crop((left, top, left + wide, top + high))
    larger = quarter.resize((wide * 2, high * 2), Image.Resampling.BICUBIC)
    seen = _codes(larger) or _codes(larger.filter(ImageFilter.GaussianBlur(2)))
    return [(corner, tuple((left + px / 2, top + py / 2) for px, py in places)) for corner, places in seen]


def _codes(picture: Image.Image) -> list[Found]:
    found = []
    for code in zxingcpp.read_barcodes(picture, _QR, try_invert=False):
        corner = read_corner(code.bytes)
        if corner is not None:
            at = code.position
            points = (at.top_left, at.top_right, at.bottom_right, at.bottom_left)
            found.append((corner, tuple((float(point.x), float(point.y)) for point in points)))
    return found


def paper_places(corner: int) -> tuple[Place, ...]:
    """Where the four corners of a code stand on the straight page, pixels."""
    x, y = (part * SCALE for part in code_corners()[corner])
    side = CODE * SCALE
    return ((x, y), (x + side, y), (x + side, y + side), (x, y + side))


def projection(paper: Sequence[Place], picture: Sequence[Place]) -> tuple[float, ...]:
    """The eight numbers that take places of the straight page to places of the picture.

    Least squares of the direct linear transformation with the last element 1, on places shifted and scaled
    about nought (R. Hartley, A. Zisserman, Multiple View Geometry, 2nd ed. 2004, algorithm 4.2: from memory).
    """
    to, shift_to = _normal(paper)
    from_, shift_from = _normal(picture)
    rows, wanted = [], []
    for (x, y), (u, v) in zip(to, from_, strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
        wanted += [u, v]
    solved, *_ = np.linalg.lstsq(np.array(rows), np.array(wanted), rcond=None)
    whole = np.linalg.inv(shift_from) @ np.append(solved, 1).reshape(3, 3) @ shift_to
    whole /= whole[2, 2]
    return tuple(float(one) for one in whole.ravel()[:8])


def _normal(places: Sequence[Place]) -> tuple[NDArray[Any], NDArray[Any]]:
    points = np.array(places, dtype=float)
    middle = points.mean(axis=0)
    size = np.abs(points - middle).mean() or 1.0
    shift = np.array([[1 / size, 0, -middle[0] / size], [0, 1 / size, -middle[1] / size], [0, 0, 1]])
    return (points - middle) / size, shift


def straightened(picture: Image.Image, found: Sequence[Found]) -> Image.Image:
    """The page seen square on, ``SIZE`` pixels."""
    paper = [place for corner, _ in found for place in paper_places(corner.corner)]
    seen = [place for _, places in found for place in places]
    numbers = projection(paper, seen)
    return picture.transform(
        SIZE, Image.Transform.PERSPECTIVE, numbers, Image.Resampling.BILINEAR, fillcolor=255
    )


def evened(page: Image.Image) -> Grid:
    """The page as shares of its own paper's white: 1 is bare paper, in shadow as in light."""
    grey = np.asarray(page, dtype=np.float32)
    high, wide = (side // _BLOCK * _BLOCK for side in grey.shape)
    patches = grey[:high, :wide].reshape(high // _BLOCK, _BLOCK, wide // _BLOCK, _BLOCK)
    flat = patches[:, ::2, :, ::2].transpose(0, 2, 1, 3).reshape(high // _BLOCK, wide // _BLOCK, -1)
    at = flat.shape[2] * _WHITE // 100
    white = np.partition(flat, at, axis=2)[:, :, at]
    smooth = Image.fromarray(np.maximum(white, 1.0).astype(np.float32), mode="F")
    spread = smooth.resize((wide, high), Image.Resampling.BILINEAR)
    even = np.ones_like(grey)
    even[:high, :wide] = grey[:high, :wide] / np.asarray(spread, dtype=np.float32)
    return even
