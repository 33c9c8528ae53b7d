"""Sheets of labels fit on their page, and a bad measure is named."""

from __future__ import annotations

from dataclasses import asdict, replace

import pytest

from beeledger.base.findings import Grade
from beeledger.rules.label_sheets import check_sheet, load_sheets, read_sheet, sheets_for

SHEET = load_sheets()["jar-90x50"]
A4 = (210.0, 297.0)  # ISO 216


def test_sheets_for_jars_small_jars_buckets_and_a_roll_are_there():
    assert list(load_sheets()) == ["bucket-95x135", "jar-90x50", "roll-90x50", "small-60x34"]
    assert {(s.page_width, s.page_height) for s in load_sheets().values() if not s.roll} == {A4}


@pytest.mark.parametrize("key", list(load_sheets()))
def test_every_label_of_a_sheet_lies_on_its_page_and_over_no_other(key):
    sheet = load_sheets()[key]
    corners = [sheet.place(index) for index in range(sheet.labels)]
    assert len(set(corners)) == sheet.labels
    assert min(x for x, _ in corners) > 0
    assert max(x for x, _ in corners) + sheet.label_width < sheet.page_width
    assert max(y for _, y in corners) + sheet.label_height < sheet.page_height
    for x, y in corners:
        for other_x, other_y in corners:
            apart = abs(x - other_x) >= sheet.label_width or abs(y - other_y) >= sheet.label_height
            assert apart or (x, y) == (other_x, other_y)


@pytest.mark.parametrize("key", list(load_sheets()))
def test_a_sheet_lies_in_the_middle_of_its_page(key):
    sheet = load_sheets()[key]
    x, y = sheet.place(sheet.labels - 1)
    assert sheet.page_width - x - sheet.label_width == pytest.approx(sheet.left)
    assert sheet.page_height - y - sheet.label_height == pytest.approx(sheet.top)


def test_labels_are_counted_along_the_rows():
    assert SHEET.place(0) == (12.5, 19.5)
    assert SHEET.place(1) == (107.5, 19.5)
    assert SHEET.place(2) == (12.5, 71.5)
    with pytest.raises(ValueError, match="labels 0 to 9, not 10"):
        SHEET.place(10)


@pytest.mark.parametrize(
    ("labels", "first", "pages"), [(0, 0, 0), (1, 0, 1), (10, 0, 1), (11, 0, 2), (10, 1, 2), (9, 1, 1)]
)
def test_a_begun_sheet_is_used_up_first(labels, first, pages):
    assert SHEET.pages_for(labels, first) == pages


def test_a_jar_finds_its_sheets():
    assert [sheet.key for sheet in sheets_for(454)] == ["jar-90x50", "roll-90x50"]
    assert [sheet.key for sheet in sheets_for(42)] == ["small-60x34"]
    assert sheets_for(20) == ()


@pytest.mark.parametrize(
    ("change", "codes"),
    [
        ({"rows": 6}, {"sheet.off-page"}),
        ({"left": -1.0}, {"sheet.off-page"}),
        ({"across": 80.0}, {"sheet.overlap"}),
        ({"down": 49.0}, {"sheet.overlap"}),
        ({"corner": 25.1}, {"sheet.corner"}),
        ({"columns": 0}, {"sheet.empty"}),
        ({"label_width": 0.0}, {"sheet.empty"}),
    ],
)
def test_a_bad_measure_is_refused(change, codes):
    found = check_sheet(replace(SHEET, **change))
    assert {finding.code for finding in found if finding.grade is Grade.REFUSED} == codes


def test_a_label_at_the_very_edge_is_doubtful_on_a_sheet_but_not_on_a_roll():
    edge = replace(SHEET, left=3.0)
    assert [(f.code, f.grade) for f in check_sheet(edge)] == [("sheet.edge", Grade.DOUBTFUL)]
    assert check_sheet(replace(edge, roll=True)) == []


def test_a_file_with_a_foreign_or_missing_measure_is_named():
    measures = {key: value for key, value in asdict(SHEET).items() if key != "key"}
    assert read_sheet("jar-90x50", measures) == SHEET
    with pytest.raises(ValueError, match="gutter is not a measure"):
        read_sheet("mine", measures | {"gutter": 2})
    del measures["down"]
    with pytest.raises(ValueError, match="down is missing"):
        read_sheet("mine", measures)


def test_a_label_may_end_with_its_page_and_touch_the_next():
    full = replace(
        SHEET, left=0.0, across=105.0, label_width=105.0, top=0.0, rows=1, label_height=297.0, roll=True
    )
    assert check_sheet(full) == []
    assert check_sheet(replace(full, corner=52.5)) == []
    (found,) = check_sheet(replace(full, label_height=297.5))
    assert found.what == "down the labels end at 297.5 mm of 297.0 mm"


def test_four_millimetres_from_the_edge_are_enough():
    assert check_sheet(replace(SHEET, left=4.0)) == []
    assert check_sheet(replace(SHEET, left=3.9)) != []
