"""What the log shows of a move, and what the fields of its form come to."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime
from typing import Any

import pytest

from beeledger.queries.move_typing import ReadMove
from beeledger.queries.records.move_desk import MoveRow
from beeledger.ui.places.moves.forms import count_words, missing_in, typed_move
from beeledger.ui.places.moves.table import COLUMNS, marks_words, move_row
from beeledger.ui.widgets.marks import Mark

TODAY = date(2026, 5, 14)
MOVE = MoveRow(
    7, date(2026, 4, 9), "delivered", "crop", datetime(2026, 4, 9, 19, 30, tzinfo=UTC),
    datetime(2026, 4, 9, 20, 10, tzinfo=UTC), ("Home Yard",), ("Ladder Hill",), 24, 0, 0, "Blue van", "RH",
    "Ladder Hill 2026", 3,
)  # fmt: skip
FIELDS = {
    "from": "1", "to": "2", "on": "9 Apr", "loaded": "20:30", "unloaded": "2115", "arrived_on": "",
    "hives": "12-18", "vehicle": "", "driver": "RH", "contract": "", "reason": "crop", "exempt": "", "note": "",
}  # fmt: skip


def texts(move: MoveRow) -> dict[str, str]:
    row = move_row(move, "Europe/London", 2026)
    return {column.key: cell.text for column, cell in zip(COLUMNS, row.cells, strict=True)}


def test_a_move_is_one_line_in_the_farm_s_own_time() -> None:
    assert texts(MOVE) == {
        "on": "Thu 9 Apr", "left": "20:30", "from": "Home Yard", "to": "Ladder Hill", "hives": "24",
        "vehicle": "Blue van", "driver": "RH", "contract": "Ladder Hill 2026", "state": "",
    }  # fmt: skip


def test_several_sites_are_counted_and_another_year_is_written() -> None:
    other = replace(
        MOVE, on=date(2025, 4, 9), from_sites=("Home Yard", "Far Drove"), contract="", reason="home"
    )
    shown = texts(other)
    assert (shown["on"], shown["from"], shown["contract"]) == ("9 Apr 2025", "2 sites", "home")
    assert "Far Drove" in move_row(other, "Europe/London", 2026).haystack()


@pytest.mark.parametrize(
    ("change", "words", "mark"),
    [
        ({}, "", None),
        ({"lost": 2, "left_behind": 1}, "2 lost", Mark.ODD),
        ({"left_behind": 1}, "1 left behind", None),
        ({"state": "planned"}, "planned", Mark.SOON),
    ],
)
def test_what_was_not_as_usual_is_said_in_the_state(
    change: dict[str, Any], words: str, mark: Mark | None
) -> None:
    cell = move_row(replace(MOVE, **change), "Europe/London", 2026).cells[-1]
    assert (cell.text, cell.mark) == (words, mark)


def test_numbers_in_a_row_are_joined_and_others_are_not() -> None:
    assert marks_words(["12", "13", "14", "21", "22", "P3-2", "101"]) == "12–14, 21, 22, P3-2, 101"
    assert marks_words([]) == ""


def test_the_fields_are_read_as_a_move() -> None:
    typed, findings = typed_move(FIELDS, TODAY)
    assert findings == []
    assert (typed.from_site_id, typed.to_site_id, typed.on) == (1, 2, date(2026, 4, 9))
    assert (typed.left_minute, typed.arrived_minute, typed.vehicle_id) == (1230, 1275, None)
    assert missing_in(typed) == []


@pytest.mark.parametrize(
    ("field", "value", "what"),
    [
        ("loaded", "25:00", "there is no 25:00"),
        ("unloaded", "late", "'late' is no time of day"),
        ("on", "31/02", "there is no such day as 31/02"),
        ("unloaded", "1:15", "Arrived before it left"),
    ],
)
def test_what_cannot_be_read_is_said_beside_its_field(field: str, value: str, what: str) -> None:
    _, findings = typed_move(FIELDS | {field: value}, TODAY)
    assert [(finding.where.field, finding.what) for finding in findings] == [(field, what)]


def test_past_midnight_is_no_fault_when_the_day_is_typed() -> None:
    typed, findings = typed_move(FIELDS | {"unloaded": "0:40", "arrived_on": "10 Apr"}, TODAY)
    assert findings == []
    assert (typed.arrived_on, typed.arrived_minute) == (date(2026, 4, 10), 40)


def test_what_is_still_empty_is_named() -> None:
    empty = dict.fromkeys(FIELDS, "")
    typed, _ = typed_move(empty, TODAY)
    assert [finding.where.field for finding in missing_in(typed)] == [
        "from", "to", "on", "loaded", "unloaded", "hives",
    ]  # fmt: skip


def test_how_many_go_is_said_of_how_many_stood_there() -> None:
    runs = count_words(ReadMove(None, (), ("1", "2"), ("3",), 8))
    assert [run.text for run in runs] == ["2 hives", "1 left behind", "of 8 that stood there"]
    assert count_words(ReadMove(None, ())) == []
