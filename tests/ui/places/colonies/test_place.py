"""Colonies at the desk: found, filtered, looked at, given a queen and a number, ended; all by keyboard."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget

from beeledger.database.ledger import Ledger
from beeledger.model.colonies import Colony, HiveMark
from beeledger.model.queens import Queen
from beeledger.rules.rounds.entry import Entry, Outcome
from beeledger.ui.places.colonies.work import WAYS
from beeledger.ui.widgets.painting import elisions
from tests.builders.yards import DAY, Yard, rows, yard
from tests.ui.places.sitting import Seat, seated

LOOK = Entry(outcome=Outcome.LOOKED, eggs=True, bees_tenths=80, brood_tenths=65, stores_g=6000, temper=2)


@pytest.fixture
def drove(sqlite_ledger: Ledger) -> Yard:
    place = yard(sqlite_ledger, "Long Drove", "3", "7", "12")
    place.post(DAY, h3=LOOK, h7=LOOK)
    yard(sqlite_ledger, "Low Dyke", "31", "32")
    return place


@pytest.fixture
def seat(drove: Yard, qtbot, tmp_path) -> Iterator[Seat]:
    with seated(drove.ledger, "colonies", qtbot, tmp_path / "desk") as found:
        yield found


def shown(seat: Seat) -> list[str]:
    return [row.cells[0].text for row in seat.place.table.records.rows_shown()]


def press(widget: QWidget, key: Qt.Key, chord: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
    QTest.keyClick(widget, key, chord)


def fill(seat: Seat, **values: str) -> None:
    seat.place.side.form().set_values(values)


def submit(seat: Seat) -> None:
    press(seat.place.side.form(), Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    seat.settle()


def test_the_living_are_listed_and_the_first_is_on_the_card(seat: Seat):
    assert shown(seat) == ["3", "7", "12", "31", "32"]
    assert seat.place.card.head.title.text() == "Hive 3"
    assert [figure.value for figure in seat.place.card.figures.figures()] == ["8", "6.5", "6", "", "2"]


def test_a_site_is_asked_for_in_words(seat: Seat):
    QTest.keyClicks(seat.place.filter, "at low dyke")
    assert shown(seat) == ["31", "32"]
    assert "2 shown" in seat.place.subtitle


def test_letters_typed_in_the_table_go_to_the_filter(seat: Seat):
    QTest.keyClicks(seat.place.table, "31")
    assert seat.place.filter.text() == "31"
    assert shown(seat) == ["31"]


def test_here_keeps_to_the_site_of_the_chosen_hive(seat: Seat, drove: Yard):
    seat.place.table.choose([drove.hives["7"]])
    seat.place.chips.choose("here")
    assert shown(seat) == ["3", "7", "12"]


def test_opened_from_a_site_it_shows_that_site(seat: Seat, drove: Yard):
    seat.place.show_what(("site", drove.site))
    seat.settle()
    assert shown(seat) == ["3", "7", "12"]


def test_a_filter_is_kept_by_name_put_back_and_forgotten(seat: Seat):
    QTest.keyClicks(seat.place.filter, "at low dyke")
    seat.place.kept.activated.emit(seat.place.kept.findData("+"))
    fill(seat, name="the dyke")
    submit(seat)
    assert seat.desk.settings.kept_filters == {"the dyke": "at low dyke\talive"}
    seat.place.filter.clear()
    assert len(shown(seat)) == 5
    seat.place.kept.activated.emit(seat.place.kept.findData("the dyke"))
    seat.settle()
    assert shown(seat) == ["31", "32"]
    seat.place.kept.activated.emit(seat.place.kept.findData("-"))
    assert seat.desk.settings.kept_filters == {}


def test_several_chosen_are_summed(seat: Seat, drove: Yard):
    seat.place.table.choose([drove.hives["3"], drove.hives["7"], drove.hives["12"]])
    several = seat.place.several
    assert several.isVisible()
    assert several.head.title.text() == "3 colonies"
    assert [(figure.value, figure.source) for figure in several.figures.figures()][:2] == [
        ("8", "mean of 2"),
        ("6.5", "mean of 2"),
    ]


def test_hives_are_founded_by_typing_their_numbers(seat: Seat, drove: Yard):
    seat.place.found()
    seat.settle()
    fill(seat, site=str(drove.site), hives="41-43, 50", on="10 May", year="2025")
    submit(seat)
    assert {"41", "42", "43", "50"} <= set(shown(seat))
    assert seat.place.card.head.title.text() == "Hive 41"
    assert seat.place.side.form() is None


def test_at_a_site_that_is_given_the_numbers_are_typed_at_once(seat: Seat, drove: Yard):
    seat.place.show_what(("found", drove.site))
    seat.settle()
    form = seat.place.side.form()
    assert form.fields["site"].value() == str(drove.site)
    assert form.focusWidget() is form.fields["hives"].editor


def test_after_a_refusal_the_keys_are_in_the_field_to_mend(seat: Seat):
    seat.place.found()
    seat.settle()
    fill(seat, hives="1-3", on="31 Feb")
    submit(seat)
    form = seat.place.side.form()
    assert form.focusWidget() is form.fields["on"].editor


def test_a_number_in_use_is_said_beside_the_form_and_nothing_is_written(seat: Seat, drove: Yard):
    seat.place.found()
    seat.settle()
    fill(seat, site=str(drove.site), hives="3", on="10 May")
    submit(seat)
    assert "another living hive" in seat.place.side.form().foot.first.text()
    assert len(rows(drove.ledger, Colony)) == 5


def test_what_cannot_be_read_is_said_beside_its_field(seat: Seat):
    seat.place.found()
    seat.settle()
    fill(seat, hives="1-3", on="31 Feb")
    submit(seat)
    form = seat.place.side.form()
    assert "no such day" in form.fields["on"].message()
    fill(seat, on="28 Feb")
    assert form.fields["on"].message() == ""


def test_a_colony_ends_with_a_cause_and_never_without(seat: Seat, drove: Yard):
    seat.place.work.act("end")()
    submit(seat)
    form = seat.place.side.form()
    assert form.fields["cause"].message()
    fill(seat, cause="varroa")
    submit(seat)
    (gone,) = [row for row in rows(drove.ledger, Colony) if row.ended_on]
    assert (gone.id, gone.end_cause, gone.ended_on) == (drove.hives["3"], "varroa", DAY)
    assert shown(seat) == ["7", "12", "31", "32"]


def test_what_ended_is_seen_without_alive(seat: Seat, drove: Yard):
    seat.place.work.act("end")()
    fill(seat, cause="sold")
    submit(seat)
    seat.place.chips._chips["alive"].click()
    seat.settle()
    assert shown(seat) == ["3"]
    assert seat.place.card.head.title.text() == "Hive 3"


def test_a_queen_is_given(seat: Seat, drove: Yard):
    seat.place.work.act("requeen")()
    fill(seat, year="2026", tag="26-004", marked="yes")
    submit(seat)
    newest = rows(drove.ledger, Queen)[-1]
    assert (newest.hatch_year, newest.tag, newest.marked) == (2026, "26-004", True)
    assert seat.place.card.head.identity.text().startswith("white 26-004")


def test_a_number_is_given_and_numbers_are_swapped(seat: Seat, drove: Yard):
    seat.place.work.act("number")()
    fill(seat, mark="99")
    submit(seat)
    assert "99" in shown(seat)
    seat.place.table.choose([drove.hives["7"]])
    seat.place.work.act("number")()
    fill(seat, mark="12", swap="yes")
    submit(seat)
    now = {row.colony_id: row.mark for row in rows(drove.ledger, HiveMark) if row.until_on is None}
    assert (now[drove.hives["7"]], now[drove.hives["12"]]) == ("12", "7")


def test_escape_leaves_a_form_and_writes_nothing(seat: Seat, drove: Yard):
    seat.place.work.act("end")()
    press(seat.place.side.form(), Qt.Key.Key_Escape)
    assert seat.place.side.form() is None
    assert not [row for row in rows(drove.ledger, Colony) if row.ended_on]


def test_enter_opens_the_card_wide_and_escape_brings_the_table_back(seat: Seat):
    press(seat.place.table, Qt.Key.Key_Return)
    assert not seat.place.left.isVisible()
    press(seat.place, Qt.Key.Key_Escape)
    assert seat.place.left.isVisible()


def test_move_and_round_go_to_their_places(seat: Seat, drove: Yard):
    seat.place.work.act("move")()
    seat.place.work.act("round")()
    assert seat.opened == [("moves", ("new", drove.site, "3")), ("rounds", "Long Drove")]


def test_hives_of_two_sites_are_not_moved_at_once(seat: Seat):
    seat.place.table.selectAll()
    seat.settle()
    seat.place.work.act("move")()
    assert seat.opened == []
    assert "several sites" in seat.said[-1].text


def test_no_figure_is_cut_at_the_smallest_window(drove: Yard, qtbot, tmp_path):
    elisions.on = True
    elisions.clear()
    try:
        with seated(drove.ledger, "colonies", qtbot, tmp_path / "desk", (1318, 696)) as seat:
            seat.place.grab()
        assert elisions.cut == []
    finally:
        elisions.on = False


def test_every_field_of_every_form_has_its_address(seat: Seat):
    acts = {name: seat.place.work.act(name) for name in WAYS if name not in ("move", "round")}
    for name, act in {"found": seat.place.found, **acts}.items():
        act()
        seat.settle()
        form = seat.place.side.form()
        assert {field.objectName() for field in form.fields.values()} == {
            f"colonies.{name}.{key}" for key in form.fields
        }


def test_an_empty_farm_says_what_to_do_first(sqlite_ledger: Ledger, qtbot, tmp_path):
    with seated(sqlite_ledger, "colonies", qtbot, tmp_path / "desk") as seat:
        assert seat.place.empty.isVisible()
        assert not seat.place.table.isVisible()


def test_a_last_visit_opens_its_round_to_be_corrected(seat: Seat, drove: Yard):
    visits = seat.place.card.visits
    shown = [fact.key for fact in visits.facts()]
    assert shown
    assert None not in shown
    visits.setFocus(Qt.FocusReason.TabFocusReason)
    QTest.keyClick(visits, Qt.Key.Key_Down)
    QTest.keyClick(visits, Qt.Key.Key_Return)
    assert seat.opened[-1][0] == "rounds"
    assert seat.opened[-1][1].round_id in shown
