"""The pedigree on paper: who stands in which box, and what is not known."""

from __future__ import annotations

from beeledger.queries.records.pedigree import Pedigree
from beeledger.queries.records.queens import QueenName
from beeledger.reporting.documents.pedigree import render_pdf
from beeledger.reporting.pictures import page_count, page_text
from beeledger.rules.pedigree import Descent, MatingKind, on_both_sides, pedigree
from tests.reporting.examples import FARM, HOSTILE, MADE

DRONES = MatingKind.DRONES
KNOWN = {
    1: Descent(2, MatingKind.OPEN),
    2: Descent(4, DRONES, (3,)),
    3: Descent(5),
    4: Descent(6, DRONES, (7, 8)),
    5: Descent(None, MatingKind.POOLED),
    6: Descent(None, DRONES, (5,)),
}


def record(line: str = "Alder") -> Pedigree:
    boxes = pedigree(1, KNOWN)
    names = {
        number: QueenName(number, f"{25 - number}-00{number}", 2025 - number, True, line)
        for number in range(1, 9)
    }
    return Pedigree(names[1], 3, boxes, names, on_both_sides(boxes), "open, 12 Jun 2025")


def words(made: Pedigree) -> str:
    pdf = render_pdf(made, FARM, MADE)
    return " ".join(" ".join(page_text(pdf, page).split()) for page in range(page_count(pdf)))


def test_every_ancestor_stands_in_the_drawing_and_in_the_list():
    text = words(record())
    for number in range(1, 9):
        assert text.count(f"{25 - number}-00{number}") >= 2
    assert text.count("drones of") >= 4


def test_what_is_not_known_says_which_kind_of_unknown_it_is():
    text = words(record())
    for said in ("pooled semen", "dam not recorded", "mating not recorded"):
        assert said in text
    assert "inbreeding is not reckoned" in text
    assert "F 0" not in text


def test_an_ancestor_on_both_sides_is_named():
    assert "On both sides: 20-005" in words(record())


def test_one_sheet_holds_the_drawing():
    pdf = render_pdf(record(), FARM, MADE)
    assert "great-grandparents" in page_text(pdf, 0)
    assert "17-008" in page_text(pdf, 0)
    assert page_count(pdf) == 2


def test_hostile_words_come_out_whole_in_the_list():
    text = words(record(HOSTILE)).replace(" ", "")
    assert text.count("x") >= 200
    assert text.count("&Sons=1+1") >= 1


def test_the_same_record_gives_the_same_bytes():
    assert render_pdf(record(), FARM, MADE) == render_pdf(record(), FARM, MADE)
