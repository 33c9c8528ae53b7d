"""The sheet of marks: every mark of the table, and examples as the program itself reads them."""

from __future__ import annotations

from datetime import date

from beeledger.queries.marks_sheet import EXAMPLES, marks_sheet
from beeledger.reporting.documents.marks_sheet import render_pdf
from beeledger.reporting.pictures import page_count, page_text
from beeledger.rules.rounds.marks import marks_list
from beeledger.rules.rounds.normal import habits_for
from beeledger.rules.rounds.reading import parse
from tests.reporting.examples import FARM, MADE

TODAY = date(2026, 5, 14)


def words_of(record) -> str:
    pdf = render_pdf(record, FARM, MADE)
    return " ".join(" ".join(page_text(pdf, page).split()) for page in range(page_count(pdf)))


def test_every_mark_stands_with_its_meaning_on_one_sheet():
    record = marks_sheet(TODAY)
    assert page_count(render_pdf(record, FARM, MADE)) == 1
    text = words_of(record)
    assert [meaning for _, meaning in marks_list() if meaning not in text] == []


def test_the_letters_of_causes_and_next_visits_are_there():
    text = words_of(marks_sheet(TODAY))
    for words in ("z/s starvation", "d/f feed"):
        assert words in text


def test_every_example_is_read_without_a_problem():
    assert [line for line in EXAMPLES if not parse(line, habits_for(TODAY)).ok] == []
    read = dict(marks_sheet(TODAY).examples)
    assert read["n +"] == "hive looked, queen right, not seen, eggs seen, cells none, supers 1 on"
