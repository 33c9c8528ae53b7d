"""What the rule of what is due is told of a colony, gathered from posted rounds."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date

import pytest
from sqlalchemy import event

from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.queens import NewQueen, put_queen
from beeledger.operations.rounds import Line
from beeledger.queries.colony_facts import facts_of
from beeledger.rules.due import ColonyFacts
from beeledger.rules.rounds.entry import CellStage, Entry, Heft, MiteMethod, NextAction, Outcome, QueenState
from tests.builders.yards import DAY, LOOKED, SPRING, Yard, strips, yard


@pytest.fixture
def drove(ledger: Ledger) -> Yard:
    return yard(ledger, "Long Drove", "1", "2", "3")


def facts(drove: Yard, mark: str) -> ColonyFacts:
    with drove.ledger.read() as session:
        (one,) = facts_of(session, [drove.hives[mark]], DAY)
    return one


def test_a_colony_nobody_looked_at_is_known_by_its_kind_and_day_alone(drove: Yard) -> None:
    assert facts(drove, "1") == ColonyFacts(drove.hives["1"], "full", SPRING)


def test_each_fact_is_the_latest_of_its_kind(drove: Yard) -> None:
    strips(drove.ledger)
    drove.post(date(2026, 4, 1), h1=Entry(queen_seen=True, stores_g=9000, mites_count=3, mites_bees=300))
    drove.post(
        date(2026, 4, 8),
        h1=Entry(queen_state=QueenState.QUEENLESS, cells_stage=CellStage.OPEN, bees_tenths=60),
    )
    drove.post(
        date(2026, 4, 15),
        line=Line(
            Entry(queen_state=QueenState.QUEENLESS, supers_on=1, medicine_in_count=2, next_days=9),
            mark="1",
            reason="empty super",
        ),
    )
    drove.post(date(2026, 4, 20), h1=Entry(outcome=Outcome.NOT_OPENED, stores_heft=Heft.FAIR))
    drove.post(date(2026, 4, 22), h1=Entry(outcome=Outcome.NOT_FOUND))
    perform(drove.ledger, put_queen, drove.hives["1"], NewQueen(clipped=True), date(2026, 4, 16))
    assert facts(drove, "1") == ColonyFacts(
        drove.hives["1"], "full", SPRING,
        looked=date(2026, 4, 15), visited=date(2026, 4, 20), not_found=date(2026, 4, 22),
        queen_state="queenless", queen_state_since=date(2026, 4, 8), queen_seen=date(2026, 4, 1), clipped=True,
        stores_g=9000, stores_on=date(2026, 4, 1), supers=1, mites_hundredths=100, mites_on=date(2026, 4, 1),
        strips_in=date(2026, 4, 15), strips_out_by=date(2026, 5, 27), next_on=date(2026, 4, 24),
    )  # fmt: skip


def test_stores_in_frames_are_reckoned_by_the_frame_of_the_hive(drove: Yard) -> None:
    drove.post(h1=Entry(stores_tenths=25))
    # A British Standard brood frame holds a little over 2 kg: BBKA News, August 2013 (stores.toml has 2.2 kg).
    assert facts(drove, "1").stores_g == 5500


def test_an_action_without_a_day_is_meant_for_the_next_usual_look(drove: Yard) -> None:
    drove.post(h1=Entry(eggs=True, next_action=NextAction.QUEEN_CHECK))
    assert (facts(drove, "1").next_action, facts(drove, "1").next_on) == ("queen check", date(2026, 5, 21))


def test_strips_taken_out_are_no_longer_in_and_the_day_is_kept(drove: Yard) -> None:
    strips(drove.ledger)
    drove.post(date(2026, 4, 1), h1=Entry(medicine_in_count=2))
    drove.post(h1=Entry(medicine_out_count=2))
    one = facts(drove, "1")
    assert (one.strips_in, one.strips_out_by, one.treated) == (None, None, DAY)


def test_the_facts_of_three_colonies_take_as_many_statements_as_of_one(drove: Yard) -> None:
    drove.post(h1=LOOKED, h2=Entry(queen_state=QueenState.QUEENLESS), h3=LOOKED)
    with statements(drove.ledger) as one, drove.ledger.read() as session:
        facts_of(session, [drove.hives["1"]], DAY)
    with statements(drove.ledger) as three, drove.ledger.read() as session:
        assert len(facts_of(session, list(drove.hives.values()), DAY)) == 3
    assert len(one) == len(three)


@contextmanager
def statements(ledger: Ledger) -> Iterator[list[str]]:
    said: list[str] = []

    def note(_connection, _cursor, statement, *_rest) -> None:
        said.append(statement)

    event.listen(ledger.engine, "before_cursor_execute", note)
    yield said
    event.remove(ledger.engine, "before_cursor_execute", note)


def test_a_natural_drop_is_known_as_mites_in_the_colony_and_no_share(drove: Yard) -> None:
    # 35 mites in 7 days of March, by the factor of 100: 500 (Managing Varroa, National Bee Unit).
    drop = Entry(eggs=True, mites_count=35, mites_days=7, mites_method=MiteMethod.DROP)
    drove.post(date(2026, 3, 27), h1=drop, h2=Entry(eggs=True, mites_count=9, mites_method=MiteMethod.WASH))
    known = [facts(drove, mark) for mark in ("1", "2")]
    # A wash without its number of bees is of half a cup, about 300: 9 in 300 are 3 %.
    assert [(one.mites_hundredths, one.mites_estimate) for one in known] == [(None, 500), (300, None)]
