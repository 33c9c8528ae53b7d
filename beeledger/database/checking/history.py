"""The sum of the acts' changes gives the present rows."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from beeledger.base.findings import Finding
from beeledger.database.audit import Image, columns_of, plain, unpack
from beeledger.database.checking.breach import breach
from beeledger.model.acts import ActImage
from beeledger.model.base import Base


def replayed(session: Session) -> Iterator[Finding]:
    """Replay every act table by table and compare with the rows as they are."""
    for mapper in sorted(Base.registry.mappers, key=lambda found: str(found.class_.__tablename__)):
        model: type[Base] = mapper.class_
        if model.audited:
            yield from _table(session, model)


def _table(session: Session, model: type[Base]) -> Iterator[Finding]:
    name = model.__tablename__
    rows: dict[int, Image] = {}
    images = session.scalars(select(ActImage.image).where(ActImage.table == name).order_by(ActImage.act_id))
    for image in images:
        for row_id, _before, after in unpack(image):
            if after is None:
                rows.pop(row_id, None)
            else:
                rows[row_id] = after
    columns = columns_of(model)
    query: Any = select(*(getattr(model, column) for column in columns))
    for values in session.execute(query):
        present = {column: plain(value) for column, value in zip(columns, values, strict=True)}
        kept = rows.pop(present["id"], None)
        if kept is None:
            yield breach("history", "no act made this row", f"{name} {present['id']}")
        elif differing := [column for column in columns if kept.get(column) != present[column]]:
            # A column that a later schema added is in no older image; until an act fills it, it is empty.
            fields = ", ".join(sorted(differing))
            yield breach(
                "history", f"it differs from what the acts left ({fields})", f"{name} {present['id']}"
            )
    for row_id in rows:
        yield breach("history", "a row the acts left is gone", f"{name} {row_id}")
