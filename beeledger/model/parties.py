"""People and firms the farm deals with, the crew, and the vehicles."""

from __future__ import annotations

from datetime import date
from typing import ClassVar

from sqlalchemy import CheckConstraint, ForeignKey
from sqlalchemy.orm import Mapped, mapped_column

from beeledger.model.base import KEPT, Kept, at_least


class Party(Kept):
    """A landholder, grower, customer, supplier, authority or extractor; one row, several roles."""

    __tablename__ = "party"
    __table_args__ = (CheckConstraint("length(name) > 0", name="name_given"), KEPT)

    name: Mapped[str]
    is_landholder: Mapped[bool] = mapped_column(default=False)
    is_grower: Mapped[bool] = mapped_column(default=False)
    is_customer: Mapped[bool] = mapped_column(default=False)
    is_supplier: Mapped[bool] = mapped_column(default=False)
    is_authority: Mapped[bool] = mapped_column(default=False)
    is_extractor: Mapped[bool | None]
    """Not asked yet where it is empty: the column came with a later schema."""
    erased_on: Mapped[date | None]
    """When everything that tells who this was has been blanked; the name is a mark since."""


class PartyContact(Kept):
    """What identifies a private person: stands in rows of its own that History does not copy."""

    __tablename__ = "party_contact"
    __table_args__ = (KEPT,)
    private: ClassVar[frozenset[str]] = frozenset({"person", "address", "phone", "email"})

    party_id: Mapped[int] = mapped_column(ForeignKey("party.id"), unique=True)
    person: Mapped[str | None]
    address: Mapped[str | None]
    phone: Mapped[str | None]
    email: Mapped[str | None]


class CrewMember(Kept):
    """One of the crew, known by initials on sheets."""

    __tablename__ = "crew_member"
    __table_args__ = (KEPT,)

    initials: Mapped[str] = mapped_column(unique=True)
    name: Mapped[str]
    works_here: Mapped[bool] = mapped_column(default=True)


class Vehicle(Kept):
    """A van, lorry or trailer: places for hives and what it may carry."""

    __tablename__ = "vehicle"
    __table_args__ = (at_least("places", 1), at_least("payload_g", 0), KEPT)

    name: Mapped[str] = mapped_column(unique=True)
    registration: Mapped[str | None]
    places: Mapped[int]
    payload_g: Mapped[int | None]
    retired_on: Mapped[date | None]
    """No longer offered from this day; old moves keep it."""
