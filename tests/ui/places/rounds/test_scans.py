"""A filled round sheet comes back from the scanner as a draft; what is unsure is asked beside its picture."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path
from random import Random
from typing import Any

import pytest
from PIL import Image, ImageDraw

from beeledger.database.ledger import Ledger
from beeledger.queries.round_paper import printed_sheet
from beeledger.reporting.documents.round_sheet import render_pdf
from beeledger.ui.desk.desk import FileQuestion
from tests.builders.scans import printed_pages, scanned
from tests.builders.yards import Yard, strips
from tests.reporting.examples import FARM, MADE
from tests.ui.places.rounds.evening import SINGLE, Typist, double_yard, evening

MARKS = ["301", "302", "305", "308", "311", "312"]
DAY = date(2026, 5, 14)
SEEN, EGGS, TEMPER_1, SUPER_ON, STRIPS_IN, BOXES = 0, 1, 2, 7, 9, 11


@pytest.fixture
def fen(sqlite_ledger: Ledger) -> Yard:
    strips(sqlite_ledger)
    return double_yard(sqlite_ledger, "Fen End", MARKS, boxes=SINGLE)


@pytest.fixture
def desk(fen: Yard, qtbot, tmp_path) -> Iterator[Typist]:
    with evening(fen.ledger, qtbot, tmp_path / "desk") as typist:
        yield typist


def paper_of(
    fen: Yard, marked: list[tuple[int, int]], stray: tuple[int, int] | None = None, **other: Any
) -> Image.Image:
    """The printed sheet with crosses in boxes, by line and box, and a slip of the pen that ends in one."""
    with fen.ledger.read() as session:
        pdf = render_pdf(replace(printed_sheet(session, fen.site, DAY), **other), FARM, MADE)
    page = printed_pages(pdf)[0]
    pen = ImageDraw.Draw(page.picture)
    for line, box in marked:
        left, top, right, low = page.boxes[line * BOXES + box]
        pen.line([(left + 3, top + 3), (right - 3, low - 3)], 30, 4)
        pen.line([(right - 3, top + 3), (left + 3, low - 3)], 30, 4)
    if stray:
        left, top, right, low = page.boxes[stray[0] * BOXES + stray[1]]
        pen.line([(left - 30, low + 12), ((left + right) / 2 + 2, (top + low) / 2 - 2)], 40, 4)
    return page.picture


def read_back(desk: Typist, path: Path) -> Any:
    """The scan read with the place's chord."""

    def answered(question: Any) -> None:
        if isinstance(question, FileQuestion):
            question.then(path)

    desk.seat.desk.asked.connect(answered)
    desk.press("Ctrl+Shift+S")
    desk.settle()
    desk.settle()
    return desk.seat.place.pane.sheet


def test_what_was_ticked_stands_in_the_draft_and_the_rest_is_blank(desk: Typist, fen: Yard, tmp_path):
    marked = [(0, SEEN), (0, EGGS), (0, TEMPER_1 + 2), (2, SUPER_ON), (4, EGGS)]
    path = tmp_path / "sheet.jpg"
    path.write_bytes(scanned(paper_of(fen, marked), Random(7)))
    sheet = read_back(desk, path)
    assert [line.mark for line in sheet.lines] == MARKS
    first = sheet.lines[0].typed
    assert (first.queen_seen, first.eggs, first.temper) == (True, True, 3)
    assert sheet.lines[2].typed.supers_on == 1
    assert [line.mark for line in sheet.lines if line.empty] == ["302", "308", "312"]
    assert (sheet.head.source, sheet.head.on, sheet.head.site) == ("scan", DAY, "Fen End")


@pytest.mark.parametrize(("key", "seen"), [("Y", True), ("N", None)])
def test_a_mark_that_is_not_sure_is_settled_with_one_key(desk: Typist, fen: Yard, tmp_path, key, seen):
    path = tmp_path / "sheet.png"
    paper_of(fen, [(1, EGGS)], stray=(3, SEEN)).save(path)
    sheet = read_back(desk, path)
    panel = desk.seat.place.pane.beside.scan
    assert sheet.lines[3].typed.queen_seen is None
    assert [one["hive"] for one in panel.questions()] == ["308"]
    assert panel.isVisible()
    desk.press("F3")
    assert panel.box.pixmap().width() > 100
    desk.press(key)
    assert sheet.lines[3].typed.queen_seen is seen
    assert panel.questions() == []
    assert not panel.hasFocus()


def test_the_line_of_paper_is_shown_beside_the_hive_in_focus_and_after_a_restart(fen: Yard, qtbot, tmp_path):
    path = tmp_path / "sheet.png"
    paper_of(fen, [(1, EGGS)], stray=(3, SEEN)).save(path)
    with evening(fen.ledger, qtbot, tmp_path / "desk") as first:
        read_back(first, path)
    with evening(fen.ledger, qtbot, tmp_path / "desk") as again:
        again.settle()
        pane = again.seat.place.pane
        pane.grid.go(3)
        assert pane.beside.scan.line_name.text() == "On paper, 308"
        assert pane.beside.scan.line.pixmap().height() > 50
        assert len(pane.beside.scan.questions()) == 1


def test_two_boxes_of_the_ladder_are_asked_about_and_strips_are_left_to_be_typed(
    desk: Typist, fen: Yard, tmp_path
):
    path = tmp_path / "sheet.png"
    paper_of(fen, [(1, TEMPER_1), (1, TEMPER_1 + 3), (2, STRIPS_IN)]).save(path)
    sheet = read_back(desk, path)
    assert sheet.lines[1].typed.temper is None
    assert [one["value"] for one in desk.seat.place.pane.beside.scan.questions()] == [1, 4]
    told = [(one["hive"], one["what"]) for one in sheet.place["read"]]
    assert ("305", "strips in is ticked") in told or ("305", "strips in are ticked") in told


def test_the_same_pages_read_again_change_nothing_that_was_typed(desk: Typist, fen: Yard, tmp_path):
    path = tmp_path / "sheet.png"
    paper_of(fen, [(1, EGGS)]).save(path)
    sheet = read_back(desk, path)
    desk.seat.place.pane.grid.go(0)
    desk.press("F2")
    desk.lines("q7 9")
    desk.press("Ctrl+Shift+S")
    desk.settle()
    assert desk.seat.place.pane.sheet is sheet
    assert sheet.lines[0].typed.brood_tenths == 70


def test_a_picture_without_codes_and_a_sheet_of_another_ledger_make_no_draft(
    desk: Typist, fen: Yard, tmp_path
):
    blank = io.BytesIO()
    Image.new("L", (800, 600), 255).save(blank, "PNG")
    path = tmp_path / "blank.png"
    path.write_bytes(blank.getvalue())
    read_back(desk, path)
    assert not desk.seat.place.rounds
    paper_of(fen, [(1, EGGS)], site="Hill Top").save(path)
    desk.press("Ctrl+Shift+S")
    desk.settle()
    assert not desk.seat.place.rounds
