"""What all tables share: naming of constraints, exact types on both databases, key and version.

On SQLite every table is STRICT, so a wrong type is refused by the file itself; dates and moments
are ISO text there, real dates and moments on PostgreSQL.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, date, datetime
from typing import Any, ClassVar

from sqlalchemy import (
    BigInteger,
    Boolean,
    CheckConstraint,
    Date,
    DateTime,
    Dialect,
    Integer,
    LargeBinary,
    MetaData,
    Text,
)
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column
from sqlalchemy.types import TypeDecorator, TypeEngine

NAMING = {
    "ix": "ix_%(column_0_N_label)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s",
    "pk": "pk_%(table_name)s",
}

Whole = BigInteger().with_variant(Integer(), "sqlite")
"""A whole number; 64 bits on both databases."""


class LocalDate(TypeDecorator[date]):
    """A local date: DATE on PostgreSQL, ISO text on SQLite."""

    impl = Date
    cache_ok = True

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[Any]:
        """ISO text sorts as dates do."""
        return dialect.type_descriptor(Text() if dialect.name == "sqlite" else Date())

    def process_bind_param(self, value: date | None, dialect: Dialect) -> Any:
        """To the database."""
        return value.isoformat() if value is not None and dialect.name == "sqlite" else value

    def process_result_value(self, value: Any, dialect: Dialect) -> date | None:
        """From the database."""
        return date.fromisoformat(value) if value is not None and dialect.name == "sqlite" else value


class Moment(TypeDecorator[datetime]):
    """A moment in UTC to the second: timestamptz on PostgreSQL, ISO text on SQLite."""

    impl = DateTime
    cache_ok = True

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[Any]:
        """Text of one fixed form sorts as moments do."""
        return dialect.type_descriptor(Text() if dialect.name == "sqlite" else DateTime(timezone=True))

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> Any:
        """To the database; a moment without a zone is a bug of the caller."""
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError("a moment needs its zone")
        utc = value.astimezone(UTC).replace(microsecond=0)
        return utc.strftime("%Y-%m-%dT%H:%M:%SZ") if dialect.name == "sqlite" else utc

    def process_result_value(self, value: Any, dialect: Dialect) -> datetime | None:
        """From the database, aware, in UTC."""
        if value is None:
            return None
        moment: datetime = datetime.fromisoformat(value) if dialect.name == "sqlite" else value
        return moment.astimezone(UTC)


class YesNo(TypeDecorator[bool]):
    """True or false: BOOLEAN on PostgreSQL, 0 or 1 on SQLite."""

    impl = Boolean
    cache_ok = True

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[Any]:
        """STRICT tables know no BOOLEAN."""
        return dialect.type_descriptor(Integer() if dialect.name == "sqlite" else Boolean())

    def process_bind_param(self, value: bool | None, dialect: Dialect) -> Any:
        """To the database."""
        return int(value) if value is not None and dialect.name == "sqlite" else value

    def process_result_value(self, value: Any, dialect: Dialect) -> bool | None:
        """From the database."""
        return None if value is None else bool(value)


class Base(DeclarativeBase):
    """The root of all tables."""

    metadata = MetaData(naming_convention=NAMING)
    type_annotation_map: ClassVar[dict[Any, Any]] = {
        int: Whole,
        str: Text(),
        date: LocalDate(),
        datetime: Moment(),
        bool: YesNo(),
        bytes: LargeBinary(),
    }
    audited: ClassVar[bool] = True
    """Whether changes of this table go into History; derived rows do not."""
    private: ClassVar[frozenset[str]] = frozenset()
    """Columns that identify a private person: never copied into History."""


class Kept(Base):
    """A table of the ledger: an integer key and the number of the last act that changed the row."""

    __abstract__ = True

    id: Mapped[int] = mapped_column(primary_key=True, sort_order=-2)
    version: Mapped[int] = mapped_column(sort_order=-1)


STRICT: dict[str, Any] = {"sqlite_strict": True}
KEPT: dict[str, Any] = {"sqlite_strict": True, "sqlite_autoincrement": True}
"""Rows of the ledger never get the number of a row that is gone, so that undo and History cannot mix them up."""


def one_of(column: str, values: Iterable[str]) -> CheckConstraint:
    """A CHECK that a text column holds one of ``values`` (or nothing)."""
    words = ", ".join(f"'{value}'" for value in values)
    return CheckConstraint(f"{column} IN ({words})", name=f"{column}_known")


def at_least(column: str, least: int = 0) -> CheckConstraint:
    """A CHECK that a whole number is not below ``least``."""
    return CheckConstraint(f"{column} >= {least}", name=f"{column}_least")


def between(column: str, least: int, most: int) -> CheckConstraint:
    """A CHECK on a range."""
    return CheckConstraint(f"{column} BETWEEN {least} AND {most}", name=f"{column}_range")
