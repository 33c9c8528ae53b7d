"""Today at the desk: where to go, the sheets for the crew, what cannot wait; and a ledger with nothing in it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from openpyxl import Workbook
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from beeledger.database.ledger import Ledger
from beeledger.model.colonies import Colony
from beeledger.model.sites import Site
from beeledger.operations.act import perform
from beeledger.operations.sites import NewSite, add_site, change_site
from beeledger.queries.counts import farm_size
from beeledger.queries.due import SiteDue
from beeledger.reporting.catalogue import Form
from beeledger.reporting.pictures import page_count, page_text
from beeledger.rules.due import Grade
from beeledger.rules.rounds.entry import Entry, Outcome
from beeledger.ui.parts.backups import write_backup
from beeledger.ui.places.today.table import (
    chosen_words,
    driving_order,
    due_row,
    has_reason,
    why_runs,
    work_words,
)
from beeledger.ui.places.today.waiting import backup_pressing
from beeledger.ui.widgets.painting import elisions
from tests.builders.yards import Yard, rows, yard
from tests.ui.places.sitting import Seat, seated

TODAY = date(2026, 5, 14)
LINE = SiteDue(
    1, "Gorse Ley", "GL", Grade.LATE, 6, date(2026, 5, 8), 31, 32, "18 swarm check · 9 strips out · 4 light", 165, 14_000,
    340_000, 260_000, None, None,
)  # fmt: skip
LOOK = Entry(outcome=Outcome.LOOKED, eggs=True)
HOME = ("Home", 340_000, 250_000)


def near(number: int, east: int, north: int) -> SiteDue:
    return SiteDue(
        number,
        f"Site {number}",
        "",
        Grade.TODAY,
        0,
        TODAY,
        5,
        10,
        "5 swarm check",
        45,
        None,
        east,
        north,
        None,
        None,
    )


@pytest.fixture
def drove(sqlite_ledger: Ledger) -> Yard:
    perform(sqlite_ledger, add_site, NewSite("Home", grid="SO 400 600", kind="home"))
    place = yard(sqlite_ledger, "Long Drove", "3", "7", "12")
    perform(sqlite_ledger, change_site, place.site, NewSite("Long Drove", grid="SO 430 640", way_in="gate 4"))
    dyke = yard(sqlite_ledger, "Low Dyke", "31", "32")
    perform(sqlite_ledger, change_site, dyke.site, NewSite("Low Dyke", grid="SO 410 650"))
    place.post(date(2026, 4, 28), h3=LOOK, h7=LOOK, h12=LOOK)
    dyke.post(date(2026, 5, 5), h31=LOOK, h32=LOOK)
    return place


@pytest.fixture
def seat(drove: Yard, qtbot, tmp_path) -> Iterator[Seat]:
    with seated(drove.ledger, "today", qtbot, tmp_path / "desk") as found:
        yield found


def shown(seat: Seat) -> list[str]:
    return [row.cells[0].text for row in seat.place.table.records.rows_shown()]


def test_a_row_counts_the_reasons_and_says_how_late():
    cells = due_row(LINE, TODAY).cells
    assert [cell.text for cell in cells] == [
        "Gorse Ley", "6 late", "31 / 32", "18 swarm check · 9 strips out · 4 light", "2 h 45", "14.0",
    ]  # fmt: skip
    assert cells[1].said() == "late, 6 days"


def test_the_numbers_of_the_reasons_are_strong():
    assert [(run.text, run.weight) for run in why_runs("9 strips out · 4 light") if run.text != "·"] == [
        ("9", 600), ("strips out", 400), ("4", 600), ("light", 400),
    ]  # fmt: skip


@pytest.mark.parametrize(("minutes", "words"), [(45, "45 min"), (60, "1 h 00"), (165, "2 h 45")])
def test_work_is_said_in_hours_and_minutes(minutes, words):
    assert work_words(minutes) == words


def test_a_kind_of_reason_is_found_by_its_whole_word():
    assert has_reason(LINE, "light")
    assert not has_reason(LINE, "super")


def test_the_drive_goes_from_home_always_on_to_the_nearest():
    far, close, middle = near(1, 340_000, 260_000), near(2, 340_000, 252_000), near(3, 340_000, 255_000)
    assert [line.site_id for line in driving_order([far, close, middle], HOME)] == [2, 3, 1]


def test_the_foot_says_the_work_and_an_estimate_of_the_drive():
    # 10 km out and 10 km back in a straight line; roads are taken as 1.3 times that: 26 km,
    # at 45 km/h 34.7 minutes (haulage.toml: common practice, no source).
    first, second = chosen_words([near(1, 340_000, 260_000)], HOME)
    assert [run.text for run in first] == ["1 site chosen", "5 hives due"]
    assert second[0].text == "45 min of work · about 26.0 km and 35 min of driving"


def test_sites_are_listed_worst_first(seat: Seat):
    assert shown(seat) == ["Long Drove", "Low Dyke"]
    assert seat.place.count.text() == "2 sites, 5 colonies due"
    assert seat.place.subtitle == "Thu 14 May 2026"


def test_the_space_bar_ticks_a_site_and_the_map_rings_it(seat: Seat, drove: Yard):
    seat.place.table.setFocus()
    QTest.keyClick(seat.place.table, Qt.Key.Key_Space)
    assert [line.site for line in seat.place.chosen_lines()] == ["Long Drove"]
    assert seat.place.round.isEnabled()
    assert "1 site chosen" in seat.place.foot.first.text()


def test_two_sites_are_ticked_by_keys_alone(seat: Seat):
    seat.place.table.setFocus()
    for key in (Qt.Key.Key_Space, Qt.Key.Key_Down, Qt.Key.Key_Space):
        QTest.keyClick(seat.place.table, key)
    assert "2 sites chosen" in seat.place.foot.first.text()


def test_without_a_choice_the_buttons_say_why_they_are_off(seat: Seat):
    assert seat.place.round.reason == seat.place.sheets.reason == "No site is chosen"


def test_enter_opens_the_round_of_a_site(seat: Seat):
    seat.place.table.setFocus()
    QTest.keyClick(seat.place.table, Qt.Key.Key_Return)
    assert seat.opened == [("rounds", "Long Drove")]


def test_a_click_on_the_map_ticks_and_unticks(seat: Seat, drove: Yard):
    seat.place.map.picked.emit(drove.site)
    assert [line.site for line in seat.place.chosen_lines()] == ["Long Drove"]
    seat.place.map.picked.emit(drove.site)
    assert seat.place.chosen_lines() == []


def test_sheets_of_several_sites_are_one_document_in_driving_order(seat: Seat, drove: Yard):
    seat.place.table.selectAll()
    QTest.keyClick(seat.place.table, Qt.Key.Key_P, Qt.KeyboardModifier.ControlModifier)
    seat.settle()
    printed = seat.place.paper.printed
    assert seat.place.stack.currentWidget() is seat.place.paper
    assert page_count(printed.pdf) == 2
    # From Home at SO 400 600, Low Dyke is 5.1 km away and Long Drove 5.0.
    assert "Long Drove" in page_text(printed.pdf, 0)
    assert "gate 4" in page_text(printed.pdf, 0)
    assert "Low Dyke" in page_text(printed.pdf, 1)
    assert printed.about.forms == (Form.PDF,)


def test_the_sheet_of_one_site_is_also_a_workbook_and_escape_comes_back(seat: Seat, drove: Yard):
    seat.place.table.choose([drove.site])
    seat.place.print_sheets()
    seat.settle()
    assert seat.place.paper.printed.about.forms == (Form.PDF, Form.WORKBOOK)
    QTest.keyClick(seat.place.paper, Qt.Key.Key_Escape)
    assert seat.place.stack.currentWidget() is seat.place.front


def test_a_chip_keeps_the_sites_with_that_reason(seat: Seat):
    seat.place.chips.choose("light")
    assert shown(seat) == []
    seat.place.chips.choose("swarm_check")
    assert shown(seat) == ["Long Drove", "Low Dyke"]


def test_what_cannot_wait_leads_to_where_it_is_done(seat: Seat):
    facts = seat.place.waiting.rows.facts()
    assert [fact.name for fact in facts] == ["No backup of this ledger yet"]
    seat.place.waiting.rows.setFocus()
    QTest.keyClick(seat.place.waiting.rows, Qt.Key.Key_Return)
    assert seat.opened == [("settings", None)]


def test_a_backup_written_meanwhile_is_no_longer_asked_for(seat: Seat):
    write_backup(seat.desk, owner=seat.place, then=lambda _path: None)
    seat.settle()
    assert [fact.name for fact in seat.place.waiting.rows.facts()] == ["Nothing is pressing"]


def test_a_backup_of_yesterday_waits_and_one_of_three_days_does_not():
    now = datetime(2026, 5, 14, 18, tzinfo=UTC)
    assert backup_pressing(datetime(2026, 5, 13, 18, tzinfo=UTC), now) == []
    (one,) = backup_pressing(datetime(2026, 5, 11, 17, tzinfo=UTC), now)
    assert one.title == "The last backup is 3 days old"


def test_no_figure_is_cut_at_the_smallest_window(drove: Yard, qtbot, tmp_path):
    elisions.on = True
    elisions.clear()
    try:
        with seated(drove.ledger, "today", qtbot, tmp_path / "desk", (1318, 696)) as seat:
            seat.place.grab()
        assert elisions.cut == []
    finally:
        elisions.on = False


def test_an_empty_ledger_welcomes_and_keeps_the_farms_name(sqlite_ledger: Ledger, qtbot, tmp_path):
    with seated(sqlite_ledger, "today", qtbot, tmp_path / "desk") as seat:
        welcome = seat.place.welcome
        assert welcome.isVisible()
        assert welcome.hives.reason == "Add a site first"
        QTest.keyClicks(welcome.farm.editor, "Fen End Farm")
        QTest.keyClick(welcome.farm.editor, Qt.Key.Key_Return)
        seat.settle()
        with sqlite_ledger.read() as session:
            assert farm_size(session).name == "Fen End Farm"
        welcome.site.click()
        assert seat.opened == [("sites", "new")]


def test_with_a_site_and_no_hive_the_next_step_is_the_hives(sqlite_ledger: Ledger, qtbot, tmp_path):
    site = perform(sqlite_ledger, add_site, NewSite("Long Drove")).result
    with seated(sqlite_ledger, "today", qtbot, tmp_path / "desk") as seat:
        assert seat.place.welcome.title.text() == "Next: the hives that stand there"
        seat.place.welcome.hives.click()
        assert seat.opened == [("colonies", ("found", site))]


def book(path: Path) -> Path:
    made = Workbook()
    sheet = made.active
    sheet.title = "Register"
    for row in (
        ("Site", "Grid ref", "Room for"), ("Ford Bank", "SO 392 751", 12), (),
        ("Hive", "Site", "Queen year", "Last looked at"), (1, "Ford Bank", 2024, "14/04/2026"), (2, "Ford Bank", 2025, "31/02/2026"),
        (3, "Ford Bank", 2025, "15/04/2026"),
    ):  # fmt: skip
        sheet.append(row)
    made.save(path)
    return path


def test_an_old_spreadsheet_is_shown_first_and_written_as_one_act(sqlite_ledger: Ledger, qtbot, tmp_path):
    file = book(tmp_path / "register.xlsx")
    with seated(sqlite_ledger, "today", qtbot, tmp_path / "desk") as seat:
        asked = []
        seat.desk.asked.connect(asked.append)
        seat.place.welcome.spreadsheet.click()
        asked[0].then(file)
        seat.settle()
        pane = seat.place.spreadsheet
        assert pane.isVisible()
        assert pane.write.text() == "Bring in 1 site and 2 hives"
        assert any("31/02/2026" in row.cells[3].text for row in pane.table.records.rows_shown())
        assert rows(sqlite_ledger, Site) == []
        QTest.keyClick(pane.table, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
        seat.settle()
        assert [site.name for site in rows(sqlite_ledger, Site)] == ["Ford Bank"]
        assert len(rows(sqlite_ledger, Colony)) == 2
        assert seat.place.front.isVisible()


def test_a_spreadsheet_that_is_left_writes_nothing(sqlite_ledger: Ledger, qtbot, tmp_path):
    file = book(tmp_path / "register.xlsx")
    with seated(sqlite_ledger, "today", qtbot, tmp_path / "desk") as seat:
        seat.place.spreadsheet._chosen(file)
        seat.settle()
        QTest.keyClick(seat.place.spreadsheet.table, Qt.Key.Key_Escape)
        assert seat.place.welcome.isVisible()
        assert rows(sqlite_ledger, Site) == []


def test_a_file_that_is_no_spreadsheet_is_said(sqlite_ledger: Ledger, qtbot, tmp_path):
    file = tmp_path / "register.xlsx"
    file.write_bytes(b"not a workbook")
    with seated(sqlite_ledger, "today", qtbot, tmp_path / "desk") as seat:
        seat.place.spreadsheet._chosen(file)
        seat.settle()
        assert seat.said
        assert seat.place.welcome.isVisible()
