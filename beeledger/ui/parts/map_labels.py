"""Where the names of the sites stand on the map: beside their shape, off the other shapes and the other names."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRectF


@dataclass(frozen=True, slots=True)
class Wanted:
    """A name that wants a place: beside which shape, and how large it is."""

    key: Hashable
    x: float
    y: float
    radius: float
    width: float
    height: float


_Box = tuple[float, float, float, float]
"""Left, top, right, bottom."""


def place_labels(
    wanted: Sequence[Wanted], taken: Iterable[QRectF], room: QRectF, gap: float = 5
) -> dict[Hashable, QRectF]:
    """A place for each name, in the order given; a name without room gets none."""
    shapes = {one.key: _shape(one) for one in wanted}
    used = [_box(rect) for rect in taken]
    placed: dict[Hashable, QRectF] = {}
    for one in wanted:
        # Only what is near can be in the way: eighty sites would else be eighty times eighty comparisons.
        around = _around(one, gap)
        near = [shape for key, shape in shapes.items() if key != one.key and _meet(shape, around)]
        near += [box for box in used if _meet(box, around)]
        for rect in _candidates(one, gap):
            if room.contains(rect) and not any(_meet(_box(rect), other) for other in near):
                placed[one.key] = rect
                used.append(_box(rect.adjusted(-2, -1, 2, 1)))
                break
    return placed


def _box(rect: QRectF) -> _Box:
    return rect.left(), rect.top(), rect.right(), rect.bottom()


def _meet(one: _Box, other: _Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _shape(one: Wanted) -> _Box:
    return one.x - one.radius, one.y - one.radius, one.x + one.radius, one.y + one.radius


def _around(one: Wanted, gap: float) -> _Box:
    wide, high = one.radius + gap + one.width, one.radius + one.height + 5
    return one.x - wide, one.y - high, one.x + wide, one.y + high


def _candidates(one: Wanted, gap: float) -> list[QRectF]:
    right, left = one.x + one.radius + gap, one.x - one.radius - gap - one.width
    middle, above, below = one.y - one.height / 2, one.y - one.radius - one.height, one.y + one.radius
    corners = (
        (right, middle), (left, middle), (one.x - one.width / 2, below + 1), (one.x - one.width / 2, above - 1),
        (right - 3, above + 4), (right - 3, below - 4), (left + 3, above + 4), (left + 3, below - 4),
    )  # fmt: skip
    return [QRectF(x, y, one.width, one.height) for x, y in corners]
