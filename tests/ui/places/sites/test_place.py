"""Sites at the desk: added, changed, given up, seen on the map; all by keyboard."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from beeledger.database.ledger import Ledger
from beeledger.model.sites import Site
from beeledger.operations.act import perform
from beeledger.operations.sites import NewSite, add_site
from beeledger.queries.records.sites import SiteLine
from beeledger.rules.rounds.entry import Entry, Outcome
from beeledger.ui.places.sites.form import place_words
from beeledger.ui.places.sites.table import hives_words, site_row, sums
from beeledger.ui.widgets.painting import elisions
from tests.builders.yards import Yard, rows, yard
from tests.ui.places.sitting import Seat, seated

TODAY = date(2026, 5, 14)
LINE = SiteLine(
    1, "LD", "Long Drove", "out", "SO 40 60", 340_000, 260_000, None, None, "Fen Farm", 24, 18, date(2026, 5, 7),
    date(2026, 5, 10), 9, None, 5_040,
)  # fmt: skip


@pytest.fixture
def drove(sqlite_ledger: Ledger) -> Yard:
    place = yard(sqlite_ledger, "Long Drove", "3", "7", "12")
    place.post(date(2026, 4, 28), h3=Entry(outcome=Outcome.LOOKED, eggs=True))
    perform(sqlite_ledger, add_site, NewSite("Low Dyke", grid="SO 430 640", capacity=20))
    perform(sqlite_ledger, add_site, NewSite("Home", grid="SO 400 600", kind="home"))
    return place


@pytest.fixture
def seat(drove: Yard, qtbot, tmp_path) -> Iterator[Seat]:
    with seated(drove.ledger, "sites", qtbot, tmp_path / "desk") as found:
        yield found


def shown(seat: Seat) -> list[str]:
    return [row.cells[0].text for row in seat.place.table.records.rows_shown()]


def submit(seat: Seat) -> None:
    QTest.keyClick(seat.place.side.form(), Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    seat.settle()


def test_a_row_says_what_stands_there_what_is_late_and_how_far():
    assert [cell.text for cell in site_row(LINE, TODAY).cells] == [
        "Long Drove",
        "4 late",
        "18 / 24",
        "7 May",
        "5.0",
    ]


def test_room_that_nobody_told_is_not_guessed():
    from dataclasses import replace

    assert hives_words(replace(LINE, capacity=None)) == "18"


def test_the_foot_adds_up_what_stands_and_what_room_is_left():
    words = " ".join(run.text for run in sums([LINE, LINE]))
    assert words == "2 sites 36 colonies room for 12 more"


def test_a_grid_reference_is_read_while_it_is_typed():
    # Caister water tower: Ordnance Survey, "A guide to coordinate systems in Great Britain",
    # 52°39′28.73″ N 1°42′57.79″ E, which is 52.65798, 1.71605; within 5 m by the change of datum used.
    words = place_words("tg 51409 13177")
    assert words.startswith("TG 51409 13177: a square of 1 m, corner at 52.657")
    assert "1.716" in words
    assert "even number" in place_words("SO39275")
    assert "not on the map" in place_words("")


def test_sites_are_listed_and_the_first_is_on_the_card(seat: Seat):
    assert shown(seat) == ["Home", "Long Drove", "Low Dyke"]
    assert seat.place.card.head.title.text() == "Home"


def test_the_card_says_what_stands_there(seat: Seat, drove: Yard):
    seat.place.show_what(drove.site)
    seat.settle()
    facts = seat.place.card.rows["standing"].facts()
    assert [fact.name for fact in facts] == ["3", "7", "12"]
    assert facts[0].mark is not None


def test_a_hive_on_the_card_opens_in_colonies(seat: Seat, drove: Yard):
    seat.place.show_what(drove.site)
    seat.settle()
    standing = seat.place.card.rows["standing"]
    standing.setFocus()
    QTest.keyClick(standing, Qt.Key.Key_Return)
    assert seat.opened == [("colonies", drove.hives["3"])]


def test_a_site_is_added_by_keyboard(seat: Seat, drove: Yard):
    QTest.keyClick(seat.place.table, Qt.Key.Key_N, Qt.KeyboardModifier.ControlModifier)
    seat.settle()
    form = seat.place.side.form()
    QTest.keyClicks(form.fields["name"].editor, "Orchard")
    QTest.keyClicks(form.fields["grid"].editor, "SO 4100 6100")
    assert "SO 4100 6100" in form.meant.text()
    submit(seat)
    (new,) = rows(drove.ledger, Site, name="Orchard")
    assert (new.easting_m, new.northing_m) == (341_000, 261_000)
    assert seat.place.card.head.title.text() == "Orchard"
    assert seat.place.map.where(new.id) is not None


def test_a_reference_that_cannot_be_is_said_beside_the_field_and_nothing_is_written(seat: Seat, drove: Yard):
    seat.place.new()
    seat.settle()
    form = seat.place.side.form()
    form.set_values({"name": "Orchard", "grid": "SO39275"})
    submit(seat)
    assert "even number" in form.fields["grid"].message()
    assert not form.main.isEnabled()
    form.set_values({"grid": "SO392750"})
    assert form.main.isEnabled()
    assert rows(drove.ledger, Site, name="Orchard") == []


def test_a_name_in_use_is_said_beside_the_name(seat: Seat):
    seat.place.new()
    seat.settle()
    form = seat.place.side.form()
    form.set_values({"name": "low dyke"})
    submit(seat)
    assert "already" in form.fields["name"].message()


def test_latitude_without_longitude_is_refused(seat: Seat):
    seat.place.new()
    seat.settle()
    form = seat.place.side.form()
    form.set_values({"name": "Orchard", "latitude": "52.1"})
    submit(seat)
    assert "go together" in form.fields["longitude"].message()


def test_a_site_is_changed_and_what_was_not_touched_stays(seat: Seat, drove: Yard):
    seat.place.show_what(next(row.id for row in rows(drove.ledger, Site, name="Low Dyke")))
    seat.settle()
    QTest.keyClick(seat.place.table, Qt.Key.Key_E, Qt.KeyboardModifier.ControlModifier)
    seat.settle()
    seat.place.side.form().set_values({"way_in": "gate 4", "landholder": "Fen Farm", "rent": "120.50"})
    submit(seat)
    (row,) = rows(drove.ledger, Site, name="Low Dyke")
    assert (row.way_in, row.capacity, row.grid, row.rent_pence) == ("gate 4", 20, "SO 430 640", 12_050)
    assert "Fen Farm" in seat.place.card.head.facts.text()


def test_a_site_where_hives_stand_is_not_given_up_and_one_without_is(seat: Seat, drove: Yard):
    seat.place.show_what(drove.site)
    seat.settle()
    seat.place.give_up()
    seat.settle()
    assert "3 colonies stand" in seat.said[-1].text
    seat.place.table.choose([next(row.id for row in rows(drove.ledger, Site, name="Low Dyke"))])
    seat.settle()
    seat.place.give_up()
    seat.settle()
    assert shown(seat) == ["Home", "Long Drove"]


def test_due_keeps_only_sites_where_something_presses(seat: Seat):
    seat.place.chips.choose("due")
    assert shown(seat) == ["Long Drove"]


def test_a_round_is_opened_with_enter(seat: Seat, drove: Yard):
    seat.place.show_what(drove.site)
    seat.settle()
    QTest.keyClick(seat.place.table, Qt.Key.Key_Return)
    assert seat.opened[-1] == ("rounds", "Long Drove")


def test_a_site_picked_on_the_map_is_chosen_in_the_table(seat: Seat, drove: Yard):
    dyke = next(row.id for row in rows(drove.ledger, Site, name="Low Dyke"))
    seat.place.map.picked.emit(dyke)
    seat.settle()
    assert seat.place.table.chosen() == [dyke]
    assert seat.place.card.head.title.text() == "Low Dyke"


def test_every_field_has_its_address(seat: Seat):
    seat.place.new()
    seat.settle()
    form = seat.place.side.form()
    assert {field.objectName() for field in form.fields.values()} == {
        f"sites.form.{key}" for key in form.fields
    }


def test_no_figure_is_cut_at_the_smallest_window(drove: Yard, qtbot, tmp_path):
    elisions.on = True
    elisions.clear()
    try:
        with seated(drove.ledger, "sites", qtbot, tmp_path / "desk", (1318, 696)) as seat:
            seat.place.grab()
        assert elisions.cut == []
    finally:
        elisions.on = False


def test_an_empty_farm_says_what_to_do_first(sqlite_ledger: Ledger, qtbot, tmp_path):
    with seated(sqlite_ledger, "sites", qtbot, tmp_path / "desk") as seat:
        assert seat.place.empty.isVisible()
        assert not seat.place.table.isVisible()
