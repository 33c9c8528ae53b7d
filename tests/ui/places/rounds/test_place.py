"""Rounds at the desk: opened, typed by line and by cells, asked about, posted, taken back; all by keyboard."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest

from beeledger.base.findings import Grade
from beeledger.database.ledger import Ledger
from beeledger.model.colonies import BoxStack
from beeledger.model.rounds import Round, RoundEntry
from beeledger.operations.rounds import Line
from beeledger.rules.rounds.entry import CellStage, Entry, Outcome, QueenState
from tests.builders.yards import DAY, Yard, rows, sound, strips, yard
from tests.ui.places.rounds.evening import SINGLE, Typist, double_yard, evening

MARKS = ["301", "302", "305", "308", "311", "312"]


@pytest.fixture
def fen(sqlite_ledger: Ledger) -> Yard:
    strips(sqlite_ledger)
    place = double_yard(sqlite_ledger, "Fen End", MARKS, boxes=SINGLE)
    yard(sqlite_ledger, "Low Dyke", "77", "78")
    return place


@pytest.fixture
def desk(fen: Yard, qtbot, tmp_path) -> Iterator[Typist]:
    with evening(fen.ledger, qtbot, tmp_path / "desk") as typist:
        yield typist


@pytest.fixture
def sheet(desk: Typist) -> Any:
    return desk.open("Fen")


def typed(sheet: Any, row: int) -> Entry:
    return sheet.lines[row].typed


def open_codes(sheet: Any, row: int) -> list[str]:
    return [finding.code for finding in sheet.views[row].open]


def grid(desk: Typist) -> Any:
    return desk.seat.place.pane.grid


def test_a_round_opens_by_the_beginning_of_its_sites_name_and_the_keys_go_to_the_first_hive(desk, sheet):
    assert [line.mark for line in sheet.lines] == MARKS
    assert desk.seat.place.pane.strip.line.hasFocus()
    assert desk.seat.place.subtitle == "Fen End, 14 May 2026"


def test_a_site_that_could_be_two_is_asked_about_and_nothing_opens(desk):
    desk.press("Ctrl+N")
    desk.settle()
    desk.type("e\n")
    assert desk.seat.place.form.form.fields["site"].message() == "Fen End and Low Dyke"
    assert not desk.seat.place.rounds


def test_the_cells_fill_while_the_quick_line_is_typed(desk, sheet):
    desk.type("q e b8 f1")
    assert (typed(sheet, 0).brood_tenths, typed(sheet, 0).bees_tenths) == (80, 10)
    desk.type("1")
    assert typed(sheet, 0) == Entry(queen_seen=True, eggs=True, brood_tenths=80, bees_tenths=110)
    assert "brood 8 frames" in desk.seat.place.pane.strip.read_back.text()


def test_a_mark_that_is_not_read_is_underlined_named_and_holds_the_line(desk, sheet):
    desk.type("e b8 y3")
    assert [token.problem for token in sheet.lines[0].unread] == ["y3 is no mark"]
    assert "y3 is no mark" in desk.seat.place.pane.strip.read_back.text()
    assert open_codes(sheet, 0) == ["rounds.unread"]
    assert typed(sheet, 0) == Entry(eggs=True, brood_tenths=80)


def test_line_and_cells_are_two_views_of_one_entry(desk, sheet):
    desk.lines("e7 9 4 2")
    desk.press("F2")
    assert grid(desk).hasFocus()
    grid(desk).go_to_field(0, "brood_tenths")
    desk.type("8\n")
    desk.press("F2", "Up")
    assert desk.seat.place.pane.strip.line.text() == "e b8 f9 k4 t2"


def test_enter_goes_down_the_column_or_along_the_line_as_set(desk, sheet):
    desk.press("F2")
    grid(desk).go_to_field(0, "brood_tenths")
    desk.type("7\n8\n")
    assert [typed(sheet, row).brood_tenths for row in range(3)] == [70, 80, None]
    grid(desk).go_to_field(2, "brood_tenths")
    desk.press("F6")
    desk.type("6\n9\n")
    assert (typed(sheet, 2).brood_tenths, typed(sheet, 2).bees_tenths) == (60, 90)


def test_a_cell_takes_the_marks_of_its_fields_whole_or_without_their_letter(desk, sheet):
    desk.press("F2")
    for field, text in (
        ("queen_seen", "q"),
        ("cells_stage", "3o/l"),
        ("supers_on", "+1-2"),
        ("medicine_in", "o"),
    ):
        grid(desk).go_to_field(0, field)
        desk.type(f"{text}\n")
    entry = typed(sheet, 0)
    assert (entry.queen_seen, entry.cells_stage, entry.cells_count) == (True, CellStage.OPEN, 3)
    assert (entry.supers_on, entry.supers_off, entry.medicine_out) == (1, 2, "Fen strips")


def test_a_queen_that_is_right_by_normal_stays_right_when_she_is_seen(desk, sheet):
    desk.press("F2", "F8", "Up", "Home")
    desk.type("q\n")
    assert (typed(sheet, 0).queen_seen, typed(sheet, 0).queen_state) == (True, QueenState.RIGHT)
    desk.press("Up")
    desk.type("n\n")
    assert (typed(sheet, 0).queen_seen, typed(sheet, 0).queen_state) == (None, QueenState.QUEENLESS)
    desk.press("Up")
    desk.type("q\n")
    assert (typed(sheet, 0).queen_seen, typed(sheet, 0).queen_state) == (True, None)


def test_what_a_cell_cannot_read_stays_under_the_keys_until_it_is_mended_or_taken_back(desk, sheet):
    desk.press("F2")
    grid(desk).go_to_field(0, "brood_tenths")
    desk.type("8w\n")
    assert grid(desk).row == 0
    assert "w is no mark" in desk.seat.place.pane.strip.read_back.text()
    desk.press("Escape")
    assert typed(sheet, 0).brood_tenths is None
    assert grid(desk).typing is None


def test_marks_of_one_letter_beside_a_figure_go_to_their_own_cells(desk, sheet):
    desk.press("F2")
    grid(desk).go_to_field(0, "brood_tenths")
    desk.type("9qx")
    desk.press("Backspace")
    assert typed(sheet, 0) == Entry(brood_tenths=90, queen_seen=True)
    desk.press("Return")
    assert grid(desk).row == 1


def test_del_clears_a_cell_and_never_a_colony(desk, sheet):
    desk.lines("e7 9 4 2")
    desk.press("F2")
    grid(desk).go_to_field(0, "bees_tenths")
    desk.press("Delete")
    assert typed(sheet, 0) == Entry(eggs=True, brood_tenths=70, stores_g=4000, temper=2)
    assert len(sheet.lines) == len(MARKS)


def test_undo_and_redo_go_through_all_that_was_typed(desk, sheet):
    desk.lines("e7", "e8", "e9")
    desk.press("Ctrl+Z", "Ctrl+Z")
    assert [typed(sheet, row).brood_tenths for row in range(3)] == [70, None, None]
    desk.press("Ctrl+Y")
    assert [typed(sheet, row).brood_tenths for row in range(3)] == [70, 80, None]
    desk.press("Ctrl+Z", "Ctrl+Z", "Ctrl+Z", "Ctrl+Z")
    assert all(line.empty for line in sheet.lines)


def test_a_line_is_repeated_without_what_belongs_to_one_hive(desk, sheet):
    desk.lines("e7 9 4 2+; woodpecker")
    desk.press("Ctrl+D")
    assert typed(sheet, 1) == Entry(
        eggs=True, brood_tenths=70, bees_tenths=90, stores_g=4000, temper=2, supers_on=1
    )


def test_a_stretch_is_filled_down_and_normal_fills_what_is_left(desk, sheet):
    desk.lines("d7")
    desk.press("Up", "Shift+Down", "Shift+Down", "Ctrl+Down")
    assert [typed(sheet, row).next_days for row in range(4)] == [7, 7, 7, None]
    desk.press("Ctrl+F8")
    assert typed(sheet, 3) == sheet.habits.normal
    assert typed(sheet, 0) == replace(sheet.habits.normal, next_days=7)


def test_a_hive_is_found_by_its_number_and_the_next_empty_one_by_a_key(desk, sheet):
    desk.type("308\n")
    assert grid(desk).row == 3
    assert sheet.lines[0].empty
    desk.lines("n")
    desk.press("Ctrl+J")
    assert grid(desk).row == 5
    desk.type("/302\n")
    assert grid(desk).row == 1


def test_the_whole_site_is_fed_by_one_line_and_the_dead_are_left_out(desk, sheet):
    desk.lines("z/s", "n")
    desk.press("F7")
    desk.type("l2 sc-; gate code changed\n")
    assert sheet.views[0].entry == Entry(outcome=Outcome.DEAD, cause=typed(sheet, 0).cause)
    assert [sheet.views[row].entry.feed_ml for row in (1, 2)] == [2000, 2000]
    assert sheet.head.note == "gate code changed"
    desk.press("Ctrl+Z")
    assert sheet.views[1].entry.feed_ml is None


def test_a_hive_that_only_got_the_whole_sites_feed_is_fed_and_not_opened(desk, sheet, fen: Yard):
    desk.lines("n", "z/s")
    desk.press("F7")
    desk.type("l2")
    strip = desk.seat.place.pane.strip
    assert "goes to 5 hives, 4 of them not opened" in strip.read_back.text()
    desk.type("\n")
    at = grid(desk).cells.columnCount() - 1
    shown = [grid(desk).cells.index(row, at).data() for row in range(6)]
    assert ["fed, not opened" in words for words in shown] == [False, False, True, True, True, True]
    assert "1 of 6 looked at" in desk.seat.place.pane.foot.accessibleName()
    assert "4 fed, not opened" in desk.seat.place.pane.foot.accessibleName()
    desk.press("Ctrl+Return")
    desk.settle()
    said = [row.outcome for row in rows(fen.ledger, RoundEntry)]
    assert said == ["looked", "dead", *["not_opened"] * 4]


def test_a_figure_that_cannot_be_true_holds_the_posting_and_the_first_is_one_key_away(desk, sheet):
    desk.lines("n", "e13", "n")
    bar = desk.seat.place.pane.bar
    assert "1 cannot be true and holds the posting" in bar.words.text()
    assert not bar.post.isEnabled()
    assert bar.post.reason == "1 line cannot be posted as it stands"
    desk.press("Ctrl+Return")
    assert grid(desk).row == 1
    assert rows(sheet_ledger(desk), Round) == []


def sheet_ledger(desk: Typist) -> Ledger:
    return desk.seat.desk.ledger


def test_one_key_accepts_the_sheet_and_the_record_is_corrected_in_the_same_post(desk, sheet, fen: Yard):
    desk.lines("ns-3")
    assert open_codes(sheet, 0) == ["rounds.supers_off_never_on"]
    desk.press("Up", "F4", "Ctrl+Return")
    desk.settle()
    (entry,) = rows(fen.ledger, RoundEntry)
    assert entry.supers_off == 3
    assert rows(fen.ledger, BoxStack, colony_id=fen.hives["301"])[-1].supers == 0
    assert sound(fen.ledger)


def test_strips_under_supers_want_a_written_reason(desk, sheet, fen: Yard):
    desk.lines("nx")
    assert open_codes(sheet, 0) == ["rounds.medicine_under_supers"]
    desk.press("Up", "F4")
    desk.type("supers not for harvest\n")
    assert open_codes(sheet, 0) == []
    desk.press("Ctrl+Return")
    desk.settle()
    (entry,) = rows(fen.ledger, RoundEntry)
    assert entry.reason == "supers not for harvest"


def test_a_line_under_question_waits_in_the_draft_while_the_rest_posts(desk, sheet, fen: Yard):
    desk.lines("n", "n? stores 1 or 7", "n")
    desk.press("Ctrl+Return")
    desk.settle()
    assert len(rows(fen.ledger, RoundEntry)) == 2
    (waiting,) = desk.seat.place.rounds.values()
    assert [line.mark for line in waiting.sheet.lines] == ["302"]
    assert waiting.tab().state == "1 to settle"


def test_held_lines_stay_when_the_others_are_posted(desk, sheet, fen: Yard):
    desk.lines("n", "e13", "n")
    desk.press("Ctrl+Shift+Return")
    desk.settle()
    assert len(rows(fen.ledger, RoundEntry)) == 2
    (left,) = desk.seat.place.rounds.values()
    assert [(line.mark, line.text) for line in left.sheet.lines] == [("302", "e13")]


def test_a_post_taken_back_brings_its_draft_again(desk, sheet, fen: Yard):
    desk.lines("n", "n+; queen clipped")
    desk.press("Ctrl+Return")
    desk.settle()
    assert not desk.seat.place.rounds
    desk.seat.desk.undo(desk.seat.desk.last_done.act)
    desk.settle()
    (again,) = desk.seat.place.rounds.values()
    desk.settle()
    assert [line.text for line in again.sheet.lines[:2]] == ["n", "n+; queen clipped"]
    assert rows(fen.ledger, Round) == []
    desk.press("Ctrl+Return")
    desk.settle()
    assert len(rows(fen.ledger, RoundEntry)) == 2


def test_a_hive_that_stands_elsewhere_gets_a_line_and_is_moved_here_by_the_post(desk, sheet, fen: Yard):
    desk.type("/77\n")
    desk.settle()
    desk.type("n")
    assert open_codes(sheet, 0) == ["rounds.stands_elsewhere"]
    assert [finding.what for finding in sheet.views[0].open] == ["on record at Low Dyke"]
    desk.press("F4", "Ctrl+Return")
    desk.settle()
    assert "77" in fen.marks(DAY)


def test_a_stranger_without_a_number_gets_a_line_of_its_own(desk, sheet, fen: Yard):
    desk.type("/\n")
    desk.lines("os; at the end, strong")
    desk.press("Ctrl+Return")
    desk.settle()
    assert None in fen.marks(DAY)


def test_a_finding_of_the_act_stands_beside_its_line(desk, sheet, fen: Yard):
    desk.lines("n", "n")
    fen.post(DAY, h302=Line(Entry(outcome=Outcome.DEAD), colony_id=fen.hives["302"]))
    desk.press("Ctrl+Return")
    desk.settle()
    assert grid(desk).row == 1
    assert [finding.grade for finding in sheet.views[1].open] == [Grade.AGAINST]
    assert len(rows(fen.ledger, RoundEntry)) == 1


def test_what_another_desk_does_is_seen_while_the_line_is_typed(desk, sheet, fen: Yard):
    desk.lines("n", "n")
    fen.post(DAY, h302=Line(Entry(outcome=Outcome.DEAD), colony_id=fen.hives["302"]))
    desk.seat.desk._ask_for_news()
    desk.settle()
    desk.seat.until(lambda: open_codes(sheet, 1) == ["rounds.dead_on_record"])
    assert desk.seat.place.pane.strip.line.hasFocus()
    assert typed(sheet, 0) == sheet.habits.normal


def test_what_is_odd_is_confirmed_once_for_all_alike(desk, sheet):
    desk.lines("ne- c-", "ne- c-")
    assert [bool(view.odd) for view in sheet.views[:2]] == [True, True]
    desk.press("Up", "Shift+F4")
    assert [bool(view.odd) for view in sheet.views[:2]] == [False, False]


def test_a_question_mark_in_a_cell_keeps_the_line_for_the_crew(desk, sheet):
    desk.press("F2")
    grid(desk).go_to_field(0, "brood_tenths")
    desk.type("8?")
    assert typed(sheet, 0) == Entry(brood_tenths=80, question="brood 8?")
    assert sheet.views[0].waits


def test_a_block_from_a_spreadsheet_goes_into_the_cells(desk, sheet, qapp):
    qapp.clipboard().setText("7\t9\t4\n8\t10\tx3\n")
    desk.press("F2")
    grid(desk).go_to_field(0, "brood_tenths")
    desk.press("Ctrl+V")
    assert typed(sheet, 0) == Entry(brood_tenths=70, bees_tenths=90, stores_g=4000)
    assert typed(sheet, 1) == Entry(brood_tenths=80, bees_tenths=100)
    assert "302, stores" in desk.seat.place.pane.strip.read_back.text()


def test_numbers_that_were_swapped_are_said_on_the_whole_sites_line(desk, sheet, fen: Yard):
    desk.press("F7")
    desk.type("301=302@6/5\n")
    assert sheet.hive(0).colony_id == fen.hives["302"]
    desk.lines("n8", "n5?which")
    desk.press("Ctrl+Return")
    desk.settle()
    assert fen.line("302").colony_id == fen.hives["301"]
    (seen,) = rows(fen.ledger, RoundEntry)
    assert (seen.colony_id, seen.brood_tenths) == (fen.hives["302"], 80)
    (left,) = desk.seat.place.rounds.values()
    assert [(line.mark, line.colony_id) for line in left.sheet.lines] == [("302", fen.hives["301"])]


def test_the_walk_is_reversed_and_a_line_moved_and_the_post_keeps_it(desk, sheet, fen: Yard):
    desk.press("Ctrl+R", "Alt+Shift+Down")
    assert [line.mark for line in sheet.lines][:3] == ["311", "312", "308"]
    desk.press("Ctrl+F8", "Ctrl+Return")
    desk.settle()
    assert fen.marks(DAY)[:3] == ["311", "312", "308"]


def test_the_head_of_an_open_round_is_changed_and_the_marks_are_read_anew(desk, sheet):
    desk.lines("e7 9 4")
    desk.press("Ctrl+E")
    desk.seat.place.form.form.fields["stores"].set_value("frames")
    desk.type("0910")
    desk.press("Ctrl+Return")
    assert sheet.head.start_minute == 550
    assert typed(sheet, 0) == Entry(eggs=True, brood_tenths=70, bees_tenths=90, stores_tenths=40)
