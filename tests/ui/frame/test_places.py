"""Every place of the list: built, shown in both looks, in the smallest window and in the largest text."""

from __future__ import annotations

from collections.abc import Iterator
from importlib.util import find_spec

import pytest
from PySide6.QtWidgets import (
    QAbstractSpinBox,
    QApplication,
    QComboBox,
    QLineEdit,
    QPlainTextEdit,
    QTableView,
    QWidget,
)

from beeledger.ui.frame.registry import PLACES
from beeledger.ui.frame.window import Window
from beeledger.ui.widgets.field import Field
from beeledger.ui.widgets.painting import elisions
from tests.ui.frame.conftest import settle

KEYS = [entry.key for entry in PLACES]
INPUTS = (QLineEdit, QPlainTextEdit, QComboBox, QAbstractSpinBox, QTableView)


@pytest.fixture
def counted() -> Iterator[None]:
    elisions.clear()
    elisions.on = True
    yield
    elisions.on = False
    elisions.clear()


def test_every_place_of_the_list_is_there() -> None:
    missing = [key for key in KEYS if find_spec(f"beeledger.ui.places.{key}.place") is None]
    assert missing == []


@pytest.mark.parametrize("key", KEYS)
def test_a_place_shows_in_both_looks_and_its_table_of_chords_is_true(
    window: Window, qtbot: object, key: str
) -> None:
    window.open_place(key)
    settle(qtbot, window.desk)
    assert window.place.title == next(entry.title for entry in PLACES if entry.key == key)
    for name in ("light", "dark"):
        window.desk.change_settings(look=name)
        assert not window.grab().isNull()
    chords = [action.shortcut().toString() for action in window.place.commands()]
    assert len(chords) == len(set(chords)), "one chord, one command"
    assert all(action.text() for action in window.place.commands())
    assert window.place.help_text()
    window.help.toggle(window.place)
    shown = dict(row.split(": ", 1) for row in window.help.own.accessibleName().split("; ") if row)
    assert set(shown) == {chord.replace("+", " ") for chord in chords}, "F1 shows each of them"


@pytest.mark.parametrize("base_pt", [9.75, 16.0])
@pytest.mark.parametrize("key", KEYS)
def test_no_figure_is_cut_in_the_smallest_window(
    window: Window, qtbot: object, counted: None, key: str, base_pt: float
) -> None:
    window.desk.change_settings(base_pt=base_pt)
    window.resize(1366, 768)
    window.open_place(key)
    settle(qtbot, window.desk)
    QApplication.processEvents()
    elisions.clear()
    window.grab()
    assert elisions.cut == []
    assert (window.width(), window.height()) == (1366, 768), "the place has pushed the window open"


@pytest.mark.parametrize("key", KEYS)
def test_a_place_fits_the_smallest_window_without_scrolling(window: Window, qtbot: object, key: str) -> None:
    window.resize(1366, 768)
    window.open_place(key)
    settle(qtbot, window.desk)
    room, least = window.stack.size(), window.place.minimumSizeHint()
    assert least.width() <= room.width()
    assert least.height() <= room.height()


@pytest.mark.parametrize("key", KEYS)
def test_every_input_has_an_address(window: Window, qtbot: object, key: str) -> None:
    window.open_place(key)
    settle(qtbot, window.desk)
    nameless = [
        f"{type(piece).__name__} in {_place_of(piece)}"
        for piece in window.place.findChildren(QWidget)
        if isinstance(piece, INPUTS) and not _internal(piece) and not _addressed(piece)
    ]
    assert nameless == []


def _internal(piece: QWidget) -> bool:
    """Qt's own editor inside a drop-down or a figure field, and the list a drop-down opens."""
    above = piece.parentWidget()
    return (
        isinstance(above, QComboBox | QAbstractSpinBox) or type(above).__name__ == "QComboBoxPrivateContainer"
    )


def _addressed(piece: QWidget) -> bool:
    """By a name of its own, or of the field it is the input of."""
    above = piece.parentWidget()
    return bool(piece.objectName()) or (isinstance(above, Field) and bool(above.objectName()))


def _place_of(piece: QWidget) -> str:
    names = []
    above = piece.parentWidget()
    while above is not None and len(names) < 3:
        names.append(above.objectName() or type(above).__name__)
        above = above.parentWidget()
    return " < ".join(names)
