"""Restrictions, visits of inspectors and samples, as the farm records them.

A restriction begins with the notification and ends only when the inspector's written release is entered, by
its day and its reference. Nothing here stands above a notice: the law and the inspector do.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from sqlalchemy import select

from beeledger.base import dates
from beeledger.base.clock import local_date, local_moment
from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import counted, folded, shortened, tidy
from beeledger.base.units import kilometres
from beeledger.database.audit import OpenAct
from beeledger.database.checking.restrictions import Gone, gone_out
from beeledger.model.parties import Party, Vehicle
from beeledger.model.restrictions import SCOPES, LicenceUse, Restriction
from beeledger.model.sites import Site
from beeledger.operations.restricting import said_of
from beeledger.rules.restrictions import ALL_OUT, NO_LICENCE, Licence, Stops
from beeledger.rules.sites import GridReference, Spot

GONE = "restriction.gone"
"""The code of what went out since the beginning, by the record; a licence or accepting answers it."""


@dataclass(frozen=True, slots=True)
class NewRestriction:
    """A restriction as typed; one of site, vehicle, or middle with radius. Minutes count from local midnight."""

    reason: str
    begins_on: date
    begins_minute: int = 0
    site_id: int | None = None
    vehicle_id: int | None = None
    middle: Spot | None = None
    radius_m: int | None = None
    stops: Stops = ALL_OUT
    by_whom: str = ""
    reference: str = ""
    served_on: date | None = None
    expected_end_on: date | None = None
    note: str = ""
    accepted: frozenset[str] = frozenset()
    licence: Licence = NO_LICENCE
    """For what has gone out since it began, by the record."""

    @property
    def scope(self) -> str:
        """Site, area or vehicle; empty when it is none or more than one of them."""
        given = [
            name
            for name, there in zip(SCOPES, (self.site_id, self.middle, self.vehicle_id), strict=True)
            if there is not None
        ]
        return given[0] if len(given) == 1 else ""


@dataclass(frozen=True, slots=True)
class Release:
    """The inspector's written release. Without a minute it still holds until the day is over."""

    restriction_id: int
    on: date
    reference: str
    minute: int | None = None


def impose_restriction(act: OpenAct, new: NewRestriction) -> str:
    """Write a restriction from its notification on; ``act.result`` is its id.

    What went out since then, by the record, is asked about first: a licence answers it, or accepting, and
    then the check of the ledger names it.
    """
    _refuse(_check(act, new))
    row = Restriction()
    with _asking_what_went(act, new):
        _fill(act, row, new)
        act.session.add(row)
        act.session.flush()
    act.result = row.id
    return shortened(f"Restricted {_where(act, row)}, from {dates.long(row.begins_on)}: {row.reason}", 200)


def change_restriction(act: OpenAct, restriction_id: int, new: NewRestriction) -> str:
    """Write all that the form holds over a restriction. Its release is entered on its own."""
    row = act.session.get_one(Restriction, restriction_id)
    findings = _check(act, new)
    begins = local_moment(new.begins_on, new.begins_minute, act.clock.zone)
    if row.released_at is not None and begins >= row.released_at:
        findings.append(
            _refusal(
                "begins_on", f"it was released on {dates.long(local_date(row.released_at, act.clock.zone))}"
            )
        )
    _refuse(findings)
    with _asking_what_went(act, new):
        _fill(act, row, new)
        act.session.flush()
    act.result = row.id
    return shortened(f"Changed the restriction of {_where(act, row)}: {row.reason}", 200)


def release_restriction(act: OpenAct, release: Release) -> str:
    """End a restriction by the inspector's written release: its day and its reference, nothing less."""
    row = act.session.get_one(Restriction, release.restriction_id)
    at = _released_at(act, release)
    findings = []
    if row.released_at is not None:
        findings.append(_refusal("on", "it has been released already"))
    if not tidy(release.reference):
        what = "a restriction ends only by the inspector's written release"
        findings.append(_refusal("reference", what, "Type the reference that stands on it"))
    if release.on > act.today:
        findings.append(_refusal("on", f"{dates.long(release.on)} has not come yet"))
    if at <= row.begins_at:
        findings.append(_refusal("on", f"it began on {dates.long(row.begins_on)}"))
    _refuse(findings)
    row.released_at, row.released_on = at, release.on
    row.release_reference = tidy(release.reference)
    return f"Released {_where(act, row)}, {dates.long(release.on)}: {row.release_reference}"


