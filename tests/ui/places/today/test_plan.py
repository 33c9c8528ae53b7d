"""A day is planned by keys from Today: asked for, found, changed, left; and what is said where it cannot be."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.parties import NewVehicle, add_vehicle
from beeledger.operations.sites import NewSite, add_site, change_site
from beeledger.rules.day_plan import Van
from beeledger.ui.desk.jobs import Job
from beeledger.ui.places.today.plan import searched
from beeledger.ui.places.today.plan_form import DayWish
from tests.builders.yards import LOOKED, Yard, yard
from tests.ui.places.sitting import Seat, seated

CTRL = Qt.KeyboardModifier.ControlModifier


def due_at(ledger: Ledger, name: str, mark: str, grid: str = "") -> Yard:
    place = yard(ledger, name, mark)
    if grid:
        perform(ledger, change_site, place.site, NewSite(name, grid=grid))
    place.post(date(2026, 5, 5), **{f"h{mark}": LOOKED})
    return place


@pytest.fixture
def farm(sqlite_ledger: Ledger) -> Ledger:
    """Home, two sites 5 and 10 km to the east of it, one nobody gave a grid reference."""
    perform(sqlite_ledger, add_site, NewSite("Home", grid="SO 400 600", kind="home"))
    due_at(sqlite_ledger, "Near Drove", "3", "SO 450 600")
    due_at(sqlite_ledger, "Far Drove", "7", "SO 500 600")
    due_at(sqlite_ledger, "Lost Ley", "12")
    return sqlite_ledger


@pytest.fixture
def seat(farm: Ledger, qtbot, tmp_path) -> Iterator[Seat]:
    with seated(farm, "today", qtbot, tmp_path / "desk") as found:
        yield found


def press(seat: Seat, key: Qt.Key, modifier: Qt.KeyboardModifier = CTRL) -> None:
    QTest.keyClick(seat.place.plan.table, key, modifier)


def names(seat: Seat) -> list[str]:
    """The second column from above."""
    return [row.cells[1].text for row in seat.place.plan.table.records.rows_shown()]


def planned(seat: Seat) -> None:
    """Two vans, and the form answered as it stands."""
    for name in ("Blue van", "Red van"):
        perform(seat.desk.ledger, add_vehicle, NewVehicle(name, 20))
    QTest.keyClick(seat.place.table, Qt.Key.Key_D, CTRL)
    seat.settle()
    form = seat.place.side.form()
    form.set_values({form_field(form, "Red van"): "no"})
    QTest.keyClick(form.fields["on"].editor, Qt.Key.Key_Return, CTRL)
    seat.settle()


def form_field(form, label: str) -> str:
    return next(name for name, field in form.fields.items() if field.editor.accessibleName() == label)


def test_a_day_is_planned_and_what_has_no_spot_stands_below_with_its_reason(seat: Seat):
    planned(seat)
    assert seat.place.stack.currentWidget() is seat.place.plan
    plan = seat.place.plan.planned
    assert plan.on == date(2026, 5, 15)
    assert sorted(names(seat)[1:3]) == ["Far Drove", "Near Drove"]
    assert names(seat)[3:] == ["Left out", "Lost Ley"]
    assert plan.no_stop == (("Lost Ley", "it has no grid reference yet"),)
    press(seat, Qt.Key.Key_Escape, Qt.KeyboardModifier.NoModifier)
    assert seat.place.stack.currentWidget() is seat.place.front


def test_stops_move_by_keys_and_the_times_follow_at_once(seat: Seat):
    planned(seat)
    first, second = names(seat)[1:3]
    table = seat.place.plan.table
    out = table.records.rows_shown()[0].cells[5].text
    press(seat, Qt.Key.Key_Down)
    assert names(seat)[1:3] == [second, first]
    press(seat, Qt.Key.Key_Delete, Qt.KeyboardModifier.NoModifier)
    assert names(seat)[1:4] == [second, "Left out", first]
    assert table.records.rows_shown()[0].cells[5].text < out
    assert table.chosen() == [("stop", seat.place.plan.planned.problem.stops.index(stop_named(seat, first)))]
    press(seat, Qt.Key.Key_Up)
    assert sorted(names(seat)[1:3]) == sorted([first, second])


def stop_named(seat: Seat, name: str):
    return next(stop for stop in seat.place.plan.planned.problem.stops if stop.name == name)


def test_a_stop_goes_to_the_other_van_and_not_beyond_the_last(seat: Seat):
    planned(seat)
    plan = seat.place.plan
    vans = plan.planned.problem.vans
    both = replace(
        plan.planned,
        problem=replace(plan.planned.problem, vans=(*vans, *vans)),
        lanes=(*plan.planned.lanes, ()),
    )
    plan.show_plan(both)
    stop = plan.planned.lanes[0][0]
    press(seat, Qt.Key.Key_Right)
    assert plan.planned.where(stop) == (1, 0)
    press(seat, Qt.Key.Key_Right)
    assert plan.planned.where(stop) == (1, 0)
    press(seat, Qt.Key.Key_Left)
    assert plan.planned.where(stop) == (0, 0)


def test_the_route_card_is_shown_by_ctrl_p_and_escape_comes_back_to_the_plan(seat: Seat):
    planned(seat)
    press(seat, Qt.Key.Key_P)
    seat.settle()
    paper = seat.place.paper
    assert seat.place.stack.currentWidget() is paper
    assert (paper.printed.about.key, paper.printed.record.vans[0].name) == ("route-card", "Blue van")
    QTest.keyClick(paper.preview, Qt.Key.Key_Escape)
    assert seat.place.stack.currentWidget() is seat.place.plan
    seat.place.plan.sheets.click()
    seat.settle()
    assert (paper.printed.about.key, len(paper.printed.pages)) == ("round-sheet", 2)


def test_without_a_van_it_is_said_where_to_add_one(seat: Seat):
    seat.place.plan_day()
    seat.settle()
    assert seat.place.side.form() is None
    assert (seat.said[-1].text, seat.said[-1].remedy) == (
        "No van is in the record",
        "Add one in Settings, under Vehicles",
    )


def test_a_site_without_grid_reference_alone_is_no_plan_and_that_is_said(seat: Seat):
    lost = next(number for number, line in seat.place.lines.items() if line.site == "Lost Ley")
    seat.place.table.choose([lost])
    planned(seat)
    assert seat.place.stack.currentWidget() is seat.place.front
    assert "Lost Ley, it has no grid reference yet" in seat.said[-1].text


def test_hours_that_end_before_they_begin_and_a_day_gone_by_are_told_beside_the_field(seat: Seat):
    perform(seat.desk.ledger, add_vehicle, NewVehicle("Blue van", 20))
    seat.place.plan_day()
    seat.settle()
    form = seat.place.side.form()
    until = next(name for name in form.fields if name.startswith("until"))
    form.set_values({"on": "13/5/2026", until: "7:00"})
    form.submit()
    assert form.fields["on"].state == form.fields[until].state == "now"
    assert seat.place.plan.planned is None


def test_a_search_that_is_asked_to_stop_still_gives_the_best_so_far(seat: Seat):
    job = Job("Planning")
    told: list[int] = []
    job.report = lambda moved: told.append(moved.done)
    wish = DayWish(date(2026, 5, 15), (Van("Blue van", 8 * 3600, 17 * 3600),))
    whole = searched(seat.desk, job, wish, {})
    assert told[0] == 25
    assert job.done == job.total
    job.stop.set()
    stopped = searched(seat.desk, job, wish, {})
    assert job.done == 1
    assert {stop.name for stop in stopped.problem.stops} == {stop.name for stop in whole.problem.stops}
