"""The sum of the acts' changes gives the present rows.

A ledger of ten years has millions of images: they are read one by one, and of each row's last one only a
fingerprint is kept. Rows whose fingerprint is not that of the present row are replayed a second time whole.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from hashlib import blake2b
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from beeledger.base.findings import Finding
from beeledger.database.audit import Image, columns_of, plain, unpack
from beeledger.database.checking.breach import breach
from beeledger.model.acts import ActImage
from beeledger.model.base import Base

_AT_ONCE = 500
"""Images or rows that are read together."""
_IN_DOUBT = 20_000
"""Rows of doubtful fingerprint that are replayed together."""


def replayed(session: Session) -> Iterator[Finding]:
    """Replay every act table by table and compare with the rows as they are."""
    for mapper in sorted(Base.registry.mappers, key=lambda found: str(found.class_.__tablename__)):
        model: type[Base] = mapper.class_
        if model.audited:
            yield from _table(session, model)


def _table(session: Session, model: type[Base]) -> Iterator[Finding]:
    name, columns = model.__tablename__, columns_of(model)
    left: dict[int, bytes] = {}
    for row_id, after in _afters(session, name):
        if after is None:
            left.pop(row_id, None)
        else:
            left[row_id] = _fingerprint([after.get(column) for column in columns])
    doubtful = []
    for row_id, values in _present(session, model, columns):
        if left.pop(row_id, None) != _fingerprint(values):
            doubtful.append(row_id)
    for start in range(0, len(doubtful), _IN_DOUBT):
        yield from _compared(session, model, doubtful[start : start + _IN_DOUBT])
    for row_id in left:
        yield breach("history", "a row the acts left is gone", f"{name} {row_id}")


def _compared(session: Session, model: type[Base], ids: Collection[int]) -> Iterator[Finding]:
    """Rows in doubt: what the acts left of them, column by column, against what is there."""
    name, columns = model.__tablename__, columns_of(model)
    wanted = set(ids)
    rows: dict[int, Image | None] = {
        row_id: after for row_id, after in _afters(session, name) if row_id in wanted
    }
    for row_id, values in _present(session, model, columns):
        if row_id not in wanted:
            continue
        kept = rows.get(row_id)
        if kept is None:
            yield breach("history", "no act made this row", f"{name} {row_id}")
            continue
        # A column that a later schema added is in no older image; until an act fills it, it is empty.
        differing = [
            column for column, value in zip(columns, values, strict=True) if kept.get(column) != value
        ]
        if differing:
            fields = ", ".join(sorted(differing))
            yield breach("history", f"it differs from what the acts left ({fields})", f"{name} {row_id}")


def _afters(session: Session, table: str) -> Iterator[tuple[int, Image | None]]:
    """Every change of the table's rows in the order of the acts: the row and what was left of it."""
    images = select(ActImage.image).where(ActImage.table == table).order_by(ActImage.act_id)
    for image in session.scalars(images, execution_options={"yield_per": _AT_ONCE}):
        for row_id, _before, after in unpack(image):
            yield row_id, after


def _present(session: Session, model: type[Base], columns: Sequence[str]) -> Iterator[tuple[int, list[Any]]]:
    """The rows as they are, by their numbers, each column as an image holds it."""
    query: Any = select(*(getattr(model, column) for column in columns))
    number = columns.index("id")
    for values in session.execute(query, execution_options={"yield_per": _AT_ONCE}):
        yield values[number], [plain(value) for value in values]


def _fingerprint(values: Sequence[Any]) -> bytes:
    return blake2b(repr(values).encode(), digest_size=12).digest()
