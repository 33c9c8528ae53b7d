"""Whatever is sent, comes back, is freed, sent again or lost: every jar and gram of a mark stays accounted for."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import select

from beeledger.base.errors import Refused
from beeledger.database.checking.check import check_ledger
from beeledger.database.ledger import Ledger
from beeledger.model.honey import HoneyTransfer
from beeledger.operations.act import perform
from beeledger.operations.dispatches import (
    DispatchLine,
    NewDispatch,
    Returned,
    ReturnLine,
    post_dispatch,
    take_back,
)
from beeledger.operations.honey_lots import NewSink, free_lot, sink_honey
from beeledger.operations.jars import JarsLost, lose_jars
from beeledger.operations.undo import undo
from beeledger.queries.jars import jar_lots
from beeledger.queries.recall import recall
from tests.operations import honey_room as room_of

DAY = date(2026, 5, 13)
MARK = "SB26-0001-40"
STEPS = st.lists(
    st.tuples(
        st.sampled_from(["send", "send", "public", "weight", "back", "all back", "free", "lose"]),
        st.integers(1, 40),
        st.integers(0, 5),
    ),
    min_size=3,
    max_size=10,
)


@pytest.fixture
def jarred(sqlite_ledger: Ledger) -> Ledger:
    """100 jars of 340 g under one mark."""
    room_of.jarred(sqlite_ledger)
    return sqlite_ledger


def step(ledger: Ledger, what: str, many: int, which: int) -> int | None:
    """One act of that kind on something that is there; None where it was refused or there is nothing."""
    with ledger.read() as session:
        lots = jar_lots(session)
        out = session.scalars(
            select(HoneyTransfer).where(
                HoneyTransfer.dispatch_id.is_not(None), HoneyTransfer.sink.is_not(None)
            )
        ).all()
        sent = [(row.id, row.dispatch_id) for row in out]
    lot = lots[which % len(lots)]
    acts: dict[str, tuple[Any, Any]] = {
        "send": (post_dispatch, NewDispatch(DAY, (DispatchLine(lot.lot_id, many),), f"Shop {which}")),
        "public": (post_dispatch, NewDispatch(DAY, (DispatchLine(lot.lot_id, many),), way="public")),
        "weight": (sink_honey, NewSink(lot.lot_id, DAY, "gift", many * 100)),
        "lose": (lose_jars, JarsLost(lot.lot_id, DAY, many, "dropped")),
    }
    try:
        if what in ("back", "all back"):
            if not sent:
                return None
            row, dispatch = sent[which % len(sent)]
            line = ReturnLine(row, None if what == "all back" else many)
            return perform(ledger, take_back, Returned(dispatch, DAY, "wet", (line,))).act
        if what == "free":
            return perform(ledger, free_lot, lot.lot_id, "looked at").act
        return perform(ledger, *acts[what]).act
    except Refused:
        return None


def state(ledger: Ledger) -> list[tuple[object, ...]]:
    with ledger.read() as session:
        rows = session.scalars(select(HoneyTransfer).order_by(HoneyTransfer.id))
        return [(row.id, row.from_lot_id, row.to_lot_id, row.sink, row.grams, row.jars) for row in rows]


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(steps=STEPS)
def test_any_run_of_acts_balances_and_is_taken_back_to_where_it_began(
    jarred: Ledger, steps: list[tuple[str, int, int]]
) -> None:
    before, done = state(jarred), []
    for what, many, which in steps:
        act = step(jarred, what, many, which)
        if act is None:
            continue
        done.append(act)
        with jarred.read() as session:
            found = recall(session, MARK)
        assert found is not None
        assert found.difference[1] == 0, (what, many, which)
        assert sum(part.grams for part in found.parts) == 34_150
        assert found.difference[0] == 0, (what, many, which, found.parts)
        assert all(lot.left >= 0 and lot.left_g >= 0 for lot in found.lots)
    assert check_ledger(jarred).clean
    for act in reversed(done):
        undo(jarred, act)
    assert state(jarred) == before
