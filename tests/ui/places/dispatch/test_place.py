"""Dispatch by the keys: jars go out, come back, are recalled, and the papers are made."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from beeledger.database.ledger import Ledger
from beeledger.queries.dispatches import dispatch_card, dispatch_log
from beeledger.queries.jars import jar_lots
from beeledger.ui.places.dispatch.forms import Stock
from tests.operations import honey_room as room_of
from tests.ui.places.sitting import Seat, seated

CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def seat(sqlite_ledger: Ledger, qapp: Any, qtbot: Any, tmp_path: Path) -> Iterator[Seat]:
    room_of.jarred(sqlite_ledger)
    with seated(sqlite_ledger, "dispatch", qtbot, tmp_path / "desk") as made:
        yield made


@pytest.fixture
def bare(sqlite_ledger: Ledger, qapp: Any, qtbot: Any, tmp_path: Path) -> Iterator[Seat]:
    with seated(sqlite_ledger, "dispatch", qtbot, tmp_path / "desk") as made:
        yield made


def form_of(seat: Seat) -> Any:
    seat.until(lambda: seat.place.side.form() is not None)
    return seat.place.side.form()


def fill(seat: Seat, values: dict[str, str]) -> Any:
    form = form_of(seat)
    for name, words in values.items():
        form.fields[name].set_value(words)
    QTest.keyClick(form, Qt.Key.Key_Return, CTRL)
    seat.settle()
    return form


def send(seat: Seat, jars: str = "24", **more: str) -> Any:
    seat.place.new()
    values = {"party": "Aldley Stores", "lot1": "sb26 0001 4o", "jars1": jars, "reference": "1182"} | more
    return fill(seat, values)


def rows(seat: Seat) -> Any:
    with seat.desk.ledger.read() as session:
        return dispatch_log(session)


def test_nothing_sent_yet_says_what_to_do(bare: Seat) -> None:
    assert bare.place.empty.isVisible()
    assert bare.place.card.print_note.isEnabled() is False


def test_a_dispatch_is_typed_by_the_keys_with_a_mark_as_it_is_read_out(seat: Seat) -> None:
    QTest.keyClick(seat.place.table, "n", CTRL)
    form = form_of(seat)
    party, lot, jars = (form.fields[name].editor for name in ("party", "lot1", "jars1"))
    QTest.keyClicks(party, "Aldley Stores")
    lot.setFocus()
    QTest.keyClicks(lot, "l sb26 0001 4o")
    QTest.keyClicks(jars, "24")
    form.fields["address"].set_value("2 Fore Street, Aldley")
    QTest.keyClick(jars, Qt.Key.Key_Return, CTRL)
    seat.settle()
    (row,) = rows(seat)
    assert (row.receiver, row.marks, row.jars, row.grams) == ("Aldley Stores", ("SB26-0001-40",), 24, 8_196)
    card = seat.place.card
    assert (card.head.title.text(), card.head.facts.text()) == (
        "Aldley Stores",
        "14 May 2026 · 24 jars, 8.2 kg",
    )
    assert card.contact.text() == "2 Fore Street, Aldley"


def test_what_is_known_of_a_receiver_stands_in_the_form(seat: Seat) -> None:
    send(seat, address="2 Fore Street, Aldley")
    seat.place.new()
    form = form_of(seat)
    form.fields["party"].set_value("Aldley Stores")
    assert form.fields["address"].value() == "2 Fore Street, Aldley"
    form.fields["party"].set_value("Hay Deli")
    assert form.fields["address"].value() == ""


def test_several_lots_stand_under_one_another_and_each_is_told_what_is_wrong_with_it(seat: Seat) -> None:
    seat.place.new()
    form = form_of(seat)
    form.fields["jars1"].editor.setFocus()
    QTest.keyClick(form.fields["jars1"].editor, Qt.Key.Key_N, CTRL | Qt.KeyboardModifier.ShiftModifier)
    assert form.fields["lot2"].editor.hasFocus()
    fill(seat, {"party": "Hay Deli", "lot1": "", "lot2": "SB26-0001-40", "jars2": "101"})
    assert form.fields["jars2"].message() == "100 jars of it are on the farm"
    form.fields["lot2"].set_value("SB26-0001-41")
    assert "check digits do not agree" in form.fields["lot2"].message()
    form.fields["lot2"].set_value("SB26-0001-40")
    form.fields["jars2"].set_value("100")
    QTest.keyClick(form, Qt.Key.Key_Return, CTRL)
    seat.settle()
    assert [row.jars for row in rows(seat)] == [100]


def test_a_dispatch_without_lot_or_receiver_is_held_beside_its_fields(seat: Seat) -> None:
    seat.place.new()
    form = fill(seat, {"lot1": ""})
    assert form.fields["lot1"].message() == "nothing goes out yet. Type a lot mark, or choose one"
    form.fields["lot1"].set_value("SB26-0001-40")
    form.fields["jars1"].set_value("2")
    QTest.keyClick(form, Qt.Key.Key_Return, CTRL)
    seat.settle()
    assert form.fields["party"].message() == "say who got them: a recall has to reach them"
    form.fields["way"].set_value("public")
    QTest.keyClick(form, Qt.Key.Key_Return, CTRL)
    seat.settle()
    assert [row.receiver for row in rows(seat)] == ["the public"]


def test_jars_come_back_on_hold_and_are_freed_from_the_recall(seat: Seat) -> None:
    send(seat)
    QTest.keyClick(seat.place.table, "r", CTRL)
    form = form_of(seat)
    (name,) = [name for name in form.fields if name.startswith("back")]
    fill(seat, {name: "6", "why": "a loose lid"})
    with seat.desk.ledger.read() as session:
        assert [(line.jars, line.back) for line in dispatch_card(session, 1).lines] == [(24, 6)]
    seat.place.show_recall("SB26-0001-40")
    seat.settle()
    held = seat.place.view_recall.here.facts()[1]
    assert (held.name, held.value) == ("SB26-0001-40, returned 1", "6 jars, 2.049 kg")
    seat.place.hold(held.key)
    fill(seat, {"why": "lids changed"})
    with seat.desk.ledger.read() as session:
        assert [lot.hold for lot in jar_lots(session)] == [None, None]
    assert seat.place.front.currentWidget() is seat.place.view_recall


def test_a_recall_tells_jars_buyers_and_hives_and_makes_its_paper(seat: Seat) -> None:
    send(seat)
    QTest.keyClick(seat.place.table, "b", CTRL)
    QTest.keyClicks(seat.place.mark, "sb26 000140")
    QTest.keyClick(seat.place.mark, Qt.Key.Key_Return)
    seat.settle()
    view = seat.place.view_recall
    assert seat.place.front.currentWidget() is view
    assert [(figure.name, figure.value) for figure in view.figures.figures()] == [
        ("Packed", "100"), ("With buyers", "24"), ("Here", "76"),
    ]  # fmt: skip
    assert [(fact.name, fact.value) for fact in view.buyers.facts()] == [
        ("Aldley Stores", "24 jars out: 24 sent")
    ]
    assert [fact.name for fact in view.sources.facts()] == ["Long Drove", "Low Dyke"]
    QTest.keyClick(view.close_it, "p", CTRL)
    seat.settle()
    printed = seat.place.paper.printed
    assert (printed.about.key, printed.name) == ("recall-paper", "recall SB26-0001-40")
    QTest.keyClick(seat.place.paper.preview, Qt.Key.Key_Escape)
    assert seat.place.front.currentWidget() is view
    QTest.keyClick(view.close_it, Qt.Key.Key_Escape)
    assert seat.place.front.currentIndex() == 0


def test_a_mistyped_mark_is_said_and_an_unknown_one_too(seat: Seat) -> None:
    seat.place.show_recall("SB26-0001-41")
    seat.settle()
    seat.place.show_recall("SB26-0002-37")
    seat.settle()
    assert [saying.text for saying in seat.said] == [
        "'SB26-0001-41' is mistyped somewhere: the check digits do not agree.",
        "No jar of this farm bears SB26-0002-37",
    ]


def test_lost_jars_are_written_off(seat: Seat) -> None:
    QTest.keyClick(seat.place.table, "l", CTRL)
    fill(seat, {"jars": "3", "why": "a dropped carton"})
    seat.place.show_recall("SB26-0001-40")
    seat.settle()
    assert ("Lost or opened", "3") in [(f.name, f.value) for f in seat.place.view_recall.figures.figures()]


def test_the_delivery_note_of_the_chosen_dispatch_is_shown(seat: Seat) -> None:
    send(seat)
    QTest.keyClick(seat.place.table, "p", CTRL)
    seat.settle()
    assert seat.place.front.currentWidget() is seat.place.paper
    assert seat.place.paper.printed.name == "delivery note 1182"


def test_every_field_of_the_forms_has_an_address(seat: Seat) -> None:
    seat.place.new()
    form = form_of(seat)
    assert {field.objectName() for field in form.fields.values()} == {
        f"dispatch.form.{name}" for name in form.fields
    }


def test_a_lot_is_found_by_choice_words_or_mark(seat: Seat) -> None:
    from beeledger.queries.dispatches import dispatch_choices

    with seat.desk.ledger.read() as session:
        stock = Stock(dispatch_choices(session))
    number = next(iter(stock.jars))
    words = stock.options[0][1]
    assert [stock.find(typed) for typed in (str(number), words, "Sb26-0001-40")] == [number] * 3
    with pytest.raises(ValueError, match="no jar of L SB26-0002-37"):
        stock.find("sb26-0002-37")
