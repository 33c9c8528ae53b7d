"""The people and firms the farm deals with, its crew and its vehicles, as Settings lists them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from beeledger.model.acts import Act
from beeledger.model.base import Base
from beeledger.model.parties import CrewMember, Party, PartyContact, Vehicle

ROLES = ("landholder", "grower", "customer", "supplier", "authority", "extractor")


@dataclass(frozen=True, slots=True)
class PartyLine:
    """A party with what it is to the farm, and how to reach it."""

    id: int
    name: str
    roles: tuple[str, ...]
    person: str = ""
    address: str = ""
    phone: str = ""
    email: str = ""
    erased_on: date | None = None


@dataclass(frozen=True, slots=True)
class CrewLine:
    """One of the crew."""

    id: int
    initials: str
    name: str
    works_here: bool


@dataclass(frozen=True, slots=True)
class VehicleLine:
    """A vehicle: places for hives, grams it may carry, and since when it is retired."""

    id: int
    name: str
    places: int
    payload_g: int | None
    registration: str
    retired_on: date | None


def list_parties(session: Session) -> tuple[PartyLine, ...]:
    """Every party by its name; erased ones last."""
    query = (
        select(Party, PartyContact)
        .outerjoin(PartyContact, PartyContact.party_id == Party.id)
        .order_by(Party.erased_on.is_not(None), func.lower(Party.name), Party.id)
    )
    return tuple(_line(row, contact) for row, contact in session.execute(query))


def _line(row: Party, contact: PartyContact | None) -> PartyLine:
    roles = tuple(role for role in ROLES if getattr(row, f"is_{role}"))
    if contact is None:
        return PartyLine(row.id, row.name, roles, erased_on=row.erased_on)
    said = (words or "" for words in (contact.person, contact.address, contact.phone, contact.email))
    person, address, phone, email = said
    return PartyLine(row.id, row.name, roles, person, address, phone, email, row.erased_on)


def list_crew(session: Session) -> tuple[CrewLine, ...]:
    """The crew by initials; those who left last."""
    query = select(CrewMember).order_by(CrewMember.works_here.desc(), CrewMember.initials)
    return tuple(CrewLine(row.id, row.initials, row.name, row.works_here) for row in session.scalars(query))


def list_vehicles(session: Session) -> tuple[VehicleLine, ...]:
    """The vehicles by name; retired ones last."""
    query = select(Vehicle).order_by(Vehicle.retired_on.is_not(None), Vehicle.name)
    return tuple(
        VehicleLine(row.id, row.name, row.places, row.payload_g, row.registration or "", row.retired_on)
        for row in session.scalars(query)
    )


def party_stands_in(session: Session, party_id: int) -> tuple[tuple[str, int], ...]:
    """How many records point at a party, by table; tables without any are left out."""
    found = []
    for table in Base.metadata.sorted_tables:
        columns = [key.parent for key in table.foreign_keys if key.column.table.name == "party"]
        if columns and table.name != "party_contact":
            counts = [
                session.scalar(select(func.count()).where(column == party_id)) or 0 for column in columns
            ]
            if sum(counts):
                found.append((table.name, sum(counts)))
    return tuple(found)


def erasures(session: Session) -> tuple[datetime, ...]:
    """When parties were erased, oldest first: backups from before still hold them."""
    query = select(Act.at).where(Act.kind == "erase_party").order_by(Act.id)
    return tuple(session.scalars(query))
