"""Acts and what they changed: the memory of the ledger."""

from __future__ import annotations

from datetime import date, datetime
from typing import ClassVar

from sqlalchemy import ForeignKey, Index
from sqlalchemy.orm import Mapped, mapped_column

from beeledger.model.base import STRICT, Base


class Act(Base):
    """One thing a person did. Its number is the version that it leaves on every row it changed."""

    __tablename__ = "act"
    __table_args__ = (Index("ix_act_undoes", "undoes_act_id"), STRICT)
    audited: ClassVar[bool] = False

    id: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    uid: Mapped[str] = mapped_column(unique=True)
    kind: Mapped[str]
    """The name of the operation, as in ``operations``: "post_round"."""
    sentence: Mapped[str]
    who: Mapped[str]
    desk: Mapped[str]
    at: Mapped[datetime]
    on: Mapped[date]
    zone: Mapped[str]
    undoes_act_id: Mapped[int | None] = mapped_column(ForeignKey("act.id"))
    draft_uid: Mapped[str | None] = mapped_column(unique=True)
    """The draft that was posted, so that a crash between the two cannot post it twice."""
    schema: Mapped[str]
    """The schema revision in force: undo does not reach across a migration."""


class ActImage(Base):
    """Before and after of every row of one table that one act changed: compressed JSON."""

    __tablename__ = "act_image"
    __table_args__ = (STRICT,)
    audited: ClassVar[bool] = False

    act_id: Mapped[int] = mapped_column(ForeignKey("act.id"), primary_key=True)
    table: Mapped[str] = mapped_column(primary_key=True)
    image: Mapped[bytes]


class ActRow(Base):
    """Which rows an act touched: the narrow index by which History pages."""

    __tablename__ = "act_row"
    __table_args__ = (Index("ix_act_row_act", "act_id"), {"sqlite_with_rowid": False, **STRICT})
    audited: ClassVar[bool] = False

    table: Mapped[str] = mapped_column(primary_key=True)
    row_id: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    act_id: Mapped[int] = mapped_column(ForeignKey("act.id"), primary_key=True, autoincrement=False)
