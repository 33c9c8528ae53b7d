"""Notices of spraying: written down when they come, closed with what was done. Nothing is erased."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sqlalchemy import select

from beeledger.base import dates
from beeledger.base.clock import local_moment
from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import folded, shortened, tidy
from beeledger.base.units import kilometres
from beeledger.database.audit import OpenAct
from beeledger.model.parties import Party
from beeledger.model.spray import SprayNotice
from beeledger.rules.sites import GridReference, Spot

_MINUTES = 24 * 60


@dataclass(frozen=True, slots=True)
class NewSpray:
    """A notice as typed: metres, days, and minutes from local midnight."""

    given_by: str
    middle: Spot | None
    radius_m: int
    from_on: date
    from_minute: int
    until_on: date
    until_minute: int
    substance: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class SprayDone:
    """What was done about a notice."""

    notice_id: int
    done: str


def record_spray_notice(act: OpenAct, new: NewSpray) -> str:
    """Write a notice of spraying; ``act.result`` is its id."""
    _refuse(_check(new))
    row = SprayNotice(
        given_by=tidy(new.given_by), party_id=_party(act, new.given_by), given_on=act.today, radius_m=new.radius_m,
        from_at=local_moment(new.from_on, new.from_minute, act.clock.zone), from_on=new.from_on,
        until_at=local_moment(new.until_on, new.until_minute, act.clock.zone), until_on=new.until_on,
        substance=tidy(new.substance) or None, note=new.note.strip() or None,
    )  # fmt: skip
    if isinstance(new.middle, GridReference):
        row.easting_m, row.northing_m = new.middle.easting_m, new.middle.northing_m
    elif new.middle is not None:
        row.latitude_e6, row.longitude_e6 = new.middle.millionths()
    act.session.add(row)
    act.session.flush()
    act.result = row.id
    what = f"Spray notice from {row.given_by}, {dates.span(row.from_on, row.until_on)}"
    return shortened(f"{what}, {kilometres(row.radius_m)} km around a place", 200)


def close_spray_notice(act: OpenAct, typed: SprayDone) -> str:
    """Close a notice with what was done about it."""
    row = act.session.get_one(SprayNotice, typed.notice_id)
    findings = []
    if row.closed_on is not None:
        findings.append(_refusal("done", f"it was closed on {dates.long(row.closed_on)}"))
    if not tidy(typed.done):
        findings.append(_refusal("done", "say what was done, or that nothing was"))
    _refuse(findings)
    row.closed_on, row.done = act.today, tidy(typed.done)
    return shortened(f"Closed the spray notice from {row.given_by}: {row.done}", 200)


def _check(new: NewSpray) -> list[Finding]:
    wrong_time = not (0 <= new.from_minute < _MINUTES and 0 <= new.until_minute < _MINUTES)
    backward = (new.until_on, new.until_minute) <= (new.from_on, new.from_minute)
    problems = (
        (not tidy(new.given_by), "given_by", "say who gave the notice"),
        (new.middle is None, "middle", "say where: type a grid reference"),
        (new.radius_m < 1, "radius", "a circle needs its radius"),
        (wrong_time, "from_at", "there is no such time of day"),
        (backward, "until_on", "it ends before it begins"),
    )
    return [_refusal(field, what) for wrong, field, what in problems if wrong]


def _party(act: OpenAct, words: str) -> int | None:
    """The party of that name, where there is just one."""
    query = select(Party.id, Party.name).where(Party.erased_on.is_(None))
    named = [number for number, name in act.session.execute(query) if folded(name) == folded(words)]
    return named[0] if len(named) == 1 else None


def _refusal(field: str, what: str) -> Finding:
    return Finding(f"spray.{field}", Grade.REFUSED, what, "", Where(field=field))


def _refuse(findings: list[Finding]) -> None:
    if findings:
        raise Refused(findings)
