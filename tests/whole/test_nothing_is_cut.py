"""Every place on a farm of some size: no figure is lost and no label clipped, in small windows and large text.

A sentence in a table's slack column may be shortened (its whole stands in the tooltip and on the card), but
never inside a figure: half of one would be another figure. Everything else that has figures is shown whole.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtWidgets import QAbstractButton, QApplication, QLabel, QScrollArea, QWidget

from beeledger.base.clock import FixedClock
from beeledger.ui.frame.app import make_desk
from beeledger.ui.frame.registry import PLACES
from beeledger.ui.frame.window import Window, dress
from beeledger.ui.widgets import look
from beeledger.ui.widgets.painting import elisions
from beeledger.ui.widgets.record_table import RecordTable
from beeledger.ui.widgets.section import SectionHead
from tests.builders.sample_farm import EVENING, sample_file, small_sample_file
from tests.ui.frame.conftest import settle

__all__ = ["sample_file", "small_sample_file"]

SIZES = [(9.75, 1440, 900), (9.75, 1366, 768), (16.0, 1440, 900), (16.0, 1366, 768)]
SCROLLS = {"today.table", "harvest.lots", "batches.table", "pollination.card.sources"}
"""Tables whose names and figures are wider than their pane at 16 pt even when all others have stepped out."""


@pytest.fixture
def window(sample_file: Path, qapp: QApplication, qtbot: Any) -> Iterator[Window]:
    """One window before the sample farm."""
    desk = make_desk(sample_file, FixedClock(EVENING))
    dress(desk)
    made = Window(desk)
    qtbot.addWidget(made)
    made.show()
    settle(qtbot, desk)
    yield made
    elisions.on = False
    elisions.clear()
    desk.close()
    look.apply(qapp, look.LIGHT)


def test_no_figure_is_lost_no_label_clipped_and_hardly_a_table_scrolls_sideways(
    window: Window, qtbot: Any
) -> None:
    faults: list[str] = []
    wide: dict[float, set[str]] = {}
    for base_pt, width, height in SIZES:
        window.desk.change_settings(base_pt=base_pt)
        window.resize(width, height)
        for entry in PLACES:
            window.open_place(entry.key)
            for _pass in range(4):  # what is read asks for more, and words of another size for another layout
                settle(qtbot, window.desk)
                QApplication.processEvents()
            where = f"{base_pt} pt, {width}, {entry.key}"
            faults += [f"{where}: {fault}" for fault in [*_cut(window), *_clipped(window.place)]]
            wide.setdefault(base_pt, set()).update(_scrolling(window.place))
    assert faults == []
    assert wide[9.75] == set()
    assert wide[16.0] <= SCROLLS


def _scrolling(place: QWidget) -> Iterator[str]:
    """The tables that scroll sideways."""
    for table in place.findChildren(RecordTable):
        if table.isVisible() and table.horizontalScrollBar().maximum():
            yield table.objectName()


def _cut(window: Window) -> list[str]:
    """What the painters of the window and of all that scrolls in the place had to leave out."""
    elisions.on = True
    elisions.clear()
    window.grab()
    sentences = set(_sentences(window.place))
    for area in window.place.findChildren(QScrollArea):
        inside = area.widget()
        if area.isVisible() and inside is not None:
            inside.grab()
    elisions.on = False
    lost = [text for text in elisions.figures if text not in sentences]
    return [f"cut: {text}" for text in dict.fromkeys([*elisions.cut, *lost])]


def _sentences(place: QWidget) -> Iterator[str]:
    """The texts of the slack columns."""
    for table in place.findChildren(RecordTable):
        slack = [at for at, column in enumerate(table.columns) if column.slack]
        for row in table.records.all_rows():
            for at in slack:
                yield row.cells[at].text
                yield row.cells[at].second
                yield from (run.text for run in row.cells[at].runs)


def _clipped(place: QWidget) -> Iterator[str]:
    """Labels and buttons with less room than their words need."""
    for piece in place.findChildren(QWidget):
        if not piece.isVisible() or isinstance(piece, SectionHead):
            continue
        if isinstance(piece, QLabel) and piece.text():
            narrow = not piece.wordWrap() and piece.width() < piece.sizeHint().width()
            low = piece.wordWrap() and piece.height() < piece.heightForWidth(piece.width())
            if narrow or low:
                yield f"clipped: {piece.text()}"
            continue
        if not isinstance(piece, QAbstractButton) or piece.width() >= piece.sizeHint().width():
            continue
        if re.search(r"\w", piece.text()):
            yield f"clipped: {piece.text()}"
