"""Queens and the colonies they headed."""

from __future__ import annotations

from datetime import date

from sqlalchemy import CheckConstraint, ForeignKey, Index, text
from sqlalchemy.orm import Mapped, mapped_column

from beeledger.model.base import KEPT, Kept, between


class Queen(Kept):
    """A queen. Her marking colour follows from the year she hatched."""

    __tablename__ = "queen"
    __table_args__ = (
        between("hatch_year", 1900, 2200),
        Index(
            "uq_queen_tag",
            "tag",
            unique=True,
            sqlite_where=text("tag IS NOT NULL"),
            postgresql_where=text("tag IS NOT NULL"),
        ),
        KEPT,
    )

    tag: Mapped[str | None]
    hatch_year: Mapped[int | None]
    marked: Mapped[bool | None]
    clipped: Mapped[bool | None]
    line: Mapped[str | None]
    origin: Mapped[str | None]
    dam_id: Mapped[int | None] = mapped_column(ForeignKey("queen.id"))
    ended_on: Mapped[date | None]
    end_cause: Mapped[str | None]
    note: Mapped[str | None]


class Tenure(Kept):
    """A queen at the head of a colony, from a day until a day, and why it ended."""

    __tablename__ = "tenure"
    __table_args__ = (
        CheckConstraint("until_on >= from_on", name="days_order"),
        Index(
            "uq_tenure_queen_open",
            "queen_id",
            unique=True,
            sqlite_where=text("until_on IS NULL"),
            postgresql_where=text("until_on IS NULL"),
        ),
        Index("ix_tenure_colony", "colony_id", "from_on"),
        KEPT,
    )

    queen_id: Mapped[int] = mapped_column(ForeignKey("queen.id"))
    colony_id: Mapped[int] = mapped_column(ForeignKey("colony.id"))
    from_on: Mapped[date]
    until_on: Mapped[date | None]
    why_ended: Mapped[str | None]
    entry_id: Mapped[int | None] = mapped_column(ForeignKey("round_entry.id"), index=True)
