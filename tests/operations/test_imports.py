"""An old register taken over into the ledger: written as one act, taken back as one, never doubled."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from beeledger.base.errors import Refused
from beeledger.base.findings import Where
from beeledger.database.checking.check import check_ledger
from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.colonies import Boxes
from beeledger.operations.imports import ComingHive, ComingSite, Imported, Register, import_register
from beeledger.operations.queens import NewQueen
from beeledger.operations.sites import NewSite, add_site
from beeledger.operations.undo import undo
from beeledger.queries.rounds import recent_rounds, sheet_for
from beeledger.queries.search import find
from beeledger.rules.rounds.entry import Entry, Outcome

MARCH, APRIL = date(2026, 3, 5), date(2026, 4, 6)
NATIONAL = Boxes("National", 1, 11, "national_brood", 0, 10)


def _hive(mark: str, site: str, row: int, seen: date | None = MARCH, brood_tenths: int = 50) -> ComingHive:
    look = Entry(outcome=Outcome.LOOKED, brood_tenths=brood_tenths, temper=2) if seen else None
    return ComingHive(mark, site, Where("Hives", row, "A"), seen, look, NATIONAL, NewQueen(hatch_year=2024))


BOOK = Register(
    "hives.xlsx",
    (
        ComingSite(
            NewSite("Sorrel Bank", grid="SK1020030400", capacity=20), Where("Sites", 2), "Sorrel Farm"
        ),
        ComingSite(NewSite("Teasel Piece"), Where("Sites", 3), "Sorrel Farm"),
    ),
    (
        _hive("1", "Sorrel Bank", 2),
        _hive("2", "Sorrel Bank", 3, APRIL),
        replace(_hive("3", "teasel piece", 4), boxes=replace(NATIONAL, supers=2)),
        _hive("4", "Teasel Piece", 5, None),
    ),
)


def _site(ledger: Ledger, name: str) -> int:
    with ledger.read() as session:
        return next(site_id for site_id in (1, 2) if sheet_for(session, site_id, APRIL).site == name)


def test_a_register_comes_in_as_one_act(ledger: Ledger) -> None:
    done = perform(ledger, import_register, BOOK)
    assert done.sentence == "Imported hives.xlsx: 2 sites, 4 colonies, 3 looks"
    assert done.kind == "import_register"
    assert isinstance(done.result, Imported)
    assert done.result.marks == ("1", "2", "3", "4")
    assert len(set(done.result.colonies)) == 4
    assert check_ledger(ledger).findings == ()


def test_the_last_look_is_a_round_of_its_day_and_the_hive_stands_there_with_queen_and_boxes(
    ledger: Ledger,
) -> None:
    perform(ledger, import_register, BOOK)
    with ledger.read() as session:
        bank = sheet_for(session, _site(ledger, "Sorrel Bank"), APRIL)
        piece = sheet_for(session, _site(ledger, "Teasel Piece"), APRIL)
        rounds = recent_rounds(session)
    first, second = bank.lines
    assert [line.mark for line in bank.lines] == ["1", "2"]
    assert first.last is not None
    assert (first.last.on, first.last.entry.brood_tenths, first.last.entry.temper) == (MARCH, 50, 2)
    assert second.last is not None
    assert second.last.on == APRIL
    assert first.queen.year == 2024
    assert [line.mark for line in piece.lines] == ["3"], "hive 4 is there from the day of the import"
    assert piece.lines[0].boxes is not None
    assert piece.lines[0].boxes.supers == 2
    assert sorted((row.site, row.on, row.hives, row.source) for row in rounds) == [
        ("Sorrel Bank", MARCH, 1, "import"),
        ("Sorrel Bank", APRIL, 1, "import"),
        ("Teasel Piece", MARCH, 1, "import"),
    ]


def test_taken_back_nothing_is_left_of_it(ledger: Ledger) -> None:
    done = perform(ledger, import_register, BOOK)
    undo(ledger, done.act)
    assert check_ledger(ledger).findings == ()
    again = perform(ledger, import_register, BOOK)
    assert again.sentence == done.sentence


def test_hives_that_are_in_the_ledger_are_refused_each_by_its_row(ledger: Ledger) -> None:
    perform(ledger, import_register, BOOK)
    with pytest.raises(Refused) as refused:
        perform(ledger, import_register, BOOK)
    assert [finding.where.row for finding in refused.value.findings] == [2, 3, 4, 5]
    assert refused.value.findings[0].what == "hive 1 is in the ledger already"


def test_a_site_the_ledger_has_is_taken_for_that_site(ledger: Ledger) -> None:
    site_id = perform(ledger, add_site, NewSite("Sorrel bank")).result
    done = perform(ledger, import_register, BOOK)
    assert len(done.result.sites) == 1
    with ledger.read() as session:
        assert len(sheet_for(session, site_id, APRIL).lines) == 2


def test_where_numbers_begin_again_the_site_code_goes_before_them(ledger: Ledger) -> None:
    book = replace(
        BOOK,
        hives=(_hive("1", "Sorrel Bank", 2), _hive("1", "Teasel Piece", 3), _hive("A", "Teasel Piece", 4)),
        numbers_restart=True,
    )
    assert perform(ledger, import_register, book).result.marks == ("SB1", "TP1", "TP-A")


@pytest.mark.parametrize(
    ("hive", "what"),
    [
        (_hive("9", "Nowhere", 7), "there is no site Nowhere"),
        (_hive("9", "Sorrel Bank", 7, date(2026, 6, 1)), "1 Jun 2026 has not come yet"),
        (_hive("1", "Sorrel Bank", 7), "hive 1 comes twice"),
        (_hive("", "Sorrel Bank", 7), "the hive has no number"),
        (_hive("9", "Sorrel Bank", 7, brood_tenths=140), "14 brood, its box holds 11"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_written(
    ledger: Ledger, hive: ComingHive, what: str
) -> None:
    with pytest.raises(Refused) as refused:
        perform(ledger, import_register, replace(BOOK, hives=(*BOOK.hives, hive)))
    assert (7, what) in [(finding.where.row, finding.what) for finding in refused.value.findings]
    assert ledger.last_act() == 0
    with ledger.read() as session:
        assert find(session, "Sorrel") == []


def test_a_bad_grid_reference_is_refused_by_its_row(ledger: Ledger) -> None:
    bad = ComingSite(NewSite("Far Field", grid="ZZ 123"), Where("Sites", 9))
    with pytest.raises(Refused) as refused:
        perform(ledger, import_register, replace(BOOK, sites=(*BOOK.sites, bad)))
    assert refused.value.findings[0].where.row == 9
