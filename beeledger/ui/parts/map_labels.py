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


def place_labels(
    wanted: Sequence[Wanted], taken: Iterable[QRectF], room: QRectF, gap: float = 5
) -> dict[Hashable, QRectF]:
    """A place for each name, in the order given; a name without room gets none."""
    shapes = {one.key: _shape(one) for one in wanted}
    used = list(taken)
    placed: dict[Hashable, QRectF] = {}
    for one in wanted:
        others = [shape for key, shape in shapes.items() if key != one.key]
        for rect in _candidates(one, gap):
            if room.contains(rect) and not any(rect.intersects(other) for other in (*others, *used)):
                placed[one.key] = rect
                used.append(rect.adjusted(-2, -1, 2, 1))
                break
    return placed


def _shape(one: Wanted) -> QRectF:
    return QRectF(one.x - one.radius, one.y - one.radius, 2 * one.radius, 2 * one.radius)


def _candidates(one: Wanted, gap: float) -> list[QRectF]:
    right, left = one.x + one.radius + gap, one.x - one.radius - gap - one.width
    middle, above, below = one.y - one.height / 2, one.y - one.radius - one.height, one.y + one.radius
    corners = (
        (right, middle), (left, middle), (one.x - one.width / 2, below + 1), (one.x - one.width / 2, above - 1),
        (right - 3, above + 4), (right - 3, below - 4), (left + 3, above + 4), (left + 3, below - 4),
    )  # fmt: skip
    return [QRectF(x, y, one.width, one.height) for x, y in corners]
