"""Settings by keys: people and firms with erasure, crew, vehicles, the usual hive and what n fills in."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget

from beeledger.database.backup import backups_of
from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.crew import add_crew_member
from beeledger.operations.parties import NewParty, NewVehicle, add_party, add_vehicle
from beeledger.queries.farm import farm_settings
from beeledger.queries.moves import move_choices
from beeledger.queries.parties import list_crew, list_parties, list_vehicles
from beeledger.rules.rounds.entry import Outcome, QueenState
from beeledger.ui.desk.desk import Question
from beeledger.ui.places.settings.people import ERASE, KEEP
from tests.ui.places.sitting import Seat, seated

CTRL = Qt.KeyboardModifier.ControlModifier
MERRY = NewParty("Joan Merry", ("landholder",), phone="01353 555 0177")
"""Made up; the number stands in the range that Ofcom keeps for stories."""


@pytest.fixture
def seat(sqlite_ledger: Ledger, qapp: Any, qtbot: Any, tmp_path: Path) -> Iterator[Seat]:
    perform(sqlite_ledger, add_party, MERRY)
    perform(sqlite_ledger, add_crew_member, "KP", "Kay Pell")
    perform(sqlite_ledger, add_vehicle, NewVehicle("Blue van", 24, 900_000))
    with seated(sqlite_ledger, "settings", qtbot, tmp_path / "desk") as made:
        yield made


def read(seat: Seat, query: Any, *args: Any) -> Any:
    with seat.desk.ledger.read() as session:
        return query(session, *args)


def front(seat: Seat, tab: str) -> Any:
    seat.place.show_what(tab)
    seat.settle()
    return seat.place.lists[tab]


def key(seat: Seat, widget: QWidget, which: Qt.Key, modifier: Any = Qt.KeyboardModifier.NoModifier) -> None:
    QTest.keyClick(widget, which, modifier)
    seat.settle()


def fill(seat: Seat, listing: Any, **values: str) -> None:
    form = listing.side.form()
    form.set_values(values)
    key(seat, next(iter(form.fields.values())).editor, Qt.Key.Key_Return, CTRL)


def test_the_arrows_walk_through_the_tabs_and_the_card_comes_with_its_list(seat: Seat) -> None:
    seat.place.tabs.setFocus()
    for tab in ("hives", "due", "people", "crew", "vehicles"):
        key(seat, seat.place.tabs, Qt.Key.Key_Right)
        listing = seat.place.lists.get(tab)
        assert seat.place.front.currentWidget() is (listing or getattr(seat.place, tab))
        assert seat.place.side.currentWidget() is (listing.side if listing else seat.place.card)


def test_a_firm_is_added_by_keys_with_its_roles_and_found_by_its_telephone(seat: Seat) -> None:
    people = front(seat, "people")
    key(seat, people.table, Qt.Key.Key_N, CTRL)
    fill(seat, people, name="Fen Extraction", extractor="yes", supplier="yes", phone="01353 555 0188")
    added = read(seat, list_parties)[0]
    assert (added.name, added.roles, added.phone) == (
        "Fen Extraction", ("supplier", "extractor"), "01353 555 0188",
    )  # fmt: skip
    people.filter.setText("0188")
    assert [row.cells[0].text for row in people.table.records.rows_shown()] == ["Fen Extraction"]
    assert people.side.form() is None


def test_a_name_in_use_is_said_beside_its_field_and_nothing_is_written(seat: Seat) -> None:
    people = front(seat, "people")
    key(seat, people.table, Qt.Key.Key_N, CTRL)
    fill(seat, people, name="joan merry")
    form = people.side.form()
    assert "there is joan merry already" in form.fields["name"].message()
    assert form.fields["name"].editor.hasFocus()
    assert len(read(seat, list_parties)) == 1
    key(seat, form.fields["name"].editor, Qt.Key.Key_Escape)
    assert people.side.form() is None


def test_enter_changes_the_chosen_one(seat: Seat) -> None:
    people = front(seat, "people")
    key(seat, people.table, Qt.Key.Key_Return)
    assert people.side.form().fields["phone"].value() == "01353 555 0177"
    fill(seat, people, email="joan@example.org", customer="yes")
    (merry,) = read(seat, list_parties)
    assert (merry.roles, merry.email, merry.phone) == (
        ("landholder", "customer"), "joan@example.org", "01353 555 0177",
    )  # fmt: skip


def test_erasing_asks_first_and_its_safe_answer_leaves_everything(seat: Seat) -> None:
    asked: list[Question] = []
    seat.desk.asked.connect(asked.append)
    people = front(seat, "people")
    people._erase.click()
    seat.settle()
    (question,) = asked
    assert question.title == "Erase Joan Merry?"
    assert "cannot be taken back" in question.text
    assert tuple(question.answers) == (KEEP, ERASE)
    question.then(KEEP)
    question.then(None)
    seat.settle()
    assert read(seat, list_parties)[0].name == "Joan Merry"


def test_an_erased_person_is_out_of_the_file_and_a_backup_without_it_follows(seat: Seat) -> None:
    asked: list[Question] = []
    seat.desk.asked.connect(asked.append)
    people = front(seat, "people")
    people._erase.click()
    seat.settle()
    asked[0].then(ERASE)
    seat.until(lambda: any("Backup written" in said.text for said in seat.said))
    assert any("nothing of it is left" in said.text for said in seat.said)
    seat.settle()
    file = seat.desk.ledger.file
    assert file is not None
    assert b"Joan Merry" not in file.read_bytes()
    assert read(seat, list_parties)[0].name == "Erased 1"
    assert people._change.isHidden()
    assert not people._clean.isHidden()
    assert len(backups_of(file)) == 1, "a backup without the person is written at once"
    assert b"Joan Merry" not in backups_of(file)[0].read_bytes()


def test_somebody_leaves_the_crew_by_keys(seat: Seat) -> None:
    crew = front(seat, "crew")
    key(seat, crew.table, Qt.Key.Key_E, CTRL)
    fill(seat, crew, name="Kay Pell-Hart", works="no")
    (member,) = read(seat, list_crew)
    assert (member.initials, member.name, member.works_here) == ("KP", "Kay Pell-Hart", False)
    key(seat, crew.table, Qt.Key.Key_N, CTRL)
    fill(seat, crew, initials="kp", name="Ken Pugh")
    assert "has the initials KP already" in crew.side.form().fields["initials"].message()
    fill(seat, crew, initials="KPU")
    assert [member.initials for member in read(seat, list_crew)] == ["KPU", "KP"]


def test_a_retired_vehicle_is_no_longer_offered_for_a_move_until_it_is_taken_into_use_again(
    seat: Seat,
) -> None:
    vehicles = front(seat, "vehicles")
    for retired, offered in (("yes", []), ("no", ["Blue van"])):
        key(seat, vehicles.table, Qt.Key.Key_Return)
        fill(seat, vehicles, retired=retired, payload="850")
        (van,) = read(seat, list_vehicles)
        assert ((van.retired_on is not None), van.payload_g) == (retired == "yes", 850_000)
        choices = read(seat, move_choices, seat.desk.clock.today())
        assert [one.name for one in choices.vehicles] == offered


def save_hives(seat: Seat, **values: str) -> None:
    seat.place.show_what("hives")
    seat.place.hives.set_values(values)
    key(seat, seat.place.hives.fields["hive_type"].editor, Qt.Key.Key_Return, CTRL)


def test_the_usual_hive_and_what_n_fills_in_are_settled_in_one_act(seat: Seat) -> None:
    before = seat.desk.newest_act
    save_hives(
        seat, hive_type="Smith", super_full_g="9.5", marks_1="ol q/r", from_1="10 Mar", season_1="first looks"
    )
    farm = read(seat, farm_settings)
    assert (farm.hive_type, farm.super_full_g, seat.desk.newest_act) == ("Smith", 9_500, before + 1)
    season = farm.normals[1]
    assert (season.name, season.month, season.day) == ("first looks", 3, 10)
    assert (season.entry.outcome, season.entry.queen_state) == (Outcome.LOOKED, QueenState.RIGHT)
    assert season.entry.eggs is None
    assert len(farm.normals) == 4


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("marks_2", "ol %9", "% is no mark"),
        ("from_0", "31 Feb", "31 Feb"),
        ("brood_boxes", "0", "goes from 1 to 9"),
        ("super_full_g", "much", "much"),
        ("season_3", "", "has a name"),
    ],
)
def test_what_is_wrong_with_hives_and_visits_is_said_beside_its_field(
    seat: Seat, field: str, value: str, said: str
) -> None:
    before = seat.desk.newest_act
    save_hives(seat, **{field: value})
    assert said in seat.place.hives.fields[field].message()
    assert seat.desk.newest_act == before


def test_article_numbers_are_held_against_their_check_digit(seat: Seat) -> None:
    """629104150021 with 3 behind it is the worked example of GS1's check digit calculator."""
    seat.place.show_what("farm")
    form = seat.place.form
    for text, said in (("340 6291041500214", "does not check"), ("6291041500213", "cannot be read")):
        form.set_values({"gtins": text})
        key(seat, form.fields["name"].editor, Qt.Key.Key_Return, CTRL)
        assert said in form.fields["gtins"].message()
        form.fields["gtins"].clear_message()
        form.main.on()
    form.set_values({"gtins": "340 6291041 500213\n", "infant_caution": "no", "food_name": "Heather honey"})
    key(seat, form.fields["name"].editor, Qt.Key.Key_Return, CTRL)
    farm = read(seat, farm_settings)
    assert (farm.gtins, farm.infant_caution, farm.food_name) == (
        ((340, "6291041500213"),),
        False,
        "Heather honey",
    )
