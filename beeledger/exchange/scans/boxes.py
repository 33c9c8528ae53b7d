"""Boxes measured: how much ink is in each, whether it only passes through, and what that says."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from beeledger.exchange.scans.records import Mark, Says
from beeledger.exchange.scans.straight import SCALE, Grid
from beeledger.rules.rounds.paper import BOX, BoxAt

_ROUND = 9
"""Pixels looked at around a box."""
_SEARCH = 4
"""A box may stand this far from where the corners say: paper is never quite flat."""
_INSET = 4
"""Pixels inside the frame's middle that are its own ink and blur."""
_OUT = (3, 6)
"""The ring outside the frame in which a stroke that leaves is seen."""
_DARK = 0.74
"""Ink is darker than this share of the paper's white."""
_SIDE = round(BOX * SCALE)
# Shares of the inside, measured on made scans (tests/benchmarks/scans.py): bare boxes stay under 0.012 and the
# thinnest pencil slash has 0.13.
_BARE, _CLEAR = 0.015, 0.08
_ENTERED, _CROSSED = 0.19, 0.31
"""A stroke that ends in a box, and one that runs through, holds less; marks that run over the frame hold more."""


def read_boxes(even: Grid, boxes: Sequence[BoxAt]) -> tuple[Mark, ...]:
    """Every box of a straight, evened page."""
    if not boxes:
        return ()
    patches = _patches(even, boxes)
    dark = patches < _DARK
    inside = dark[:, _ROUND + _INSET : _ROUND + _SIDE - _INSET, _ROUND + _INSET : _ROUND + _SIDE - _INSET]
    ink = inside.mean(axis=(1, 2))
    core = inside[:, 4:-4, 4:-4].mean(axis=(1, 2))
    ways = _ways_out(dark)
    return tuple(_judged(box, float(ink[at]), float(core[at]), int(ways[at])) for at, box in enumerate(boxes))


def _judged(box: BoxAt, ink: float, core: float, ways: int) -> Mark:
    if ink < _BARE:
        return Mark(box, Says.BLANK, 1 - 0.1 * ink / _BARE, ink)
    if ink < _CLEAR:
        middle = (_BARE + _CLEAR) / 2
        return Mark(box, Says.MARKED if ink > middle else Says.BLANK, 0.5, ink, "little ink")
    if (ways > 0 and ink < _ENTERED) or (ways > 1 and ink < _CROSSED):
        return Mark(box, Says.MARKED, 0.5, ink, "a line runs through or into it")
    if core == 0:
        return Mark(box, Says.BLANK, 0.5, ink, "ink only at the edge")
    return Mark(box, Says.MARKED, min(1.0, 0.9 + ink), ink)


def _patches(even: Grid, boxes: Sequence[BoxAt]) -> Grid:
    """Each box with its surroundings, its frame brought to the same place in all."""
    wide = _ROUND + _SEARCH
    x, y = (np.array([round(at * SCALE) - wide for at in side]) for side in _sides(boxes))
    rough = _cut(even, x, y, _SIDE + 2 * wide)
    dark = 1 - rough
    within = slice(wide, wide + _SIDE)
    return _cut(
        even, x + _shift(dark[:, within, :].mean(axis=1)), y + _shift(dark[:, :, within].mean(axis=2)),
        _SIDE + 2 * _ROUND,
    )  # fmt: skip


def _sides(boxes: Sequence[BoxAt]) -> tuple[list[float], list[float]]:
    return [box.x for box in boxes], [box.y for box in boxes]


def _cut(even: Grid, x: NDArray[np.int64], y: NDArray[np.int64], side: int) -> Grid:
    """Squares of ``side`` pixels whose upper left stands at x, y."""
    across = np.clip(x[:, None] + np.arange(side), 0, even.shape[1] - 1)
    down = np.clip(y[:, None] + np.arange(side), 0, even.shape[0] - 1)
    cut: Grid = even[down[:, :, None], across[:, None, :]]
    return cut


def _shift(profile: Grid) -> NDArray[np.int64]:
    """How far each frame stands from where it was looked for, ``_SEARCH`` added: where its two sides are darkest."""
    start = _ROUND
    scores = [
        np.minimum(
            profile[:, start + step] + profile[:, start + step + 1],
            profile[:, start + step + _SIDE] + profile[:, start + step + _SIDE - 1],
        )
        for step in range(2 * _SEARCH + 1)
    ]
    best: NDArray[np.int64] = np.argmax(np.stack(scores), axis=0)
    return best


def _ways_out(dark: NDArray[np.bool_]) -> NDArray[np.int64]:
    """On how many of its four sides ink leaves a box."""
    near, far = _OUT
    low, high = _ROUND - far, _ROUND + _SIDE + near
    along = slice(_ROUND - far, _ROUND + _SIDE + far)
    bands = (
        dark[:, low : low + far - near, along], dark[:, high : high + far - near, along],
        dark[:, along, low : low + far - near], dark[:, along, high : high + far - near],
    )  # fmt: skip
    ways: NDArray[np.int64] = np.stack([band.sum(axis=(1, 2)) >= 3 for band in bands]).sum(axis=0)
    return ways
