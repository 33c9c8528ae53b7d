"""What the rows of the ledger are called, so that History says "Sedge Holt" and not "site 3"."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache
from typing import Any

from sqlalchemy import ColumnElement, select
from sqlalchemy.orm import Session

from beeledger.model.attachments import Attachment
from beeledger.model.base import Base
from beeledger.model.colonies import HiveMark
from beeledger.model.contracts import Contract
from beeledger.model.farm import FarmSetting
from beeledger.model.honey import Batch, HoneyLot
from beeledger.model.medicines import Medicine
from beeledger.model.parties import CrewMember, Party, Vehicle
from beeledger.model.queens import Queen
from beeledger.model.sites import SetDownPlace, Site

Reference = tuple[str, int]
"""A table and the key of a row in it."""

_NAMED: Mapping[str, tuple[ColumnElement[Any] | Any, Any]] = {
    "site": (Site.id, Site.name),
    "set_down_place": (SetDownPlace.id, SetDownPlace.name),
    "colony": (HiveMark.colony_id, HiveMark.mark),
    "hive_mark": (HiveMark.id, HiveMark.mark),
    "queen": (Queen.id, Queen.tag),
    "party": (Party.id, Party.name),
    "crew_member": (CrewMember.id, CrewMember.initials),
    "vehicle": (Vehicle.id, Vehicle.name),
    "contract": (Contract.id, Contract.name),
    "honey_lot": (HoneyLot.id, HoneyLot.name),
    "batch": (Batch.id, Batch.lot_mark),
    "farm_setting": (FarmSetting.id, FarmSetting.key),
    "attachment": (Attachment.id, Attachment.name),
    "medicine": (Medicine.id, Medicine.product),
}


@cache
def references(table: str) -> Mapping[str, str]:
    """The fields of a table that point at another one, and at which; nothing for a table that is gone."""
    known = Base.metadata.tables.get(table)
    if known is None:
        return {}
    return {key.parent.name: key.column.table.name for key in known.foreign_keys}


def names_of(session: Session, wanted: Iterable[Reference]) -> dict[Reference, str]:
    """The names of these rows, where they have one and are still there: one query a table.

    A colony is called by the newest mark it bears or bore.
    """
    asked: dict[str, set[int]] = {}
    for table, row_id in wanted:
        if table in _NAMED:
            asked.setdefault(table, set()).add(row_id)
    names: dict[Reference, str] = {}
    for table, ids in asked.items():
        key, name = _NAMED[table]
        order = HiveMark.from_on if table == "colony" else key
        for row_id, said in session.execute(select(key, name).where(key.in_(ids)).order_by(order)):
            if said:
                names[table, row_id] = said
    return names
