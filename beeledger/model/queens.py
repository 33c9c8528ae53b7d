"""Queens, the colonies they headed, how they were mated, and the grafts they were raised from."""

from __future__ import annotations

from datetime import date

from sqlalchemy import CheckConstraint, ForeignKey, Index, text
from sqlalchemy.orm import Mapped, mapped_column

from beeledger.model.base import KEPT, Kept, at_least, between, one_of
from beeledger.rules.pedigree import MatingKind


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
        Index("ix_queen_dam", "dam_id"),
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
        Index("ix_tenure_queen", "queen_id", "from_on"),
        KEPT,
    )

    queen_id: Mapped[int] = mapped_column(ForeignKey("queen.id"))
    colony_id: Mapped[int] = mapped_column(ForeignKey("colony.id"))
    from_on: Mapped[date]
    until_on: Mapped[date | None]
    why_ended: Mapped[str | None]
    entry_id: Mapped[int | None] = mapped_column(ForeignKey("round_entry.id"), index=True)


class Mating(Kept):
    """How a queen was mated; no row while nobody has written it down."""

    __tablename__ = "mating"
    __table_args__ = (one_of("kind", MatingKind), KEPT)

    queen_id: Mapped[int] = mapped_column(ForeignKey("queen.id"), unique=True)
    kind: Mapped[str]
    site_id: Mapped[int | None] = mapped_column(ForeignKey("site.id"))
    on: Mapped[date | None]
    note: Mapped[str | None]


class MatingDroneMother(Kept):
    """A queen whose drones a queen was mated to."""

    __tablename__ = "mating_drone_mother"
    __table_args__ = (
        Index("uq_mating_drone_mother", "mating_id", "queen_id", unique=True),
        Index("ix_mating_drone_mother_queen", "queen_id"),
        KEPT,
    )

    mating_id: Mapped[int] = mapped_column(ForeignKey("mating.id"))
    queen_id: Mapped[int] = mapped_column(ForeignKey("queen.id"))


class GraftBatch(Kept):
    """Larvae of one queen grafted on a day, and how many cells were left at each step."""

    __tablename__ = "graft_batch"
    __table_args__ = (
        at_least("grafted", 1), at_least("taken"), at_least("sealed"), at_least("emerged"), at_least("mated"),
        Index("ix_graft_batch_on", "on"),
        Index("ix_graft_batch_dam", "dam_id"),
        KEPT,
    )  # fmt: skip

    on: Mapped[date]
    dam_id: Mapped[int] = mapped_column(ForeignKey("queen.id"))
    finisher_id: Mapped[int | None] = mapped_column(ForeignKey("colony.id"))
    grafted: Mapped[int | None]
    taken: Mapped[int | None]
    sealed: Mapped[int | None]
    emerged: Mapped[int | None]
    mated: Mapped[int | None]
    note: Mapped[str | None]
