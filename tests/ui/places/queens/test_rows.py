"""What a row, a foot and a card say of queens and grafts."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from beeledger.queries.records.queens import (
    ColoniesSay,
    ColonySays,
    Graft,
    QueenLine,
    QueenName,
)
from beeledger.rules.pedigree import MatingKind
from beeledger.rules.queens import graft_calendar
from beeledger.ui.places.queens.card import kin_facts, kin_words, says_facts
from beeledger.ui.places.queens.graft_card import job_fact, next_words, share_words
from beeledger.ui.places.queens.table import graft_row, graft_sums, mated_words, queen_row, state_cell, sums
from beeledger.ui.widgets.marks import Mark

TODAY = date(2026, 5, 14)
LINE = QueenLine(
    1, "25-114", 2025, True, True, "Alder", None, None, 2, "23-061", MatingKind.DRONES, "Quarry Piece",
    date(2025, 6, 12), 7, "12", 5, "Ash Lane", date(2025, 6, 30), "right", TODAY, None, None,
)  # fmt: skip
GRAFT = Graft(
    1, date(2026, 5, 4), QueenName(2, "23-061", 2023, True), 7, "12", 40, 31, None, None, None, None
)


def texts(line: QueenLine) -> list[str]:
    return [cell.text for cell in queen_row(line).cells]


def test_a_queen_in_a_row() -> None:
    assert texts(LINE) == [
        "blue 25-114", "12", "Ash Lane", "Alder", "23-061", "known drones", "30 Jun 2025", "laying",
    ]  # fmt: skip
    assert queen_row(LINE).cells[0].disc == "blue"
    assert mated_words(LINE) == "drones of known mothers, Quarry Piece"
    assert "at Ash Lane" in queen_row(LINE).search


def test_what_is_not_known_is_blank_and_never_nought() -> None:
    bare = QueenLine(
        1, None, None, None, None, None, None, None, None, "", None, "", None, None, None, None, "", None, None, None,
        None, None,
    )  # fmt: skip
    assert texts(bare) == ["not known", "", "", "", "", "", "", "in no colony"]


def test_a_state_that_needs_a_person_has_its_mark_and_word() -> None:
    assert state_cell(replace(LINE, state="virgin")).mark is Mark.ODD
    assert state_cell(replace(LINE, state="drone_layer")).text == "drone layer"
    assert state_cell(replace(LINE, state="drone_layer")).mark is Mark.LATE
    assert state_cell(replace(LINE, state=None)).text == ""


def test_an_ended_queen_says_of_what_and_on_which_day() -> None:
    assert texts(replace(LINE, ended_on=TODAY, end_cause="failing"))[-2:] == ["14 May 2026", "failing"]


def test_the_foot_counts_queens_by_year() -> None:
    lines = [LINE, LINE, replace(LINE, year=2026), replace(LINE, year=None)]
    assert [run.text for run in sums(lines)] == ["4 queens", "2026: 1", "2025: 2", "year not known: 1"]


def test_means_say_what_they_rest_on_and_what_nobody_wrote_is_left_out() -> None:
    says = ColoniesSay(
        temper=ColonySays(2.5, 2), cells=ColonySays(1 / 3, 6), honey_g=27_400, supers=3, takes=2
    )
    facts = {fact.name: (fact.value, fact.second) for fact in says_facts(says)}
    assert facts == {
        "Temper": ("2.5 of 5", "2 looks: too few to rank by"),
        "Queen cells found": ("at 33 % of looks", "6 looks that said"),
        "Honey taken": ("27 kg", "3 supers in 2 takes, estimated when taken"),
    }
    assert says_facts(ColoniesSay()) == []


def test_sisters_are_told_by_where_they_are_or_what_they_ended_of() -> None:
    living = QueenName(3, "25-115", 2025, True, hive="9")
    ended = QueenName(4, "25-116", 2025, True, ended_on=TODAY, end_cause="lost")
    assert [(fact.name, fact.value) for fact in kin_facts((living, ended))] == [
        ("blue 25-115", "hive 9"),
        ("blue 25-116", "lost, 2026"),
    ]
    assert kin_words((living, ended)) == "1 living, 1 ended"


def test_a_graft_in_a_row_and_its_sums() -> None:
    assert [cell.text for cell in graft_row(GRAFT, TODAY).cells] == [
        "4 May", "red 23-061", "12", "40", "31", "", "", "", "",
    ]  # fmt: skip
    assert graft_sums([GRAFT, replace(GRAFT, taken=None)]) == {"grafted": "80", "taken": "31"}
    assert (share_words(31, 40), share_words(None, 40), share_words(3, None)) == ("78 %", "", "")


def test_the_calendar_marks_today_and_pales_what_is_past() -> None:
    jobs = {job.code: job for job in graft_calendar(date(2026, 5, 4))}
    today = job_fact(jobs["place_cells"], TODAY)
    assert (today.mark, today.value) == (Mark.TODAY, "today, Thu 14 May")
    assert job_fact(jobs["sealed"], TODAY).ink == "ink3"
    assert job_fact(jobs["laying"], TODAY).value == "Thu 28 May"
    assert next_words(list(jobs.values()), TODAY) == "next: place the ripe cells, Thu 14 May"
    assert next_words(list(jobs.values()), date(2026, 8, 1)) == "all past"