@contextmanager
def _asking_what_went(act: OpenAct, new: NewRestriction) -> Iterator[None]:
    """Ask about what went out since the beginning, as the restriction now stands; a licence is kept with each."""
    act.session.flush()
    before = set(gone_out(act.session))
    yield
    gone = [one for one in gone_out(act.session) if one not in before]
    if gone and new.licence.given:
        act.session.add_all(_use(one, new.licence) for one in gone)
    elif gone and GONE not in new.accepted:
        first = said_of(gone[0])
        what = first if len(gone) == 1 else f"{first}, and {counted(len(gone) - 1, 'time')} more"
        mend = "Tell the inspector. Type the licence if there was one, or accept: the check of the ledger will name it"
        field = Where(field="licence")
        raise Refused([Finding(GONE, Grade.AGAINST, f"Since then, by the record, {what}", mend, field)])


def _use(gone: Gone, licence: Licence) -> LicenceUse:
    row = LicenceUse(
        restriction_id=gone.restriction_id, what=said_of(gone),
        licence=tidy(licence.reference), issued_by=tidy(licence.issued_by) or None, issued_on=licence.issued_on,
        reason=tidy(licence.reason) or None,
    )  # fmt: skip
    setattr(row, gone.column, gone.row_id)
    return row


def _check(act: OpenAct, new: NewRestriction) -> list[Finding]:
    no_site = new.site_id is not None and act.session.get(Site, new.site_id) is None
    no_vehicle = new.vehicle_id is not None and act.session.get(Vehicle, new.vehicle_id) is None
    served, expected = new.served_on or new.begins_on, new.expected_end_on or new.begins_on
    problems = (
        (not new.scope, "where", "say one site, one vehicle, or a place with a radius"),
        (no_site, "where", "there is no such site"),
        (no_vehicle, "where", "there is no such vehicle"),
        (new.scope == "area" and (new.radius_m or 0) < 1, "radius", "a circle needs its radius"),
        (not tidy(new.reason), "reason", "say why: what is suspected or was found"),
        (not new.stops.named(), "stops", "say what it stops"),
        (new.begins_on > act.today, "begins_on", f"{dates.long(new.begins_on)} has not come yet"),
        (not 0 <= new.begins_minute < 24 * 60, "begins_at", "there is no such time of day"),
        (served < new.begins_on, "served_on", "the notice came before the beginning: begin with the notice"),
        (expected < new.begins_on, "expected_end_on", "it is expected to end before it began"),
    )
    return [_refusal(field, what) for wrong, field, what in problems if wrong]


def _fill(act: OpenAct, row: Restriction, new: NewRestriction) -> None:
    row.scope, row.site_id, row.vehicle_id = new.scope, new.site_id, new.vehicle_id
    row.radius_m = new.radius_m if new.scope == "area" else None
    row.easting_m = row.northing_m = row.latitude_e6 = row.longitude_e6 = None
    if isinstance(new.middle, GridReference):
        row.easting_m, row.northing_m = new.middle.easting_m, new.middle.northing_m
    elif new.middle is not None:
        row.latitude_e6, row.longitude_e6 = new.middle.millionths()
    row.begins_at = local_moment(new.begins_on, new.begins_minute, act.clock.zone)
    row.begins_on, row.served_on, row.expected_end_on = new.begins_on, new.served_on, new.expected_end_on
    stops = new.stops
    row.stops_bees, row.stops_comb, row.stops_honey = stops.bees, stops.comb, stops.honey
    row.stops_boxes, row.stops_tools, row.stops_inward = stops.boxes, stops.tools, stops.inward
    authority = _authority(act, new.by_whom)
    row.authority_id = authority
    row.by_whom = None if authority is not None else tidy(new.by_whom) or None
    row.reference, row.note = tidy(new.reference) or None, new.note.strip() or None
    row.reason = tidy(new.reason)


def _authority(act: OpenAct, by_whom: str) -> int | None:
    """The authority of that name, if it is a party of the farm."""
    query = select(Party.id, Party.name).where(Party.is_authority)
    known = {folded(name): party_id for party_id, name in act.session.execute(query)}
    return known.get(folded(by_whom))


def _released_at(act: OpenAct, release: Release) -> datetime:
    if release.minute is None:
        return local_moment(release.on + timedelta(days=1), 0, act.clock.zone)
    return local_moment(release.on, release.minute, act.clock.zone)


def _where(act: OpenAct, row: Restriction) -> str:
    if row.site_id is not None:
        return act.session.get_one(Site, row.site_id).name
    if row.vehicle_id is not None:
        return act.session.get_one(Vehicle, row.vehicle_id).name
    return f"{kilometres(row.radius_m or 0)} km around a place"


def _refusal(field: str, what: str, mend: str = "") -> Finding:
    return Finding(f"restriction.{field}", Grade.REFUSED, what, mend, Where(field=field))


def _refuse(findings: list[Finding]) -> None:
    if findings:
        raise Refused(findings)
