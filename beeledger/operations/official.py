"""Visits of inspectors, samples sent to a laboratory and what came back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from beeledger.base import dates
from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import shortened, tidy
from beeledger.database.audit import OpenAct
from beeledger.model.colonies import Colony
from beeledger.model.restrictions import OUTCOMES, SAMPLE_KINDS, OfficialVisit, Sample
from beeledger.model.sites import Site


@dataclass(frozen=True, slots=True)
class NewVisit:
    """A visit of an inspector to a site."""

    site_id: int
    on: date
    inspector: str
    purpose: str = ""
    found: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class NewSample:
    """What was taken at a site, or from one colony there; ``visit_id``: on which visit, if on one."""

    site_id: int
    taken_on: date
    what: str
    kind: str = "comb"
    colony_id: int | None = None
    visit_id: int | None = None
    laboratory: str = ""
    sent_on: date | None = None


@dataclass(frozen=True, slots=True)
class Result:
    """What came back of a sample: clear or positive, and in the laboratory's words."""

    sample_id: int
    on: date
    outcome: str
    words: str = ""


def record_visit(act: OpenAct, new: NewVisit) -> str:
    """Write a visit of an inspector; ``act.result`` is its id."""
    findings = _check_site_and_day(act, new.site_id, new.on, "on")
    if not tidy(new.inspector):
        findings.append(_refusal("inspector", "say who came"))
    _refuse(findings)
    row = OfficialVisit(
        site_id=new.site_id, on=new.on, inspector=tidy(new.inspector), purpose=tidy(new.purpose) or None,
        found=new.found.strip() or None, note=new.note.strip() or None,
    )  # fmt: skip
    act.session.add(row)
    act.session.flush()
    act.result = row.id
    site = act.session.get_one(Site, new.site_id).name
    return f"Visit of {row.inspector} at {site}, {dates.long(new.on)}"


def record_sample(act: OpenAct, new: NewSample) -> str:
    """Write a sample that was taken; ``act.result`` is its id."""
    findings = _check_site_and_day(act, new.site_id, new.taken_on, "taken_on")
    if not tidy(new.what):
        findings.append(_refusal("what", "say what was taken"))
    if new.kind not in SAMPLE_KINDS:
        findings.append(_refusal("kind", f"{new.kind} is no kind of sample"))
    if new.colony_id is not None and act.session.get(Colony, new.colony_id) is None:
        findings.append(_refusal("colony", "there is no such colony"))
    visit = act.session.get(OfficialVisit, new.visit_id) if new.visit_id is not None else None
    if new.visit_id is not None and (visit is None or visit.site_id != new.site_id):
        findings.append(_refusal("visit", "there was no such visit to this site"))
    if new.sent_on is not None and not new.taken_on <= new.sent_on <= act.today:
        findings.append(
            _refusal("sent_on", "it was sent on or after the day it was taken, and not in days to come")
        )
    _refuse(findings)
    row = Sample(
        site_id=new.site_id, visit_id=new.visit_id, colony_id=new.colony_id, taken_on=new.taken_on,
        what=tidy(new.what), kind=new.kind, laboratory=tidy(new.laboratory) or None, sent_on=new.sent_on,
    )  # fmt: skip
    act.session.add(row)
    act.session.flush()
    act.result = row.id
    site = act.session.get_one(Site, new.site_id).name
    return shortened(f"Sample at {site}, {dates.long(new.taken_on)}: {row.what}", 200)


def record_result(act: OpenAct, result: Result) -> str:
    """Write what came back of a sample; written again, it corrects what stood there."""
    row = act.session.get_one(Sample, result.sample_id)
    findings = []
    if result.outcome not in OUTCOMES:
        findings.append(_refusal("outcome", "say whether it was clear or positive"))
    if not row.taken_on <= result.on <= act.today:
        findings.append(
            _refusal("on", f"it was taken on {dates.long(row.taken_on)}, and days to come are not known")
        )
    _refuse(findings)
    row.result_on, row.outcome, row.result = result.on, result.outcome, result.words.strip() or None
    act.result = row.id
    return shortened(f"Result of {row.what}, {dates.long(row.taken_on)}: {row.outcome}", 200)


def _check_site_and_day(act: OpenAct, site_id: int, on: date, field: str) -> list[Finding]:
    findings = []
    if act.session.get(Site, site_id) is None:
        findings.append(_refusal("site", "there is no such site"))
    if on > act.today:
        findings.append(_refusal(field, f"{dates.long(on)} has not come yet"))
    return findings


def _refusal(field: str, what: str) -> Finding:
    return Finding(f"official.{field}", Grade.REFUSED, what, where=Where(field=field))


def _refuse(findings: list[Finding]) -> None:
    if findings:
        raise Refused(findings)
