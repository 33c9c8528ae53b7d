"""A round of thirty hives posted with checks and audit, beside bare inserts of the rows that it left."""

from __future__ import annotations

import sqlite3
import time
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

from tests.benchmarks.farms import Farms, clock
from tests.benchmarks.figures import Figure, ms, ratio_of_medians

ROUNDS, HIVES = 12, 30
Rows = dict[str, list[tuple[Any, ...]]]


def figures(farms: Farms) -> list[Figure]:
    """The same rows into two copies of one ledger, each round in a transaction of its own, WAL and FULL both."""
    ours, left = _posted(farms.copy("post"))
    bare = _inserted(farms.copy("insert"), left)
    rows = sum(len(of_table) for of_table in left[0].values())
    how = (
        f"{ms(ours)} against {ms(bare)} for bare inserts of the same {rows} rows, {ROUNDS} rounds of {HIVES} hives, "
        "each commit on the disk"
    )
    return [Figure("a round posted", ratio_of_medians(ours, bare), 10, "×", how)]


def _posted(file: Path) -> tuple[list[float], list[Rows]]:
    from beeledger.database.opening import open_ledger
    from beeledger.operations.act import perform
    from beeledger.operations.rounds import post_round

    ledger = open_ledger(file, clock(), create=False)
    taken, left = [], []
    try:
        with closing(sqlite3.connect(file)) as watching:
            perform(ledger, post_round, _round(ledger, 0))  # what is loaded and prepared once is not counted
            for number in range(1, ROUNDS + 1):
                new, before = _round(ledger, number), _highest(watching)
                begun = time.perf_counter()
                perform(ledger, post_round, new)
                taken.append(time.perf_counter() - begun)
                left.append(_newer(watching, before))
    finally:
        ledger.close()
    return taken, left


def _round(ledger: Any, number: int) -> Any:
    """Thirty hives of the site that is ``number``th in size, each with what an evening's sheet says of it."""
    from beeledger.operations.rounds import Line, RoundToPost
    from beeledger.queries.rounds import sheet_for
    from beeledger.queries.sites import list_sites

    today = clock().today()
    with ledger.read() as session:
        sites = sorted(list_sites(session, today, closed=False), key=lambda line: -line.colonies)
        site = sites[number % len(sites)].site_id
        hives = sheet_for(session, site, today).lines[:HIVES]
    lines = tuple(
        Line(_entry(index), colony_id=hive.colony_id, accepted=_ALL) for index, hive in enumerate(hives)
    )
    return RoundToPost(f"bench-{number}", site, today, lines, start_minute=600, end_minute=720)


class _Everything(frozenset[str]):
    """Takes over whatever the sheet says against the record."""

    def __contains__(self, _code: object) -> bool:
        return True


_ALL = _Everything()


def _entry(index: int) -> Any:
    from beeledger.rules.rounds.entry import Entry, FeedKind, Outcome

    fed = {"feed_ml": 1000, "feed_kind": FeedKind.SYRUP_1_1} if index % 10 == 0 else {}
    return Entry(outcome=Outcome.LOOKED, eggs=True, brood_tenths=60, bees_tenths=90, stores_tenths=40, **fed)


def _tables(connection: sqlite3.Connection) -> Iterator[str]:
    for (name,) in connection.execute(
        "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%' AND name <> 'alembic_version'"
    ):
        yield name


def _key(table: str) -> str:
    """What counts up in a table; the index of changed rows has no number of its own."""
    return "act_id" if table == "act_row" else "rowid"


def _highest(connection: sqlite3.Connection) -> dict[str, int]:
    return {
        name: connection.execute(f'SELECT coalesce(max({_key(name)}), 0) FROM "{name}"').fetchone()[0]
        for name in _tables(connection)
    }


def _newer(connection: sqlite3.Connection, before: dict[str, int]) -> Rows:
    found = {
        name: connection.execute(f'SELECT * FROM "{name}" WHERE {_key(name)} > ?', [before[name]]).fetchall()
        for name in before
    }
    return {name: rows for name, rows in found.items() if rows}


def _inserted(file: Path, left: list[Rows]) -> list[float]:
    taken = []
    with closing(sqlite3.connect(file, isolation_level=None)) as bare:
        bare.execute("PRAGMA journal_mode=WAL")
        bare.execute("PRAGMA synchronous=FULL")
        for rows in left:
            begun = time.perf_counter()
            bare.execute("BEGIN IMMEDIATE")
            for table, of_table in rows.items():
                marks = ", ".join("?" * len(of_table[0]))
                bare.executemany(f'INSERT OR IGNORE INTO "{table}" VALUES ({marks})', of_table)
            bare.execute("COMMIT")
            taken.append(time.perf_counter() - begun)
    return taken
