"""The sheet of a site as the desk opens it before a round is typed."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import date

import pytest
from sqlalchemy import event

from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.colonies import end_colonies, found_colonies, hives_at
from beeledger.operations.rounds import Line
from beeledger.operations.sites import NewSite, add_site
from beeledger.queries.records.round_desk import Elsewhere, RoundSheet
from beeledger.queries.rounds import elsewhere, sheet_for
from beeledger.rules.rounds.entry import Entry, FeedKind, QueenState
from tests.builders.yards import strips, yard

SPRING, DAY = date(2026, 3, 20), date(2026, 5, 14)


@pytest.fixture
def drove(ledger: Ledger) -> int:
    """A site with hives 3, 1 and 12 in that walking order, queens of 2025."""
    site = perform(ledger, add_site, NewSite("Long Drove", way_in="gate 4")).result
    perform(ledger, found_colonies, hives_at(site, SPRING, ["3", "1", "12"], queen_year=2025))
    return int(site)


def sheet(ledger: Ledger, site_id: int, on: date = DAY) -> RoundSheet:
    with ledger.read() as session:
        return sheet_for(session, site_id, on)


@contextmanager
def statements(ledger: Ledger) -> Iterator[list[str]]:
    said: list[str] = []

    def note(_connection, _cursor, statement, *_rest) -> None:
        said.append(statement)

    event.listen(ledger.engine, "before_cursor_execute", note)
    yield said
    event.remove(ledger.engine, "before_cursor_execute", note)


def test_a_sheet_lists_the_hives_in_walking_order_with_queen_and_boxes(ledger: Ledger, drove: int) -> None:
    found = sheet(ledger, drove)
    assert (found.site, found.way_in, found.last_round_on) == ("Long Drove", "gate 4", None)
    assert [(line.mark, line.stand) for line in found.lines] == [("3", 1), ("1", 2), ("12", 3)]
    # 2025 ends in 5: blue, by the international marking code.
    assert {(line.queen.year, line.queen.colour) for line in found.lines} == {(2025, "blue")}
    assert found.lines[0].boxes is not None
    assert (found.lines[0].boxes.brood_boxes, found.lines[0].boxes.supers) == (1, 0)


def test_a_sheet_lists_only_what_stood_there_that_day(ledger: Ledger, drove: int) -> None:
    assert sheet(ledger, drove, date(2026, 3, 19)).lines == ()
    ids = [line.colony_id for line in sheet(ledger, drove).lines]
    perform(ledger, end_colonies, ids[:1], date(2026, 5, 10), "starvation")
    assert [line.mark for line in sheet(ledger, drove, date(2026, 5, 10)).lines] == ["3", "1", "12"]
    assert [line.mark for line in sheet(ledger, drove, date(2026, 5, 11)).lines] == ["1", "12"]


def test_a_sheet_of_three_hives_asks_as_often_as_one_of_one(ledger: Ledger, drove: int) -> None:
    lone = perform(ledger, add_site, NewSite("Low Dyke")).result
    perform(ledger, found_colonies, hives_at(lone, SPRING, ["20"]))
    with statements(ledger) as one:
        sheet(ledger, lone)
    with statements(ledger) as three:
        sheet(ledger, drove)
    assert len(one) == len(three) <= 16


def test_hives_are_found_elsewhere_by_their_marks_and_the_living_before_the_dead(
    ledger: Ledger, drove: int
) -> None:
    ids = [line.colony_id for line in sheet(ledger, drove).lines]
    perform(ledger, end_colonies, ids[:2], DAY, "queen_failure")
    low = perform(ledger, add_site, NewSite("Low Dyke")).result
    (new,) = perform(ledger, found_colonies, hives_at(low, DAY, ["3"])).result
    with ledger.read() as session:
        found = elsewhere(session, ["3", "1", "99"])
    assert found == {
        "3": Elsewhere("3", new, "site", low, "Low Dyke", DAY),
        "1": Elsewhere("1", ids[1], "ended", None, "", None, DAY, "queen_failure"),
    }


def test_a_round_left_out_leaves_nothing_of_what_followed_from_it(ledger: Ledger) -> None:
    strips(ledger)
    far = yard(ledger, "Far Drove", "7")
    before = date(2026, 5, 4)
    far.post(date(2026, 4, 2), h7=Entry(medicine_in_count=2))
    far.post(before, h7=Entry(eggs=True, supers_on=1, feed_g=500, feed_kind=FeedKind.FONDANT))
    as_it_was = far.line("7")
    line = Line(
        Entry(eggs=True, supers_on=2, feed_g=1000, feed_kind=FeedKind.SUGAR, medicine_out_count=2,
              queen_state=QueenState.RIGHT),
        mark="7",
    )  # fmt: skip
    done = far.post(DAY, line=line)
    assert far.line("7").boxes != as_it_was.boxes
    with ledger.read() as session:
        found = sheet_for(session, far.site, DAY, but_round=done.result.round_id)
    assert found.last_round_on == before
    assert [replace(one, due=()) for one in found.lines] == [replace(as_it_was, due=())]
