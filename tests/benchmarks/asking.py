"""The colony list beside the same SQL by bare sqlite3; ten years beside one; statements counted."""

from __future__ import annotations

import sqlite3
import time
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any

from tests.benchmarks.farms import Farms, clock
from tests.benchmarks.figures import Figure, ms, ratio_of_medians

RUNS = 20


def figures(farms: Farms) -> list[Figure]:
    """In alternating runs, medians."""
    from sqlalchemy.dialects import sqlite

    from beeledger.queries import colonies
    from beeledger.queries.records.colonies import ColonyFilter

    statement = colonies._listed(ColonyFilter()).compile(  # the very statement, as the driver gets it
        dialect=sqlite.dialect(), compile_kwargs={"literal_binds": True}
    )
    sql = str(statement)
    with closing(sqlite3.connect(farms.ten)) as bare, _reading(farms.ten) as ten, _reading(farms.one) as one:
        ours, theirs, short = [], [], []
        for _ in range(RUNS):
            ours.append(_taken(lambda: colonies.list_colonies(ten)))
            theirs.append(_taken(lambda: bare.execute(sql).fetchall()))
            short.append(_taken(lambda: colonies.list_colonies(one)))
        rows, fewer = len(colonies.list_colonies(ten)), len(colonies.list_colonies(one))
    how = f"{ms(ours)} against {ms(theirs)} by sqlite3, {rows:,} colonies"
    years = f"{ms(ours)} against {ms(short)} on one year, for each colony ({rows:,} and {fewer:,})"
    return [
        Figure("the colony list", ratio_of_medians(ours, theirs), 2.5, "×", how),
        Figure("the colony list, ten years", ratio_of_medians(ours, short) * fewer / rows, 1.3, "×", years),
        *_years(farms),
    ]


def _years(farms: Farms) -> list[Figure]:
    """What else is read every day, on ten years beside one."""
    from beeledger.queries.acts import acts
    from beeledger.queries.moves import move_log
    from beeledger.queries.pressing import morning
    from beeledger.queries.sites import list_sites

    today = clock().today()
    daily: dict[str, Callable[[Any], object]] = {
        "Today": lambda session: morning(session, today, clock().now()),
        "the list of sites": lambda session: list_sites(session, today, closed=False),
        "the first page of History": acts,
        "the log of moves, fifty of them": lambda session: move_log(session, limit=50),
    }
    found = []
    with _reading(farms.ten) as ten, _reading(farms.one) as one:
        for name, read in daily.items():
            both: tuple[list[float], list[float]] = ([], [])
            for _ in range(RUNS):
                both[0].append(_taken(lambda read=read: read(ten)))
                both[1].append(_taken(lambda read=read: read(one)))
            how = f"{ms(both[0])} against {ms(both[1])} on one year"
            found.append(Figure(f"{name}, ten years", ratio_of_medians(*both), 1.3, "×", how))
    return found


@contextmanager
def _reading(file: Path) -> Iterator[Any]:
    from beeledger.database.opening import open_ledger

    ledger = open_ledger(file, clock(), create=False)
    try:
        with ledger.read() as session:
            yield session
    finally:
        ledger.close()


def _taken(read: Callable[[], object]) -> float:
    begun = time.perf_counter()
    read()
    return time.perf_counter() - begun
