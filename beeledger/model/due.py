"""What is due, derived by rule, and what a person asked for."""

from __future__ import annotations

from datetime import date
from typing import ClassVar

from sqlalchemy import CheckConstraint, ForeignKey, Index, text
from sqlalchemy.orm import Mapped, mapped_column

from beeledger.model.base import KEPT, STRICT, Base, Kept


class Due(Base):
    """A dated reason to go to a colony. Rebuilt for what an act touched; not in History."""

    __tablename__ = "due"
    __table_args__ = (
        Index("ix_due_site", "site_id", "due_on"),
        Index("ix_due_colony", "colony_id"),
        Index("ix_due_on", "due_on"),
        STRICT,
    )
    audited: ClassVar[bool] = False

    id: Mapped[int] = mapped_column(primary_key=True)
    colony_id: Mapped[int] = mapped_column(ForeignKey("colony.id"))
    site_id: Mapped[int | None] = mapped_column(ForeignKey("site.id"))
    code: Mapped[str]
    what: Mapped[str]
    why: Mapped[str]
    due_on: Mapped[date]
    minutes: Mapped[int]
    fact: Mapped[str | None]
    """The kind of fact it follows from: a word of ``rules.due.Fact``."""
    fact_on: Mapped[date | None]
    """The day of that fact."""
    first_on: Mapped[date | None]
    """The day by the rule, where a person has put it off."""


class DueRule(Base):
    """By which rule the whole list was last worked out: one row, put there by the program, not in History."""

    __tablename__ = "due_rule"
    __table_args__ = (CheckConstraint("id = 1", name="one_row"), STRICT)
    audited: ClassVar[bool] = False

    id: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    words: Mapped[str]
    """A hash over the figures and the code of the rule."""


class PutOff(Kept):
    """A person put a reason off, with a note. It holds while the reason stands for the same day by the rule."""

    __tablename__ = "put_off"
    __table_args__ = (
        CheckConstraint("until_on > first_on", name="later"),
        Index("ix_put_off_colony", "colony_id", "code"),
        KEPT,
    )

    colony_id: Mapped[int] = mapped_column(ForeignKey("colony.id"))
    code: Mapped[str]
    first_on: Mapped[date]
    until_on: Mapped[date]
    on: Mapped[date]
    by_whom: Mapped[str]
    note: Mapped[str]


class Task(Kept):
    """What a person asked for; putting it off is a fact of its own."""

    __tablename__ = "task"
    __table_args__ = (
        Index(
            "ix_task_open",
            "due_on",
            sqlite_where=text("done_on IS NULL"),
            postgresql_where=text("done_on IS NULL"),
        ),
        Index("ix_task_colony", "colony_id"),
        KEPT,
    )

    what: Mapped[str]
    due_on: Mapped[date]
    site_id: Mapped[int | None] = mapped_column(ForeignKey("site.id"))
    colony_id: Mapped[int | None] = mapped_column(ForeignKey("colony.id"))
    entry_id: Mapped[int | None] = mapped_column(ForeignKey("round_entry.id"), index=True)
    done_on: Mapped[date | None]
    put_off_from: Mapped[date | None]
