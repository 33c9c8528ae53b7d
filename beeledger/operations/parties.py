"""The people and firms the farm deals with, and its vehicles."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import select

from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import folded, tidy
from beeledger.database.audit import OpenAct
from beeledger.model.parties import Party, PartyContact, Vehicle
from beeledger.queries.parties import ROLES


@dataclass(frozen=True, slots=True)
class NewParty:
    """A party with its roles; what identifies a private person is kept apart and out of History."""

    name: str
    roles: tuple[str, ...] = ()
    person: str = ""
    address: str = ""
    phone: str = ""
    email: str = ""


@dataclass(frozen=True, slots=True)
class NewVehicle:
    """A van, lorry or trailer: places for hives, and grams it may carry."""

    name: str
    places: int
    payload_g: int | None = None
    registration: str = ""
    retired: bool = False
    """No longer offered for a move; old moves keep it."""


def add_party(act: OpenAct, new: NewParty) -> str:
    """Write a new party; ``act.result`` is its id. Refused without a name, or with one in use."""
    _check_party(act, new, None)
    row = Party(name=tidy(new.name))
    act.session.add(row)
    _fill(act, row, new)
    act.result = row.id
    return f"Added {row.name}"


def change_party(act: OpenAct, party_id: int, new: NewParty) -> str:
    """Write all that the form holds over a party."""
    _check_party(act, new, party_id)
    row = act.session.get_one(Party, party_id)
    if row.erased_on is not None:
        raise Refused([_wrong("party.erased", "who this was has been erased", "name")])
    row.name = tidy(new.name)
    _fill(act, row, new)
    return f"Changed {row.name}"


def party_named(act: OpenAct, name: str) -> Party | None:
    """The party of that name, whatever its capitals and accents."""
    return next((row for row in act.session.scalars(select(Party)) if folded(row.name) == folded(name)), None)


def supplier_named(act: OpenAct, supplier_id: int | None, supplier: str, address: str = "") -> Party | None:
    """The supplier that is named, made where it is new; a name stands above the number.

    One that was erased stays where it was named already, and gets neither role nor address again.
    """
    name = tidy(supplier)
    if not name and supplier_id is None:
        return None
    party = act.session.get(Party, supplier_id) if supplier_id is not None else None
    if party is None or (name and folded(party.name) != folded(name)):
        party = party_named(act, name)
    if party is None:
        add_party(act, NewParty(name, roles=("supplier",), address=address))
        return act.session.get_one(Party, act.result)
    if party.erased_on is None:
        party.is_supplier = True
        if address.strip():
            _set_address(act, party.id, address.strip())
    return party


def add_vehicle(act: OpenAct, new: NewVehicle) -> str:
    """Write a new vehicle; ``act.result`` is its id. Refused without places or with a name in use."""
    _check_vehicle(act, new, None)
    row = Vehicle(name=tidy(new.name), places=new.places, payload_g=new.payload_g)
    row.registration = tidy(new.registration) or None
    act.session.add(row)
    act.session.flush()
    act.result = row.id
    return f"Added the vehicle {row.name}"


def change_vehicle(act: OpenAct, vehicle_id: int, new: NewVehicle) -> str:
    """Write all that the form holds over a vehicle."""
    _check_vehicle(act, new, vehicle_id)
    row = act.session.get_one(Vehicle, vehicle_id)
    row.name, row.places, row.payload_g = tidy(new.name), new.places, new.payload_g
    row.registration = tidy(new.registration) or None
    retires = new.retired and row.retired_on is None
    row.retired_on = (row.retired_on or act.today) if new.retired else None
    return f"Retired the vehicle {row.name}" if retires else f"Changed the vehicle {row.name}"


def _check_party(act: OpenAct, new: NewParty, party_id: int | None) -> None:
    findings = [] if tidy(new.name) else [_wrong("party.name", "a party needs a name", "name")]
    findings += [
        _wrong("party.role", f"{role} is no role of a party", "roles")
        for role in new.roles
        if role not in ROLES
    ]
    names = act.session.execute(select(Party.id, Party.name)).all()
    if any(row.id != party_id and folded(row.name) == folded(new.name) for row in names):
        findings.append(_wrong("party.name-used", f"there is {tidy(new.name)} already", "name"))
    _refuse(findings)


def _check_vehicle(act: OpenAct, new: NewVehicle, vehicle_id: int | None) -> None:
    findings = [] if tidy(new.name) else [_wrong("vehicle.name", "a vehicle needs a name", "name")]
    if new.places < 1:
        findings.append(_wrong("vehicle.places", "a vehicle has room for a hive at least", "places"))
    if new.payload_g is not None and new.payload_g < 0:
        findings.append(_wrong("vehicle.payload", "it cannot carry less than nothing", "payload"))
    names = act.session.execute(select(Vehicle.id, Vehicle.name)).all()
    if any(row.id != vehicle_id and folded(row.name) == folded(new.name) for row in names):
        findings.append(_wrong("vehicle.name-used", f"there is a vehicle {tidy(new.name)} already", "name"))
    _refuse(findings)


def _fill(act: OpenAct, row: Party, new: NewParty) -> None:
    for role in ROLES:
        setattr(row, f"is_{role}", role in new.roles)
    act.session.flush()
    said = (new.person, new.address, new.phone, new.email)
    contact = act.session.scalar(select(PartyContact).where(PartyContact.party_id == row.id))
    if contact is None and not any(text.strip() for text in said):
        return
    if contact is None:
        contact = PartyContact(party_id=row.id)
        act.session.add(contact)
    contact.person, contact.address, contact.phone, contact.email = (text.strip() or None for text in said)
    act.session.flush()


def _set_address(act: OpenAct, party_id: int, address: str) -> None:
    contact = act.session.scalar(select(PartyContact).where(PartyContact.party_id == party_id))
    if contact is None:
        contact = PartyContact(party_id=party_id)
        act.session.add(contact)
    if contact.address != address:
        contact.address = address


def _wrong(code: str, what: str, field: str) -> Finding:
    return Finding(code, Grade.REFUSED, what, where=Where(field=field))


def _refuse(findings: list[Finding]) -> None:
    if findings:
        raise Refused(findings)
