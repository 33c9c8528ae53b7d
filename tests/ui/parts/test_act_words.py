"""Acts in plain words, and panes that share the window."""

from __future__ import annotations

import pytest
from PySide6.QtWidgets import QWidget

from beeledger.ui.parts.act_words import act_words
from beeledger.ui.parts.side_panes import SidePanes


@pytest.mark.parametrize(
    ("kept", "said"),
    [
        ("Added the site Sedge Holt", "Added the site Sedge Holt"),
        ("Took back: Added the site Sedge Holt", "Took back: Added the site Sedge Holt"),
        ("Took back: Took back: Added the site Sedge Holt", "Brought again: Added the site Sedge Holt"),
        ("Took back: Took back: Took back: Added the site", "Took back: Added the site"),
    ],
)
def test_taking_back_what_was_taken_back_is_bringing_it_again(kept: str, said: str) -> None:
    assert act_words(kept) == said


@pytest.mark.parametrize(("width", "side"), [(1256, 400), (1000, 360), (600, 216)])
def test_the_narrower_pane_never_takes_more_than_its_share(
    qapp: object, qtbot: object, width: int, side: int
) -> None:
    beside = QWidget()
    panes = SidePanes(QWidget(), beside, wanted=400, most=36)
    qtbot.addWidget(panes)
    panes.resize(width, 300)
    panes.show()
    assert panes.sizes()[1] == side


def test_a_line_that_a_person_has_drawn_stays_where_it_is(qapp: object, qtbot: object) -> None:
    panes = SidePanes(QWidget(), QWidget(), wanted=400, most=36)
    qtbot.addWidget(panes)
    panes.resize(1256, 300)
    panes.show()
    panes.moveSplitter(600, 1)
    panes.splitterMoved.emit(600, 1)
    panes.resize(1257, 300)
    assert panes.sizes()[1] != 400
