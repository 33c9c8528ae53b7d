"""The daily reads step along indexes: none looks through a table that grows with the years.

SQLite's own plan of each statement is the judge (EXPLAIN QUERY PLAN: "SCAN table" without an index is a look at
every row of it).
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

import pytest
from sqlalchemy import event, select
from sqlalchemy.orm import Session, aliased

from beeledger.database.ledger import Ledger
from beeledger.model.rounds import RoundEntry
from beeledger.queries.colonies import colonies_shown, colony_card
from beeledger.queries.contracts import contract_card
from beeledger.queries.due import due_by_site
from beeledger.queries.honey import season_balance
from beeledger.queries.medicines import GivenFilter, given, packs
from beeledger.queries.mites import mites_by_site
from beeledger.queries.moves import move_log
from beeledger.queries.pressing import morning
from beeledger.queries.records.colonies import ColonyFilter
from beeledger.queries.round_start import round_start
from beeledger.queries.rounds import recent_rounds, sheet_for
from beeledger.queries.sites import list_sites, site_card
from tests.builders.sample_farm import EVENING, sample_file, sample_ledger, small_sample_file

__all__ = ["sample_file", "sample_ledger", "small_sample_file"]

TODAY = date(2026, 5, 14)
GROWING = {
    "act_image", "act_row", "box_stack", "colony", "colony_transfer", "dispatch", "feeding", "hive_mark", "honey_lot",
    "honey_transfer", "jar_weight", "mite_count", "move", "move_line", "placement", "queen", "reading", "round",
    "round_entry", "strength_line", "take", "take_line", "task", "tenure", "treatment",
}  # fmt: skip
_SCAN = re.compile(r"SCAN (\w+?)(?:_\d+)?(?: USING .*)?$")

Read = Callable[[Session], Any]
READS: dict[str, Read] = {
    "Today": lambda session: morning(session, TODAY, EVENING),
    "what is due": lambda session: due_by_site(session, TODAY),
    "the list of colonies": lambda session: colonies_shown(session, ColonyFilter(alive=True)),
    "a colony": lambda session: colony_card(session, 1, TODAY),
    "beginning a round": round_start,
    "the sheet of a site": lambda session: sheet_for(session, 1, TODAY),
    "the last rounds": recent_rounds,
    "the log of moves": move_log,
    "the list of sites": lambda session: list_sites(session, TODAY),
    "a site": lambda session: site_card(session, 1, TODAY),
    "a contract": lambda session: contract_card(session, 1, TODAY),
    "mites by site": lambda session: mites_by_site(session, TODAY),
    "the packs of medicine": packs,
    "what was given": lambda session: given(
        session, GivenFilter(TODAY - timedelta(days=365), or_still_in=True)
    ),
    "what is left of honey": lambda session: season_balance(session, date(TODAY.year, 1, 1)),
}


def looked_through(ledger: Ledger, read: Read) -> set[str]:
    """The tables that a read looks through row by row, by the database's own plan."""
    said: list[tuple[str, Any]] = []

    def listen(_connection: Any, _cursor: Any, statement: str, values: Any, *_: Any) -> None:
        said.append((statement, values))

    with ledger.read() as session:
        event.listen(ledger.engine, "before_cursor_execute", listen)
        try:
            read(session)
        finally:
            event.remove(ledger.engine, "before_cursor_execute", listen)
        cursor = session.connection().connection.cursor()
        plans = [
            row[3]
            for statement, values in said
            if statement.startswith("SELECT")
            for row in cursor.execute(f"EXPLAIN QUERY PLAN {statement}", values).fetchall()
        ]
        cursor.close()
    assert plans
    return {
        found[1]
        for plan in plans
        if (found := _SCAN.match(plan)) and " USING " not in plan and found[1] in GROWING
    }


@pytest.mark.parametrize("what", READS)
def test_a_daily_read_looks_through_no_table_that_grows_with_the_years(
    sample_ledger: Ledger, what: str
) -> None:
    assert looked_through(sample_ledger, READS[what]) == set()


def test_a_look_through_a_whole_table_is_seen(sample_ledger: Ledger) -> None:
    def notes(session: Session) -> Any:
        return session.execute(select(RoundEntry.id).where(RoundEntry.note == "floor changed")).all()

    def beside(session: Session) -> Any:
        other = aliased(RoundEntry)
        return session.execute(select(other.id).where(other.note == "floor changed")).all()

    assert looked_through(sample_ledger, notes) == {"round_entry"}
    assert looked_through(sample_ledger, beside) == {"round_entry"}, "under another name too"
