"""Acts on colonies at the desk, by keyboard: one hive or several, asked about where the record speaks against them."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from beeledger.database.ledger import Ledger
from beeledger.model.colonies import BoxStack, Colony, ColonyTransfer
from beeledger.model.feeding import Feeding
from beeledger.model.medicines import Treatment
from beeledger.model.queens import Tenure
from beeledger.operations.act import perform
from beeledger.operations.colonies import end_colonies
from beeledger.rules.rounds.entry import Entry
from beeledger.ui.places.colonies.work import WAYS
from tests.builders.yards import DAY, Yard, rows, sound, strips, yard
from tests.ui.places.sitting import Seat, seated

CHORD = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier


@pytest.fixture
def drove(sqlite_ledger: Ledger) -> Yard:
    place = yard(sqlite_ledger, "Long Drove", "3", "7", "12")
    yard(sqlite_ledger, "Low Dyke", "31")
    strips(sqlite_ledger)
    return place


@pytest.fixture
def seat(drove: Yard, qtbot, tmp_path) -> Iterator[Seat]:
    with seated(drove.ledger, "colonies", qtbot, tmp_path / "desk") as found:
        yield found
    assert sound(drove.ledger)


def begin(seat: Seat, drove: Yard, name: str, *marks: str, **values: str) -> None:
    """Choose hives, press the chord of an act, and fill its form."""
    seat.place.table.choose([drove.hives[mark] for mark in marks])
    seat.settle()
    QTest.keyClick(seat.place.table, getattr(Qt.Key, f"Key_{WAYS[name][1][-1]}"), CHORD)
    seat.settle()
    seat.place.side.form().set_values(values)


def press(seat: Seat) -> None:
    QTest.keyClick(seat.place.side.form(), Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    seat.settle()


def test_a_hive_is_split_by_keys(seat: Seat, drove: Yard):
    begin(seat, drove, "split", "3", hives="41, 42", queen="queen", rest="sealed_cell", brood="2.5", bees="4")
    press(seat)
    assert seat.place.side.form() is None
    given = rows(drove.ledger, ColonyTransfer, kind="split")
    assert [(row.brood_tenths, row.queen) for row in given] == [(25, "the queen"), (25, "a sealed cell")]
    assert seat.desk.last_done.sentence == "Split hive 3 into 41 and 42, 14 May"


def test_a_nucleus_is_made_of_the_chosen_hives(seat: Seat, drove: Yard):
    begin(seat, drove, "nucleus", "3", "7", hives="50", queen="virgin", brood="1")
    press(seat)
    assert len(rows(drove.ledger, ColonyTransfer, kind="nucleus")) == 2


def test_a_hive_is_united_into_one_that_is_picked_by_its_number(seat: Seat, drove: Yard):
    begin(seat, drove, "unite", "3", into="7")
    press(seat)
    assert rows(drove.ledger, Colony, id=drove.hives["3"])[0].end_cause == "united"


def test_what_speaks_against_it_is_asked_and_the_same_button_accepts(seat: Seat, drove: Yard):
    begin(seat, drove, "unite", "3", into="31")
    press(seat)
    form = seat.place.side.form()
    assert "stood apart" in form.fields["on"].message()
    assert rows(drove.ledger, ColonyTransfer) == []
    press(seat)
    assert len(rows(drove.ledger, ColonyTransfer, kind="unite")) == 1


def test_a_number_nobody_has_is_said_beside_its_field(seat: Seat, drove: Yard):
    begin(seat, drove, "give", "3", to="99", brood="1")
    press(seat)
    assert "no living hive has the number 99" in seat.place.side.form().fields["to"].message()


def test_a_frame_is_given_to_two_hives(seat: Seat, drove: Yard):
    begin(seat, drove, "give", "3", to="7, 12", brood="1")
    press(seat)
    assert [row.kind for row in rows(drove.ledger, ColonyTransfer)] == ["frame", "frame"]


def test_the_chosen_hives_are_fed_alike(seat: Seat, drove: Yard):
    begin(seat, drove, "feed", "3", "7", "12", kind="fondant", amount="2.5")
    press(seat)
    assert [(row.weight_g, row.volume_ml) for row in rows(drove.ledger, Feeding)] == [(2500, None)] * 3


def test_medicine_under_supers_waits_for_its_reason(seat: Seat, drove: Yard):
    drove.post(DAY, h3=Entry(supers_on=1))
    begin(seat, drove, "treat", "3", "7", medicine="1", pieces="2")
    press(seat)
    form = seat.place.side.form()
    assert "hive 3: treated" in form.foot.first.text()
    press(seat)
    assert rows(drove.ledger, Treatment) == []
    form.set_values({"reason": "these supers stay with the bees"})
    press(seat)
    assert [row.reason for row in rows(drove.ledger, Treatment)] == ["these supers stay with the bees", None]


def test_boxes_are_changed_for_many(seat: Seat, drove: Yard):
    begin(seat, drove, "boxes", "3", "7", brood_boxes="2", supers="1")
    press(seat)
    last = [rows(drove.ledger, BoxStack, colony_id=drove.hives[mark])[-1] for mark in ("3", "7")]
    assert [(row.brood_boxes, row.supers, row.excluder) for row in last] == [(2, 1, True)] * 2


def test_a_queen_is_gone(seat: Seat, drove: Yard):
    begin(seat, drove, "queen_gone", "3", why="swarmed")
    press(seat)
    assert rows(drove.ledger, Tenure, colony_id=drove.hives["3"])[0].why_ended == "swarmed"


def test_an_act_on_one_hive_says_so_when_several_are_chosen(seat: Seat, drove: Yard):
    seat.place.table.choose([drove.hives["3"], drove.hives["7"]])
    seat.place.work.act("split")()
    assert "works on one hive" in seat.said[-1].text
    assert seat.place.side.form() is None


def test_a_hive_that_ended_offers_only_its_way_back(seat: Seat, drove: Yard):
    perform(drove.ledger, end_colonies, [drove.hives["3"]], DAY, "wasps")
    seat.place.chips._chips["alive"].click()
    seat.settle()
    seat.place.table.choose([drove.hives["3"]])
    seat.settle()
    card = seat.place.card
    assert card.back.isVisible()
    assert not any(button.isVisible() for button in card.buttons)
    QTest.mouseClick(card.back, Qt.MouseButton.LeftButton)
    press(seat)
    assert rows(drove.ledger, Colony, id=drove.hives["3"])[0].ended_on is None
    seat.until(lambda: seat.place.card.head.title.text() == "Hive 3")
