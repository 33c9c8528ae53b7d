"""Queens as the breeder works in it by keyboard."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QComboBox, QLineEdit, QWidget

from beeledger.database.ledger import Ledger
from beeledger.model.queens import GraftBatch, Mating, MatingDroneMother, Queen, Tenure
from beeledger.operations.act import perform
from beeledger.operations.grafts import NewGraft, post_graft
from beeledger.ui.desk.desk import FileQuestion
from beeledger.ui.parts.typed_form import TypedForm
from tests.builders.yards import Yard, rows
from tests.queries.test_queens import bred
from tests.ui.places.sitting import Seat, seated

ENTER = Qt.Key.Key_Return
CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def farm(sqlite_ledger: Ledger) -> tuple[Yard, dict[str, int]]:
    return bred(sqlite_ledger)


@pytest.fixture
def seat(farm: tuple[Yard, dict[str, int]], qtbot: Any, tmp_path: Path) -> Iterator[Seat]:
    with seated(farm[0].ledger, "queens", qtbot, tmp_path) as made:
        yield made


def choose(seat: Seat, number: int) -> None:
    seat.place.table.choose([number])
    seat.settle()


def form_of(seat: Seat) -> TypedForm:
    seat.until(lambda: seat.place.side.form() is not None)
    form = seat.place.side.form()
    assert isinstance(form, TypedForm)
    return form


def write(form: TypedForm, field: str, words: str) -> None:
    editor = form.fields[field].editor
    editor.setFocus()
    if isinstance(editor, QLineEdit):
        editor.selectAll()
    QTest.keyClicks(editor, words)


def post(seat: Seat, form: TypedForm) -> None:
    QTest.keyClick(next(iter(form.fields.values())).editor, ENTER, CTRL)
    seat.settle()


def test_a_new_queen_is_typed_with_her_dam(seat: Seat, farm: tuple[Yard, dict[str, int]]) -> None:
    home, by = farm
    QTest.keyClick(seat.place, Qt.Key.Key_N, CTRL)
    form = form_of(seat)
    write(form, "tag", "26-001")
    write(form, "line", "Alder")
    write(form, "dam", "25-114")
    post(seat, form)
    new = rows(home.ledger, Queen, tag="26-001")[0]
    assert (new.dam_id, new.hatch_year, new.line) == (by["25-114"], 2026, "Alder")
    assert seat.place.side.form() is None
    assert seat.place.card.shown.line.tag == "26-001"


def test_a_queen_is_named_by_the_hive_she_heads(seat: Seat, farm: tuple[Yard, dict[str, int]]) -> None:
    home, _ = farm
    QTest.keyClick(seat.place, Qt.Key.Key_N, CTRL)
    form = form_of(seat)
    write(form, "tag", "26-002")
    write(form, "dam", "hive 2")
    post(seat, form)
    head = rows(home.ledger, Tenure, colony_id=home.hives["2"])[0].queen_id
    assert rows(home.ledger, Queen, tag="26-002")[0].dam_id == head


def test_a_dam_nobody_knows_is_said_beside_the_field(seat: Seat, farm: tuple[Yard, dict[str, int]]) -> None:
    QTest.keyClick(seat.place, Qt.Key.Key_N, CTRL)
    form = form_of(seat)
    write(form, "tag", "26-001")
    write(form, "dam", "99-999")
    post(seat, form)
    assert "no queen is called 99-999" in form.fields["dam"].message()
    assert rows(farm[0].ledger, Queen, tag="26-001") == []


def test_describing_a_queen_keeps_what_was_not_touched(seat: Seat, farm: tuple[Yard, dict[str, int]]) -> None:
    home, by = farm
    choose(seat, by["25-114"])
    QTest.keyClick(seat.place, Qt.Key.Key_E, CTRL)
    form = form_of(seat)
    write(form, "origin", "own")
    post(seat, form)
    row = rows(home.ledger, Queen, tag="25-114")[0]
    assert (row.origin, row.dam_id, row.line, row.marked) == ("own", by["23-061"], "Alder", True)


def test_a_mating_is_written_with_the_mothers_of_the_drones(
    seat: Seat, farm: tuple[Yard, dict[str, int]]
) -> None:
    home, by = farm
    choose(seat, by["25-114"])
    seat.place.card.buttons["Mating"].click()
    form = form_of(seat)
    kind = form.fields["kind"].editor
    assert isinstance(kind, QComboBox)
    kind.setFocus()
    QTest.keyClick(kind, Qt.Key.Key_Down)
    write(form, "on", "12 June 2025")
    write(form, "mothers", "22-009, hive 3")
    post(seat, form)
    mating = rows(home.ledger, Mating, queen_id=by["25-114"])[0]
    assert (mating.kind, mating.on) == ("drones", date(2025, 6, 12))
    assert len(rows(home.ledger, MatingDroneMother, mating_id=mating.id)) == 2
    assert "drones of" in seat.place.card.mating.text().lower()


def test_a_queen_is_put_into_a_hive_and_ended(seat: Seat, farm: tuple[Yard, dict[str, int]]) -> None:
    home, by = farm
    choose(seat, by["25-115"])
    seat.place.card.buttons["Introduce"].click()
    form = form_of(seat)
    assert form.values()["why"] == "replaced"
    write(form, "hive", "2")
    post(seat, form)
    assert rows(home.ledger, Tenure, queen_id=by["25-115"])[0].colony_id == home.hives["2"]
    seat.place.card.buttons["End"].click()
    form = form_of(seat)
    post(seat, form)
    assert "an end needs its cause" in form.fields["why"].message()
    why = form.fields["why"].editor
    assert isinstance(why, QComboBox)
    why.setEditText("lost")
    post(seat, form)
    assert rows(home.ledger, Queen, tag="25-115")[0].end_cause == "lost"


def test_enter_draws_the_pedigree_arrows_walk_and_escape_comes_back(
    seat: Seat, farm: tuple[Yard, dict[str, int]]
) -> None:
    _, by = farm
    choose(seat, by["25-114"])
    QTest.keyClick(seat.place.table, ENTER)
    seat.settle()
    drawing = seat.place.pedigree.drawing
    seat.until(lambda: drawing.pedigree is not None)
    assert drawing.isVisible()
    assert "drone side, drones of yellow 22-009" in drawing.accessibleDescription()
    assert "dam not recorded" in drawing.accessibleDescription()
    QTest.keyClick(drawing, Qt.Key.Key_Right)
    QTest.keyClick(drawing, Qt.Key.Key_Up)
    QTest.keyClick(drawing, ENTER)
    seat.settle()
    seat.until(lambda: drawing.pedigree.subject.tag == "23-061")
    assert seat.place.card.shown.line.tag == "23-061"
    QTest.keyClick(drawing, Qt.Key.Key_Escape)
    seat.settle()
    assert seat.place.table.isVisible()


def test_a_graft_is_written_down_counted_and_its_days_are_shown(
    seat: Seat, farm: tuple[Yard, dict[str, int]]
) -> None:
    home, by = farm
    choose(seat, by["23-061"])
    seat.place.card.buttons["Graft"].click()
    form = form_of(seat)
    write(form, "on", "4 May")
    write(form, "grafted", "40")
    write(form, "finisher", "2")
    post(seat, form)
    graft = rows(home.ledger, GraftBatch)[0]
    assert (graft.on, graft.dam_id, graft.grafted) == (date(2026, 5, 4), by["23-061"], 40)
    seat.until(lambda: seat.place.graft_card.shown is not None)
    days = {fact.name: fact.value for fact in seat.place.graft_card.jobs.facts()}
    # reference: graft on day 0, cells to nuclei on day 10, virgins on day 12 (counted by hand on a calendar)
    assert days["Place the ripe cells"] == "today, Thu 14 May"
    assert days["Virgins emerge"] == "in 2 days, Sat 16 May"
    QTest.keyClick(seat.place, Qt.Key.Key_E, CTRL)
    form = form_of(seat)
    write(form, "taken", "31")
    post(seat, form)
    assert rows(home.ledger, GraftBatch)[0].taken == 31


def test_the_pedigree_prints(seat: Seat, farm: tuple[Yard, dict[str, int]]) -> None:
    choose(seat, farm[1]["25-114"])
    QTest.keyClick(seat.place, Qt.Key.Key_P, CTRL)
    seat.until(lambda: seat.place.paper.printed is not None)
    assert seat.place.paper.printed.name == "Pedigree 25-114"
    asked: list[FileQuestion] = []
    seat.desk.asked.connect(asked.append)
    seat.place.paper.save_pdf.click()
    assert asked[0].suggested == "Pedigree 25-114.pdf"
    QTest.keyClick(seat.place.paper, Qt.Key.Key_Escape)
    assert seat.place.table.isVisible()


def test_the_place_is_opened_at_a_queen_or_a_graft(seat: Seat, farm: tuple[Yard, dict[str, int]]) -> None:
    home, by = farm
    number = perform(home.ledger, post_graft, NewGraft(date(2026, 5, 4), by["23-061"], 40)).result
    seat.place.show_what(by["22-009"])
    seat.settle()
    assert seat.place.card.shown.line.tag == "22-009"
    seat.place.show_what(("graft", number))
    seat.settle()
    assert seat.place.graft_card.shown.graft_id == number


def test_an_empty_farm_is_told_where_queens_come_from(
    sqlite_ledger: Ledger, qtbot: Any, tmp_path: Path
) -> None:
    with seated(sqlite_ledger, "queens", qtbot, tmp_path) as seat:
        assert seat.place.empty.isVisible()
        seat.place.go_to("grafts")
        seat.settle()
        assert seat.place.graft_empty.isVisible()
        seat.place.go_to("pedigree")
        seat.settle()
        assert seat.place.pedigree.drawing.pedigree is None


def test_every_field_has_an_address(seat: Seat, farm: tuple[Yard, dict[str, int]]) -> None:
    choose(seat, farm[1]["25-114"])
    for act in ("new", "edit", "note_mating", "introduce", "end_queen", "graft"):
        seat.place.side.close_form()
        getattr(seat.place, act)()
        for field in form_of(seat).fields.values():
            assert isinstance(field, QWidget)
            assert field.objectName().startswith("queens.")


def test_in_a_narrow_window_the_box_one_walks_to_comes_into_view(
    farm: tuple[Yard, dict[str, int]], qtbot: Any, tmp_path: Path
) -> None:
    home, by = farm
    with seated(home.ledger, "queens", qtbot, tmp_path, (820, 420)) as seat:
        choose(seat, by["25-114"])
        QTest.keyClick(seat.place.table, ENTER)
        seat.settle()
        drawing = seat.place.pedigree.drawing
        seat.until(lambda: drawing.pedigree is not None)
        QTest.keyClick(drawing, Qt.Key.Key_Right)
        QTest.keyClick(drawing, Qt.Key.Key_Down)
        mother = next(box for box in drawing.pedigree.boxes if box.queen_ids == (by["22-009"],))
        assert drawing.visibleRegion().contains(drawing.rect_of(mother).center())
