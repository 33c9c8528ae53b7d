"""What places with a table and a card share: chords, forms that stay when refused, and which row is chosen."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt

from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.settings import DeskSettings
from beeledger.database.audit import OpenAct
from beeledger.database.ledger import Ledger
from beeledger.operations.drafts import DraftStore
from beeledger.ui.desk.desk import Desk
from beeledger.ui.parts.table_place import PaperPlace, known, shown_lines
from beeledger.ui.parts.typed_form import TypedForm
from beeledger.ui.widgets.cells import Cell, Column, Row
from beeledger.ui.widgets.field import Field
from beeledger.ui.widgets.filter_box import FilterBox
from beeledger.ui.widgets.panes import Band, Panes, Stack
from beeledger.ui.widgets.record_table import RecordTable
from beeledger.ui.widgets.words import Words


class Sheds(PaperPlace):
    """A place with three rows."""

    key = "sheds"
    title = "Sheds"

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.take_table(RecordTable([Column("name", "Shed")]), FilterBox("Shed"))
        self.take_card(Words("card"))
        self.asked_for = 0
        self.new = self.button("new", "New", self.ask_for)
        band = Band(self.filter, right=[self.new])
        self.fill_front(Panes(Stack(band, self.table, grows=self.table), self.side))
        self.command("Ctrl+N", "a new shed", self.ask_for)
        self.command("Ctrl+R", "in the form")

    def ask_for(self) -> None:
        """Counts how often it was asked."""
        self.asked_for += 1


def _name_shed(act: OpenAct, street: str, name: str) -> str:
    if not name:
        raise Refused([Finding("shed.name", Grade.REFUSED, "a shed needs a name", "", Where(field="name"))])
    act.result = f"{name} in {street}"
    return "Named a shed"


@pytest.fixture
def sheds(sqlite_ledger: Ledger, qtbot: Any, tmp_path: Path) -> Iterator[Sheds]:
    """The place in front, with its rows."""
    folder = tmp_path / "desk"
    folder.mkdir()
    drafts = DraftStore(folder, "ledger", sqlite_ledger.clock)
    desk = Desk(sqlite_ledger, drafts, DeskSettings(), folder / "desk.json")
    place = Sheds(desk)
    place.show()
    place.activateWindow()
    qtbot.waitUntil(place.isActiveWindow)
    place.table.set_rows([Row(number, (Cell(name),)) for number, name in enumerate(("Barn", "Byre", "Loft"))])
    yield place
    place.hide()
    place.deleteLater()
    desk.workers.stop()
    desk.drafts.close()


def test_a_chord_acts_and_is_told_of_and_one_of_a_form_is_only_told_of(sheds: Sheds, qtbot: Any) -> None:
    sheds.table.setFocus()
    qtbot.keyClick(sheds.table, Qt.Key.Key_N, Qt.KeyboardModifier.ControlModifier)
    qtbot.keyClick(sheds.table, Qt.Key.Key_R, Qt.KeyboardModifier.ControlModifier)
    sheds.new.click()
    assert sheds.asked_for == 2
    told = [(action.shortcut().toString(), action.text()) for action in sheds.commands()]
    assert told == [("Ctrl+N", "a new shed"), ("Ctrl+R", "in the form")]
    assert (sheds.new.objectName(), sheds.table.objectName()) == ("sheds.new", "sheds.table")


def test_a_form_that_is_refused_stays_and_one_that_is_done_is_left(sheds: Sheds, qtbot: Any) -> None:
    form = TypedForm("A shed", "Save", lambda typed: typed.text("name"), sheds.desk.clock.today())
    form.add("name", Field("Name"))
    done: list[Any] = []
    sheds.front.setCurrentWidget(sheds.paper)
    sheds.ask(form, "form", _name_shed, "Lane", then=done.append)
    assert sheds.front.currentIndex() == 0
    assert form.fields["name"].objectName() == "sheds.form.name"
    form.submit()
    qtbot.waitUntil(lambda: sheds.desk.workers.waiting == 0)
    assert sheds.side.form() is form
    assert form.asked == {"shed.name"}
    form.set_values({"name": "Hut"})
    assert form.asked == frozenset()
    form.submit()
    qtbot.waitUntil(lambda: bool(done))
    assert done[0].result == "Hut in Lane"
    assert sheds.side.form() is None


def test_the_wanted_row_is_chosen_else_the_first_where_none_is(sheds: Sheds) -> None:
    sheds.choose(9)
    assert sheds.table.chosen() == [0]
    sheds.choose(2)
    assert sheds.table.chosen() == [2]
    sheds.choose()
    assert sheds.table.chosen() == [2]


def test_lines_are_those_that_are_known_and_shown(sheds: Sheds) -> None:
    lines = {0: "barn", 2: "loft"}
    assert known(lines, [2, 1, "0", 0]) == ["loft", "barn"]
    sheds.filter.setText("o")
    assert shown_lines(lines, sheds.table) == ["loft"]
