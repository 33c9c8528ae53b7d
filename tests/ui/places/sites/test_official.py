"""Restrictions, official visits and samples at the desk: imposed, changed, released and written by keyboard."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from beeledger.database.ledger import Ledger
from beeledger.model.restrictions import OfficialVisit, Restriction, Sample
from beeledger.operations.act import perform
from beeledger.operations.restrictions import NewRestriction, impose_restriction
from beeledger.operations.sites import NewSite, add_site
from beeledger.queries.pressing import cannot_wait
from beeledger.rules.restrictions import Stops
from beeledger.rules.sites import GridReference
from beeledger.ui.widgets.marks import Mark
from tests.builders.yards import Yard, rows, yard
from tests.ui.places.sitting import Seat, seated

TODAY = date(2026, 5, 14)
BOTH = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier


@pytest.fixture
def drove(sqlite_ledger: Ledger) -> Yard:
    return yard(sqlite_ledger, "Long Drove", "3", "7")


@pytest.fixture
def seat(drove: Yard, qtbot, tmp_path) -> Iterator[Seat]:
    with seated(drove.ledger, "sites", qtbot, tmp_path / "desk") as found:
        yield found


def submit(seat: Seat) -> None:
    QTest.keyClick(seat.place.side.form(), Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    seat.settle()


def opened(seat: Seat, key: Qt.Key):
    QTest.keyClick(seat.place.table, key, BOTH)
    seat.until(lambda: seat.place.side.form() is not None)
    return seat.place.side.form()


def restrict(seat: Seat) -> None:
    form = opened(seat, Qt.Key.Key_R)
    QTest.keyClicks(form.fields["reason"].editor.lineEdit(), "European foul brood suspected")
    form.set_values({"begins_on": "12 May 2026", "begins_at": "14:30", "tools": "no", "reference": "N 31"})
    submit(seat)


def test_a_restriction_is_imposed_by_keyboard_and_stands_first_on_the_card(seat: Seat, drove: Yard):
    restrict(seat)
    (row,) = rows(drove.ledger, Restriction)
    assert (row.site_id, row.begins_on, row.stops_bees, row.stops_tools) == (
        drove.site,
        date(2026, 5, 12),
        True,
        False,
    )
    assert row.begins_at.hour == 13  # half past two on a summer's afternoon is half past one in UTC
    first = seat.place.card.force.facts()[0]
    assert (first.name, first.mark) == ("European foul brood suspected", Mark.HELD)
    assert first.second == "since 12 May 2026: bees, comb, honey and boxes stay"
    cell = seat.place.table.records.rows_shown()[0].cells[1]
    assert (cell.text, cell.mark) == ("restricted", Mark.HELD)
    assert (
        "Long Drove held" in seat.place.map.accessibleDescription()
        or seat.place.map.where(drove.site) is None
    )


def test_it_is_changed_from_its_line_and_released_only_by_a_reference(seat: Seat, drove: Yard):
    restrict(seat)
    force = seat.place.card.force
    force.setFocus()
    QTest.keyClick(force, Qt.Key.Key_Return)
    seat.until(lambda: seat.place.side.form() is not None)
    form = seat.place.side.form()
    assert (form.values()["begins_at"], form.values()["tools"]) == ("14:30", "no")
    form.set_values({"served_on": "13 May 2026"})
    submit(seat)
    assert rows(drove.ledger, Restriction)[0].served_on == date(2026, 5, 13)
    seat.place.card.official_buttons["Release"].click()
    form = seat.place.side.form()
    submit(seat)
    assert "written release is missing" in form.fields["reference"].message()
    form.set_values({"reference": "R 7", "at": "08:00", "on": "14 May 2026"})
    submit(seat)
    assert rows(drove.ledger, Restriction)[0].release_reference == "R 7"
    assert seat.place.card.force.facts() == ()
    assert [fact.value for fact in seat.place.card.official.facts()] == ["released 14 May 2026"]


def test_a_visit_a_sample_and_its_result_are_written_by_keyboard(seat: Seat, drove: Yard):
    form = opened(seat, Qt.Key.Key_V)
    form.set_values({"inspector": "M Okoro", "on": "12 May 2026", "purpose": "a contact trace"})
    submit(seat)
    (visit,) = rows(drove.ledger, OfficialVisit)
    form = opened(seat, Qt.Key.Key_S)
    form.set_values(
        {"what": "30 larvae", "kind": "larvae", "taken_on": "12 May 2026", "colony": str(drove.hives["7"]), "visit": str(visit.id)}
    )  # fmt: skip
    submit(seat)
    names = [fact.name for fact in seat.place.card.official.facts()]
    assert names == ["Visit of M Okoro", "Sample: 30 larvae of hive 7"]
    official = seat.place.card.official
    official.setFocus()
    QTest.keyClick(official, Qt.Key.Key_Down)
    QTest.keyClick(official, Qt.Key.Key_Return)
    seat.until(lambda: seat.place.side.form() is not None)
    seat.place.side.form().set_values({"outcome": "clear", "words": "nothing found"})
    submit(seat)
    (sample,) = rows(drove.ledger, Sample)
    assert (sample.outcome, sample.result, sample.colony_id, sample.visit_id) == (
        "clear", "nothing found", drove.hives["7"], visit.id
    )  # fmt: skip


def test_what_to_do_on_a_suspicion_is_said_where_it_is_entered(seat: Seat):
    form = opened(seat, Qt.Key.Key_R)
    said = " ".join(word.text() for word in form.findChildren(type(seat.place.card.first)))
    assert "move nothing" in said
    assert "tell the bee inspector first" in said
    assert "SI 2006/342" in said
    assert "tell the bee inspector first" in seat.place.card.first.text()


def test_a_circle_is_drawn_and_its_sites_are_marked(drove: Yard, qtbot, tmp_path):
    near = perform(drove.ledger, add_site, NewSite("Low Dyke", grid="SO 430 640")).result
    middle = GridReference(343_500, 264_000)
    new = NewRestriction("beetle", date(2026, 5, 2), middle=middle, radius_m=1_000, stops=Stops(inward=True))
    perform(drove.ledger, impose_restriction, new)
    with seated(drove.ledger, "sites", qtbot, tmp_path / "desk") as seat:
        assert seat.place.map._circles == [(343_500, 264_000, 1_000)]
        marks = {row.cells[0].text: row.cells[1].mark for row in seat.place.table.records.rows_shown()}
        assert marks == {"Long Drove": Mark.LATE, "Low Dyke": Mark.HELD}
        seat.place.show_what(near)
        seat.settle()
        assert seat.place.card.force.facts()[0].name == "a circle of 1.0 km with Low Dyke: beetle"


def test_today_names_what_is_restricted_before_all_else(drove: Yard):
    new = NewRestriction("foul brood", date(2026, 5, 2), site_id=drove.site)
    perform(drove.ledger, impose_restriction, new)
    clock = drove.ledger.clock
    with drove.ledger.read() as session:
        first = cannot_wait(session, clock.today(), clock.now())[0]
    assert (first.title, first.place, first.what) == ("Restricted: Long Drove", "sites", drove.site)
    assert first.why == "since 2 May: foul brood; nothing leaves without a licence"


def test_a_circle_around_the_site_is_imposed_and_changed_by_its_form(drove: Yard, qtbot, tmp_path):
    perform(drove.ledger, add_site, NewSite("Low Dyke", grid="SO 430 640"))
    with seated(drove.ledger, "sites", qtbot, tmp_path / "desk") as seat:
        seat.place.table.choose([2])
        seat.settle()
        form = opened(seat, Qt.Key.Key_R)
        assert not form.fields["radius"].isVisible()
        form.set_values({"reason": "small hive beetle", "scope": "area", "inward": "yes"})
        assert form.fields["middle"].isVisible()
        submit(seat)
        assert "needs its radius" in form.fields["radius"].message()
        form.set_values({"radius": "2.5"})
        submit(seat)
        seat.place.card.force.opened.emit(("restriction", 1))
        seat.until(lambda: seat.place.side.form() is not None)
        kept = seat.place.side.form().values()
        assert (kept["scope"], kept["radius"], kept["inward"]) == ("area", "2.5", "yes")
        submit(seat)
    (row,) = rows(drove.ledger, Restriction)
    assert (row.easting_m, row.northing_m, row.radius_m, row.stops_inward) == (343_000, 264_000, 2_500, True)
