"""Sites: added, changed, closed. Grid reference and degrees are each derived from the other."""

from __future__ import annotations

from dataclasses import dataclass, fields
from datetime import date

from sqlalchemy import func, select

from beeledger.base import dates
from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade, Where, holds
from beeledger.base.text import counted, folded, tidy
from beeledger.database.audit import OpenAct
from beeledger.model.colonies import Placement
from beeledger.model.parties import Party
from beeledger.model.sites import SITE_KINDS, Site
from beeledger.operations.parties import party_named
from beeledger.rules.sites import LatLon, check_grid, read_grid, to_grid, to_lat_lon


@dataclass(frozen=True, slots=True)
class NewSite:
    """A site as the form gives it. Degrees are asked for only where there is no grid reference."""

    name: str
    code: str = ""
    """Left empty, one is made of the name."""
    kind: str = "out"
    grid: str = ""
    latitude: float | None = None
    longitude: float | None = None
    landholder_id: int | None = None
    landholder: str = ""
    """Instead of the id: a name; a party of that name is taken, or written as a new landholder."""
    permission_from: date | None = None
    permission_until: date | None = None
    rent_pence: int | None = None
    rent_jars: int | None = None
    capacity: int | None = None
    way_in: str | None = None
    forage: str | None = None
    other_bees: str | None = None
    apiary_number: str | None = None
    note: str | None = None


_PLAIN = tuple(
    field.name
    for field in fields(NewSite)
    if field.name not in ("name", "code", "grid", "latitude", "longitude", "landholder", "landholder_id")
)


def add_site(act: OpenAct, new: NewSite) -> str:
    """Write a new site; ``act.result`` is its id. Refused for a bad grid reference or a name in use."""
    _refuse(_check(act, new, None))
    row = Site(code=_code(act, new), name=tidy(new.name))
    _fill(row, new)
    row.landholder_id = _landholder(act, new)
    act.session.add(row)
    act.session.flush()
    act.result = row.id
    return f"Added the site {row.name}"


def change_site(act: OpenAct, site_id: int, new: NewSite) -> str:
    """Write all that the form holds over a site; its code stays when none is given."""
    _refuse(_check(act, new, site_id))
    row = act.session.get_one(Site, site_id)
    before = row.name
    row.name = tidy(new.name)
    row.code = tidy(new.code) or row.code
    _fill(row, new)
    row.landholder_id = _landholder(act, new)
    return f"Changed the site {before}" + (f", now {row.name}" if row.name != before else "")


def close_site(act: OpenAct, site_id: int, on: date) -> str:
    """Give up a site. Refused while colonies stand there or stood there later, and a second time."""
    row = act.session.get_one(Site, site_id)
    if row.closed_on is not None:
        what = f"{row.name} was given up on {dates.long(row.closed_on)}"
        raise Refused([_wrong("site.closed", what, "on")])
    if on > act.today:
        raise Refused([_wrong("site.closed", f"{dates.long(on)} has not come yet", "on")])
    standing = act.session.scalar(
        select(func.count())
        .select_from(Placement)
        .where(Placement.site_id == site_id, Placement.until_at.is_(None))
    )
    if standing:
        what = f"{counted(standing, 'colony', 'colonies')} {'stands' if standing == 1 else 'stand'} at {row.name}"
        raise Refused([Finding("site.stands", Grade.REFUSED, what, "Move them or end them first")])
    last = act.session.scalar(select(func.max(Placement.until_on)).where(Placement.site_id == site_id))
    if last is not None and last > on:
        what = f"hives stood at {row.name} until {dates.long(last)}"
        raise Refused([_wrong("site.stood", what, "on", "Give a later day")])
    row.closed_on = on
    return f"Gave up the site {row.name}"


def _check(act: OpenAct, new: NewSite, site_id: int | None) -> list[Finding]:
    findings = [] if tidy(new.name) else [_wrong("site.name", "a site needs a name", "name")]
    if new.kind not in SITE_KINDS:
        findings.append(_wrong("site.kind", f"{new.kind} is no kind of site", "kind"))
    if new.grid.strip() and (bad := check_grid(new.grid)):
        findings.append(bad)
    if new.capacity is not None and new.capacity < 0:
        findings.append(_wrong("site.capacity", "room for fewer than no hives", "capacity"))
    if new.permission_from and new.permission_until and new.permission_until < new.permission_from:
        findings.append(_wrong("site.permission", "the permission ends before it begins", "permission"))
    findings += _check_names(act, new, site_id)
    return findings


def _check_names(act: OpenAct, new: NewSite, site_id: int | None) -> list[Finding]:
    rows = act.session.execute(select(Site.id, Site.name, Site.code, Site.closed_on)).all()
    others = [row for row in rows if row.id != site_id]
    found = []
    if any(row.closed_on is None and folded(row.name) == folded(new.name) for row in others):
        found.append(
            _wrong(
                "site.name-used", f"there is a site {tidy(new.name)} already", "name", "Give it another name"
            )
        )
    if new.code and any(folded(row.code) == folded(new.code) for row in others):
        found.append(
            _wrong("site.code-used", f"there is a site with the code {tidy(new.code)} already", "code")
        )
    return found


def _code(act: OpenAct, new: NewSite) -> str:
    if tidy(new.code):
        return tidy(new.code)
    words = [word for word in folded(new.name).upper().split() if word[0].isalnum()] or ["S"]
    stem = "".join(word[0] for word in words[:3]) if len(words) > 1 else words[0][:3]
    used = set(act.session.scalars(select(Site.code)))
    return next(code for number in range(len(used) + 2) if (code := f"{stem}{number or ''}") not in used)


def _landholder(act: OpenAct, new: NewSite) -> int | None:
    name = tidy(new.landholder)
    if new.landholder_id is not None or not name:
        return new.landholder_id
    party = party_named(act, name)
    if party is None:
        party = Party(name=name)
        act.session.add(party)
    if party.erased_on is None:
        party.is_landholder = True
    act.session.flush()
    return party.id


def _fill(row: Site, new: NewSite) -> None:
    for name in _PLAIN:
        value = getattr(new, name)
        setattr(row, name, (value.strip() or None) if isinstance(value, str) else value)
    _locate(row, new)


def _locate(row: Site, new: NewSite) -> None:
    row.grid = row.easting_m = row.northing_m = row.latitude_e6 = row.longitude_e6 = None
    if new.grid.strip():
        reference = read_grid(new.grid)
        row.grid = reference.as_given()
        row.easting_m, row.northing_m = reference.easting_m, reference.northing_m
        row.latitude_e6, row.longitude_e6 = to_lat_lon(reference).millionths()
    elif new.latitude is not None and new.longitude is not None:
        spot = LatLon(new.latitude, new.longitude)
        row.latitude_e6, row.longitude_e6 = spot.millionths()
        try:
            reference = to_grid(spot)
        except ValueError:
            return  # abroad: degrees alone
        row.grid = reference.as_given()
        row.easting_m, row.northing_m = reference.easting_m, reference.northing_m


def _wrong(code: str, what: str, field: str, mend: str = "") -> Finding:
    return Finding(code, Grade.REFUSED, what, mend, Where(field=field))


def _refuse(findings: list[Finding]) -> None:
    if holds(findings):
        raise Refused(findings)
