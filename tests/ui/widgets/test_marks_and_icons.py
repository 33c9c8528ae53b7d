"""Marks and icons: told apart by shape alone, sharp at any size."""

from __future__ import annotations

import itertools

import pytest
from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QImage, QPainter

from beeledger.ui.widgets import icons, look
from beeledger.ui.widgets.marks import Mark, paint_disc, paint_mark


def drawn(draw: object, side: int = 20) -> QImage:
    image = QImage(side, side, QImage.Format.Format_RGB32)
    image.fill(QColor(look.current().paper))
    painter = QPainter(image)
    try:
        draw(painter, QRectF(0, 0, side, side))
    finally:
        painter.end()
    return image


def touched(image: QImage) -> frozenset[tuple[int, int]]:
    ground = QColor(look.current().paper)
    return frozenset(
        (x, y)
        for x in range(image.width())
        for y in range(image.height())
        if _far(image.pixelColor(x, y), ground)
    )


def _far(one: QColor, other: QColor) -> bool:
    return (
        abs(one.red() - other.red()) + abs(one.green() - other.green()) + abs(one.blue() - other.blue()) > 90
    )


def covered(image: QImage) -> list[int]:
    """How much ink lies on each pixel, edges by their share."""
    ground = QColor(look.current().paper).lightness()
    return [
        ground - image.pixelColor(x, y).lightness()
        for x in range(image.width())
        for y in range(image.height())
    ]


def test_marks_are_told_apart_by_shape_in_one_ink(qapp: object) -> None:
    shapes = {mark: covered(drawn(lambda p, r, m=mark: paint_mark(p, r, m, "ink"))) for mark in Mark}
    for one, other in itertools.combinations(Mark, 2):
        pairs = list(zip(shapes[one], shapes[other], strict=True))
        apart = sum(abs(a - b) for a, b in pairs) / sum(max(a, b) for a, b in pairs)
        assert apart > 0.12, (one, other, apart)


def test_every_mark_has_its_own_word(qapp: object) -> None:
    assert len({mark.words for mark in Mark}) == len(Mark)


def test_a_queens_disc_is_filled_with_its_colour_and_outlined(qapp: object) -> None:
    for word, colour in look.QUEEN_MARKS.items():
        image = drawn(lambda p, r, w=word: paint_disc(p, r, w))
        assert image.pixelColor(10, 10) == QColor(colour)
        assert _far(image.pixelColor(10, 0), QColor(look.current().paper))


def test_there_is_no_disc_for_a_colour_outside_the_code(qapp: object) -> None:
    with pytest.raises(KeyError):
        drawn(lambda p, r: paint_disc(p, r, "purple"))


PLACES = [
    "today",
    "rounds",
    "sites",
    "colonies",
    "queens",
    "harvest",
    "batches",
    "dispatch",
    "pollination",
    "moves",
    "stock",
    "medicines",
    "reports",
    "history",
    "settings",
]


def test_every_place_has_an_icon_and_no_two_are_alike(qapp: object) -> None:
    assert set(PLACES) <= set(icons.NAMES)
    for name in ("search", "filter", "back", "forward", "undo", "print", "plus", "close", "fold"):
        assert name in icons.NAMES
    pictures = [touched(drawn(lambda p, r, n=name: icons.paint_icon(p, r, n), 32)) for name in icons.NAMES]
    assert len(set(pictures)) == len(pictures)
    assert all(len(picture) > 20 for picture in pictures)


@pytest.mark.parametrize("name", icons.NAMES)
def test_an_icon_stays_within_its_grid(qapp: object, name: str) -> None:
    box = icons.icon_path(name).boundingRect()
    half = icons.STROKE / 2
    assert box.left() >= half
    assert box.top() >= half
    assert box.right() <= icons.GRID - half
    assert box.bottom() <= icons.GRID - half


def test_an_icon_follows_the_look(qapp: object) -> None:
    made = icons.icon("plus", "ink")
    light = made.pixmap(QSize(32, 32)).toImage().pixelColor(16, 16)
    try:
        look.apply(qapp, look.DARK)
        dark = made.pixmap(QSize(32, 32)).toImage().pixelColor(16, 16)
    finally:
        look.apply(qapp, look.LIGHT)
    assert (light.name().upper(), dark.name().upper()) == (look.LIGHT.ink, look.DARK.ink)


def test_an_icon_fills_a_pixmap_of_any_size_sharply(qapp: object) -> None:
    for side in (16, 20, 24, 32):
        image = icons.icon("plus", "ink").pixmap(QSize(side, side)).toImage()
        assert image.pixelColor(image.width() // 2, image.height() // 2).alpha() > 150
        assert image.pixelColor(0, 0) == QColor(Qt.GlobalColor.transparent)
