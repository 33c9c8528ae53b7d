"""Yards with hives, rounds over them, and the whole ledger as plain values: for tests of acts and queries."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import Any
from uuid import uuid4

from sqlalchemy import select

from beeledger.database.ledger import Ledger
from beeledger.model.base import Base
from beeledger.operations.act import Done, perform
from beeledger.operations.checking import check_whole
from beeledger.operations.colonies import found_colonies, hives_at
from beeledger.operations.medicines import NewMedicine, add_medicine
from beeledger.operations.rounds import Line, RoundToPost, post_round
from beeledger.operations.sites import NewSite, add_site
from beeledger.queries.records.round_desk import HiveLine
from beeledger.queries.rounds import sheet_for
from beeledger.rules.rounds.entry import Entry, Outcome

SPRING, DAY = date(2026, 3, 20), date(2026, 5, 14)
LOOKED = Entry(outcome=Outcome.LOOKED, eggs=True)


@dataclass(slots=True)
class Yard:
    """A site with its hives by mark."""

    ledger: Ledger
    site: int
    hives: dict[str, int] = field(default_factory=dict)

    def post(self, on: date = DAY, **entries: Entry | Line) -> Done:
        """Post a round: entries by hive, as h3=…; a Line stands for itself."""
        lines = tuple(
            entry if isinstance(entry, Line) else Line(entry, colony_id=self.hives[name.lstrip("h")])
            for name, entry in entries.items()
        )
        return perform(self.ledger, post_round, self.round(lines, on))

    def round(self, lines: tuple[Line, ...], on: date = DAY, **more: Any) -> RoundToPost:
        """A round at this yard, ready to post."""
        return RoundToPost(str(uuid4()), self.site, on, lines, start_minute=600, end_minute=720, **more)

    def line(self, mark: str, on: date = DAY) -> HiveLine:
        """What the sheet of a day says of one hive."""
        with self.ledger.read() as session:
            return next(line for line in sheet_for(session, self.site, on).lines if line.mark == mark)

    def marks(self, on: date = DAY) -> list[str | None]:
        """The hives of the sheet in walking order."""
        with self.ledger.read() as session:
            return [line.mark for line in sheet_for(session, self.site, on).lines]


def yard(ledger: Ledger, name: str, *marks: str, year: int | None = 2025, on: date = SPRING) -> Yard:
    """A site with full colonies under these marks, with queens of one year."""
    site = perform(ledger, add_site, NewSite(name)).result
    ids = perform(ledger, found_colonies, hives_at(site, on, marks, queen_year=year)).result
    return Yard(ledger, site, dict(zip(marks, ids, strict=True)))


def strips(ledger: Ledger, product: str = "Fen strips", *, usual: bool = True) -> int:
    """A usual medicine: strips that stay in for six weeks."""
    return int(perform(ledger, add_medicine, NewMedicine(product, "amitraz", batch="B7", usual=usual)).result)


def rows(ledger: Ledger, model: type[Any], **equal: Any) -> list[Any]:
    """The rows of a table with these values, by id."""
    with ledger.read() as session:
        return list(session.scalars(select(model).filter_by(**equal).order_by(model.id)))


def whole(ledger: Ledger) -> dict[str, list[Any]]:
    """Everything the ledger says, without the memory of acts, versions, and the keys of derived rows."""
    said = {}
    with ledger.read() as session:
        for table in Base.metadata.sorted_tables:
            if table.name.startswith("act") or table.name == "due_rule":
                continue
            left_out = {"version"} | ({"id"} if table.name == "due" else set())
            columns = [column for column in table.columns if column.name not in left_out]
            said[table.name] = sorted(map(repr, session.execute(select(*columns))))
    return said


def sound(ledger: Ledger) -> bool:
    """Whether every line of what is always true holds; says which does not."""
    report = check_whole(ledger)
    assert [finding.sentence() for finding in report.findings] == []
    return True
