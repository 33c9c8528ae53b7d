"""The card of a colony: the fact behind a reason, what is put off, tasks, and what if; all by keyboard."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from beeledger.database.ledger import Ledger
from beeledger.model.due import PutOff, Task
from beeledger.operations.act import perform
from beeledger.operations.putting_off import PuttingOff, put_off_due
from beeledger.queries.records.round_desk import RoundKey
from tests.builders.yards import LOOKED, Yard, rows, whole, yard
from tests.ui.places.colonies.test_work import begin, press
from tests.ui.places.sitting import Seat, seated


@pytest.fixture
def drove(sqlite_ledger: Ledger) -> Yard:
    place = yard(sqlite_ledger, "Long Drove", "3", "7", "12")
    place.post(date(2026, 5, 5), h3=LOOKED, h7=LOOKED)
    return place


@pytest.fixture
def seat(drove: Yard, qtbot, tmp_path) -> Iterator[Seat]:
    with seated(drove.ledger, "colonies", qtbot, tmp_path / "desk") as found:
        found.place.table.choose([drove.hives["3"]])
        found.settle()
        yield found


def due_names(seat: Seat) -> list[str]:
    return [fact.name for fact in seat.place.card.due.facts()]


def test_enter_on_a_reason_goes_to_the_visit_it_follows_from(seat: Seat):
    opened = []
    seat.place.desk.opened.connect(lambda place, what: opened.append((place, what)))
    at = due_names(seat).index("Look for queen cells")
    seat.place.card.due.opened.emit(at)
    visit = seat.place.shown.visits[0]
    assert opened == [("rounds", RoundKey(visit.round_id))]


def test_what_is_put_off_stands_in_the_story(seat: Seat, drove: Yard):
    begin(seat, drove, "put_off", "3", "7", until="25 May", note="rain", by_whom="RS")
    press(seat)
    assert len(rows(drove.ledger, PutOff)) == 2
    seat.place.table.choose([drove.hives["3"]])
    seat.settle()
    (fact,) = seat.place.card.put_off.facts()
    assert (fact.name, fact.middle) == ("14 May  RS", "swarm check of 12 May put off to 25 May: rain")


def test_a_task_is_asked_for_and_done_by_keys(seat: Seat, drove: Yard):
    begin(seat, drove, "task", "3", what="mend the roof", due_on="16 May")
    press(seat)
    seat.place.table.choose([drove.hives["3"]])
    seat.settle()
    seat.place.card.due.opened.emit(due_names(seat).index("Mend the roof"))
    seat.settle()
    press(seat)
    assert [row.done_on for row in rows(drove.ledger, Task)] == [date(2026, 5, 14)]
    seat.settle()
    assert "Mend the roof" not in due_names(seat)


def test_what_if_reckons_as_typed_with_sources_and_writes_nothing(seat: Seat, drove: Yard):
    before, box = whole(drove.ledger), seat.place.card.what_if
    head = seat.place.card.reckoned.head
    assert head.isVisible()
    QTest.keyClick(head, Qt.Key.Key_Space)  # unfolds it
    assert box.isVisible()
    assert box.steps[1].figure == "4.42 kg"  # 5 l of 2:1 hold 4.42 kg of sugar
    box.first.editor.selectAll()
    QTest.keyClicks(box.first.editor, "10")
    assert box.steps[1].figure == "8.85 kg"
    box.question.editor.setFocus()
    QTest.keyClick(box.question.editor, Qt.Key.Key_Down)  # a wash or roll found
    box.first.set_value("12")
    assert (box.steps[0].figure, box.steps[1].figure) == ("4.0 %", "decide on a treatment")
    box.question.set_value("hatched")
    box.day.set_value("13 Jun")
    assert [step.figure for step in box.steps if step.words == "she lays about"] == ["25 Jun 2026"]
    box.question.set_value("dropped")
    box.first.set_value("")
    assert (box.steps, box.said.text()) == ((), "type a figure")
    assert whole(drove.ledger) == before


def test_what_is_put_off_elsewhere_is_not_on_this_card(seat: Seat, drove: Yard):
    perform(drove.ledger, put_off_due, PuttingOff(date(2026, 5, 25), "rain", colony_ids=(drove.hives["7"],)))
    seat.place.table.choose([drove.hives["3"]])
    seat.settle()
    assert seat.place.card.put_off.facts() == ()
