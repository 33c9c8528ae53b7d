"""Contracts for pollination: agreed, changed, closed; looks at the bloom; strength checks."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sqlalchemy import select

from beeledger.base import dates
from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import counted, folded, tidy
from beeledger.base.units import per_cent
from beeledger.database.audit import OpenAct
from beeledger.model.colonies import HiveMark, Placement
from beeledger.model.contracts import BloomLook, Contract, StrengthCheck, StrengthLine
from beeledger.model.parties import Party
from beeledger.model.sites import Site
from beeledger.queries.hives import colonies_at
from beeledger.rules.contracts import crops

_WHOLE = 10_000
_MOST_TENTHS = 1_000


@dataclass(frozen=True, slots=True)
class NewContract:
    """What was agreed with a grower. Money is pence; frames are tenths; shares hundredths of a per cent."""

    name: str
    grower_id: int
    site_id: int
    crop: str
    """A code of the crops the rules know, its words, or any other crop in words."""
    hives: int
    on: date
    off: date
    price_pence: int
    """For each hive that stood as promised."""
    area_m2: int | None = None
    least_bees_tenths: int | None = None
    least_brood_tenths: int | None = None
    weak_share_hundredths: int = 0
    """Of the price, paid for a hive under the least strength."""
    bonus_frame_pence: int = 0
    late_day_pence: int = 0
    """Owed by the grower for each hive and day when hives could not leave on the day agreed."""
    terms: str | None = None
    tax_code: str | None = None
    offered: bool = False
    """Not agreed yet."""


@dataclass(frozen=True, slots=True)
class Counted:
    """One hive opened in a strength check, tenths of a frame; None: not counted."""

    colony_id: int
    bees_tenths: int
    brood_tenths: int | None = None
    queenright: bool | None = None


@dataclass(frozen=True, slots=True)
class NewCheck:
    """A strength check as counted. ``seed`` and ``share_hundredths`` say how the hives were drawn."""

    contract_id: int
    on: date
    counted_by: str
    seed: int
    lines: tuple[Counted, ...]
    share_hundredths: int = 1_000
    weather: str | None = None


def add_contract(act: OpenAct, new: NewContract) -> str:
    """Write a new contract; ``act.result`` is its id. Refused for a name in use and figures that cannot be."""
    _refuse(_check(act, new, None))
    row = Contract(name=tidy(new.name))
    _fill(row, new)
    act.session.add(row)
    act.session.flush()
    act.result = row.id
    return f"Added the contract {row.name}: {counted(row.hives, 'hive')}, {dates.span(row.on_on, row.off_on)}"


def change_contract(act: OpenAct, contract_id: int, new: NewContract) -> str:
    """Write all that the form holds over a contract. Refused once it is closed."""
    row = _open(act, contract_id)
    _refuse(_check(act, new, contract_id))
    row.name = tidy(new.name)
    _fill(row, new)
    return f"Changed the contract {row.name}"


def close_contract(act: OpenAct, contract_id: int) -> str:
    """Close a contract: its report is final. Refused while hives of it stand on the crop."""
    row = _open(act, contract_id)
    here = act.session.scalars(
        select(Placement.colony_id).where(Placement.site_id == row.site_id, Placement.until_at.is_(None))
    ).all()
    if here and act.today <= row.off_on:
        stand = "stands" if len(here) == 1 else "stand"
        what = (
            f"{counted(len(here), 'hive')} still {stand} on the crop, agreed until {dates.short(row.off_on)}"
        )
        _refuse([_wrong("contract.stands", what, "contract", "Post the move home first")])
    row.state, row.closed_on = "closed", act.today
    return f"Closed the contract {row.name}"


def record_bloom(act: OpenAct, contract_id: int, on: date, share_hundredths: int) -> str:
    """Write the share of the crop in flower as seen on a day; a second look that day replaces the first."""
    contract = _known(act, contract_id)
    findings = _not_yet(act, on, "on")
    if not 0 <= share_hundredths <= _WHOLE:
        findings.append(_wrong("bloom.share", "a share is from 0 to 100 %", "share"))
    _refuse(findings)
    look = act.session.scalar(
        select(BloomLook).where(BloomLook.contract_id == contract_id, BloomLook.on == on)
    )
    if look is None:
        look = BloomLook(contract_id=contract_id, on=on)
        act.session.add(look)
    look.share_hundredths = share_hundredths
    act.session.flush()
    return f"{contract.name}: {per_cent(share_hundredths, 0)} % in flower on {dates.short(on)}"


def record_strength_check(act: OpenAct, new: NewCheck) -> str:
    """Write a strength check; ``act.result`` is its id.

    Refused for hives that did not stand on the crop that day by the record, for one counted twice, and
    for more frames than there can be.
    """
    contract = _known(act, new.contract_id)
    here = colonies_at(act.session, contract.site_id, new.on)
    _refuse(_check_counts(act, new, here))
    row = StrengthCheck(
        contract_id=new.contract_id, on=new.on, counted_by=tidy(new.counted_by),
        share_hundredths=new.share_hundredths, seed=new.seed, on_site=len(here),
        weather=tidy(new.weather or "") or None,
    )  # fmt: skip
    act.session.add(row)
    act.session.flush()
    act.session.add_all(
        StrengthLine(
            check_id=row.id, colony_id=line.colony_id, bees_tenths=line.bees_tenths,
            brood_tenths=line.brood_tenths, queenright=line.queenright,
        )
        for line in new.lines
    )  # fmt: skip
    act.session.flush()
    act.result = row.id
    return f"{contract.name}: strength check of {counted(len(new.lines), 'hive')} on {dates.short(new.on)}"


def _check(act: OpenAct, new: NewContract, contract_id: int | None) -> list[Finding]:
    shares = (new.least_bees_tenths or 0, new.least_brood_tenths or 0)
    money = (new.price_pence, new.bonus_frame_pence, new.late_day_pence)
    problems = (
        (not tidy(new.name), "name", "a contract needs a name"),
        (act.session.get(Party, new.grower_id) is None, "grower", "there is no such grower"),
        (act.session.get(Site, new.site_id) is None, "site", "there is no such site"),
        (not tidy(new.crop), "crop", "which crop the hives go to is missing"),
        (new.hives < 1, "hives", "a contract is for a hive at least"),
        (new.off <= new.on, "off", "the hives would come off before they are on"),
        (min(money) < 0, "price", "a price is not less than nought"),
        (new.area_m2 is not None and new.area_m2 < 1, "area", "a crop has an area"),
        (not 0 <= min(shares) <= max(shares) <= _MOST_TENTHS, "least", "a hive has from 0 to 100 frames"),
        (not 0 <= new.weak_share_hundredths <= _WHOLE, "weak", "a share is from 0 to 100 %"),
    )
    findings = [_wrong(f"contract.{field}", what, field) for wrong, field, what in problems if wrong]
    names = act.session.execute(select(Contract.id, Contract.name)).all()
    if any(row.id != contract_id and folded(row.name) == folded(new.name) for row in names):
        findings.append(_wrong("contract.name-used", f"there is a contract {tidy(new.name)} already", "name"))
    return findings


def _fill(row: Contract, new: NewContract) -> None:
    row.grower_id, row.site_id, row.crop = new.grower_id, new.site_id, _crop(new.crop)
    row.hives, row.area_m2, row.on_on, row.off_on = new.hives, new.area_m2, new.on, new.off
    row.price_pence, row.bonus_frame_pence = new.price_pence, new.bonus_frame_pence
    row.late_day_pence, row.weak_share_hundredths = new.late_day_pence, new.weak_share_hundredths
    row.least_bees_tenths, row.least_brood_tenths = new.least_bees_tenths, new.least_brood_tenths
    row.terms, row.tax_code = (new.terms or "").strip() or None, tidy(new.tax_code or "") or None
    row.state = "offer" if new.offered else "agreed"


def _crop(text: str) -> str:
    for code, crop in crops().items():
        if folded(text) in (folded(code), folded(crop.words)):
            return code
    return tidy(text)


def _check_counts(act: OpenAct, new: NewCheck, here: set[int]) -> list[Finding]:
    findings = _not_yet(act, new.on, "on")
    if not tidy(new.counted_by):
        findings.append(_wrong("check.by", "who counted is missing", "by"))
    if not 0 < new.share_hundredths <= _WHOLE:
        findings.append(_wrong("check.share", "a share is above 0 and at most 100 %", "share"))
    if not new.lines:
        findings.append(_wrong("check.empty", "no hive was counted", "counts"))
    marks = _marks(act, [line.colony_id for line in new.lines])
    seen: set[int] = set()
    for row, line in enumerate(new.lines, start=1):
        mark = marks.get(line.colony_id, "a hive without a number")
        problems = (
            (line.colony_id in seen, f"{mark} is counted twice"),
            (line.colony_id not in here, f"{mark} did not stand on the crop on {dates.short(new.on)}"),
            (not 0 <= line.bees_tenths <= _MOST_TENTHS, f"{mark}: a hive has from 0 to 100 frames of bees"),
            (not 0 <= (line.brood_tenths or 0) <= _MOST_TENTHS, f"{mark}: a hive has from 0 to 100 frames of brood"),
        )  # fmt: skip
        findings += [
            Finding("check.count", Grade.REFUSED, what, "Look at the number and the day", Where(row=row, field="counts", record=mark))
            for wrong, what in problems
            if wrong
        ]  # fmt: skip
        seen.add(line.colony_id)
    return findings


def _marks(act: OpenAct, colony_ids: list[int]) -> dict[int, str]:
    query = (
        select(HiveMark.colony_id, HiveMark.mark)
        .where(HiveMark.colony_id.in_(colony_ids))
        .order_by(HiveMark.from_on, HiveMark.id)
    )
    return dict(act.session.execute(query).all())


def _known(act: OpenAct, contract_id: int) -> Contract:
    row = act.session.get(Contract, contract_id)
    if row is None:
        raise Refused([_wrong("contract.unknown", "there is no such contract", "contract")])
    return row


def _open(act: OpenAct, contract_id: int) -> Contract:
    row = _known(act, contract_id)
    if row.state == "closed":
        what = f"the contract {row.name} is closed"
        raise Refused([_wrong("contract.closed", what, "contract", "Undo its closing in History first")])
    return row


def _not_yet(act: OpenAct, on: date, field: str) -> list[Finding]:
    if on <= act.today:
        return []
    return [_wrong("contract.future", f"{dates.long(on)} has not come yet", field, "Look at the date")]


def _wrong(code: str, what: str, field: str, mend: str = "") -> Finding:
    return Finding(code, Grade.REFUSED, what, mend, Where(field=field))


def _refuse(findings: list[Finding]) -> None:
    if findings:
        raise Refused(findings)
