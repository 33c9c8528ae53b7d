"""A move as it is typed: what the list of hives comes to, and what is said of it before it is posted."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.moves import post_move
from beeledger.queries.move_typing import ReadMove, TypedMove, read_hives, read_move
from beeledger.queries.records.move_desk import carried
from tests.operations.trips import EVENING, Farm, farm

APRIL, TODAY = date(2026, 4, 12), date(2026, 5, 14)
YARD = [str(number) for number in range(1, 9)]


@pytest.fixture
def yard(ledger: Ledger) -> Farm:
    return farm(ledger)


def typed(yard: Farm, hives: str) -> TypedMove:
    sites = yard.sites
    return TypedMove(sites["Home Yard"], sites["Ladder Hill"], APRIL, EVENING, EVENING + 40, hives)


def read(yard: Farm, wanted: TypedMove) -> ReadMove:
    with yard.ledger.read() as session:
        return read_move(session, wanted, "Europe/London", TODAY)


def test_a_stretch_and_what_was_left_behind_become_hives_of_the_move(yard: Farm) -> None:
    found = read(yard, typed(yard, "2-5, 4x"))
    assert (found.marks, found.left_behind, found.standing) == (("2", "3", "5"), ("4",), 8)
    assert found.findings == ()
    assert found.move is not None
    assert found.move.hives == carried([yard.hives[mark] for mark in ("2", "3", "5")], [yard.hives["4"]])


def test_all_means_all_that_stand_there_without_those_named() -> None:
    assert read_hives("all", YARD).marks == tuple(YARD)
    but = read_hives("All not 3, 5x", YARD)
    assert (but.marks, but.left_behind) == (("1", "2", "4", "6", "7", "8"), ("3", "5"))
    assert [finding.mend for finding in read_hives("all 3", YARD).findings] == ["Write all not 3"]


def test_a_number_that_stands_elsewhere_is_said_once_and_accepted_with_one_key(yard: Farm) -> None:
    found = read(yard, typed(yard, "1, 21"))
    assert [finding.code for finding in found.findings] == ["move.elsewhere"]
    right = read(yard, replace(typed(yard, "1, 21"), sheet_is_right=True))
    assert [finding.code for finding in right.against] == ["move.elsewhere"]
    assert right.findings == ()
    assert right.move is not None
    perform(yard.ledger, post_move, right.move)
    assert yard.stands("21")[-1][0] == "Ladder Hill"


def test_a_number_nobody_ever_had_is_refused(yard: Farm) -> None:
    found = read(yard, typed(yard, "1, 777"))
    assert [(finding.code, finding.what) for finding in found.findings] == [
        ("list.stranger", "No hive ever carried 777")
    ]
    assert found.move is None or found.findings[0].grade == "refused"


def test_a_form_half_typed_says_nothing_yet(yard: Farm) -> None:
    assert read(yard, replace(typed(yard, ""), from_site_id=None)) == ReadMove(None, ())
    half = read(yard, replace(typed(yard, "1-3"), left_minute=None))
    assert (half.move, half.findings, half.marks) == (None, (), ("1", "2", "3"))
