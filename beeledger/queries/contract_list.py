"""Contracts as the time line of bloom and the morning list them: how many hives came, and how many are ready."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from typing import Any

from sqlalchemy import or_, select
from sqlalchemy.orm import Session, aliased

from beeledger.model.colonies import Colony, HiveMark, Placement
from beeledger.model.contracts import BloomLook, Contract
from beeledger.model.parties import Party
from beeledger.model.rounds import RoundEntry
from beeledger.model.sites import Site
from beeledger.queries.contract_stays import CropStay, crop_stays
from beeledger.queries.records.contract_desk import ContractRow, Look, Season, Standing, Terms
from beeledger.rules.contracts import Strength, crops, readiness

Candidates = dict[int, list[Strength]]
"""By site: what each colony that could go was last counted at."""


def list_contracts(
    session: Session, today: date, year: int | None = None, *, closed: bool = True
) -> tuple[ContractRow, ...]:
    """Contracts by their day, of one year or of all: five statements at most. Ready is counted for each alone.

    ``closed``: those too whose account is closed.
    """
    query = contract_rows(year)
    rows = session.execute(query if closed else query.where(Contract.state != "closed")).all()
    ids = [contract.id for contract, _, _ in rows]
    stays = _by_contract(crop_stays(session, ids))
    looks = looks_at(session, ids)
    coming = any(today <= contract.off_on for contract, _, _ in rows)
    candidates = candidates_by_site(session) if coming else {}
    return tuple(
        row_of(
            contract, grower, site, stays.get(contract.id, []), looks.get(contract.id, ()), candidates, today
        )
        for contract, grower, site in rows
    )


def season(session: Session, today: date, year: int | None = None, wanted: int | None = None) -> Season:
    """The contracts of one year beside the years there are, so that a season costs the same after ten others.

    The year of the contract ``wanted``, else ``year``, else this year, else the newest with contracts.
    """
    years = contract_years(session)
    days = select(Contract.on_on).where(Contract.id == wanted)
    day = None if wanted is None else session.scalar(days)
    tried = (None if day is None else day.year, year, today.year, *years)
    chosen = next((one for one in tried if one in years), None)
    rows = () if chosen is None else list_contracts(session, today, chosen)
    return Season(years, chosen, rows)


def contract_years(session: Session) -> tuple[int, ...]:
    """The years with contracts, newest first."""
    return tuple(
        sorted({day.year for day in session.scalars(select(Contract.on_on).distinct())}, reverse=True)
    )


def contract_rows(year: int | None) -> Any:
    """Contracts with the names of grower and site, of one year or of all."""
    query = (
        select(Contract, Party.name, Site.name)
        .join(Party, Party.id == Contract.grower_id)
        .join(Site, Site.id == Contract.site_id)
        .order_by(Contract.on_on, Contract.name)
    )
    if year is not None:
        query = query.where(Contract.on_on >= date(year, 1, 1), Contract.on_on <= date(year, 12, 31))
    return query


def looks_at(session: Session, contract_ids: Sequence[int]) -> dict[int, tuple[Look, ...]]:
    """The looks at the bloom of these contracts, by day: one statement."""
    query = (
        select(BloomLook.contract_id, BloomLook.on, BloomLook.share_hundredths)
        .where(BloomLook.contract_id.in_(contract_ids))
        .order_by(BloomLook.on)
    )
    found: dict[int, tuple[Look, ...]] = {}
    for contract_id, on, share in session.execute(query):
        found[contract_id] = (*found.get(contract_id, ()), Look(on, share))
    return found


def candidates_by_site(session: Session) -> Candidates:
    """Living full colonies at home and out-apiaries, with the last count of bees of each: one statement."""
    entry = aliased(RoundEntry)
    latest = (
        select(entry.id)
        .where(entry.colony_id == Colony.id, entry.bees_tenths.is_not(None))
        .order_by(entry.on.desc(), entry.id.desc())
        .limit(1)
        .correlate(Colony)
        .scalar_subquery()
    )
    query = (
        select(Placement.site_id, HiveMark.mark, RoundEntry.bees_tenths, RoundEntry.on)
        .join(Colony, Colony.id == Placement.colony_id)
        .join(Site, Site.id == Placement.site_id)
        .outerjoin(HiveMark, (HiveMark.colony_id == Colony.id) & HiveMark.until_on.is_(None))
        .outerjoin(RoundEntry, RoundEntry.id == latest)
        .where(
            Placement.until_at.is_(None),
            Colony.ended_on.is_(None),
            Colony.kind == "full",
            or_(Site.kind == "home", Site.kind == "out"),
        )
    )
    found: Candidates = {}
    for site_id, mark, bees, on in session.execute(query):
        if site_id is not None:
            found.setdefault(site_id, []).append(Strength(mark or "", bees, on))
    return found


def row_of(
    contract: Contract, grower: str, site: str, stays: Sequence[CropStay], looks: tuple[Look, ...],
    candidates: Candidates, today: date,
) -> ContractRow:  # fmt: skip
    """One contract as the list shows it."""
    here = sum(stay.off is None for stay in stays)
    standing = _standing(contract, len(stays), here)
    offs = [stay.off for stay in stays if stay.off is not None]
    ready = None
    if standing in (Standing.OFFERED, Standing.WAITING) and today <= contract.off_on:
        others = (one for at, own in candidates.items() if at != contract.site_id for one in own)
        ready = len(readiness(others, contract.least_bees_tenths or 0, today, contract.hives).strong)
    return ContractRow(
        contract.id, contract.name, contract.grower_id, grower, contract.site_id, site, contract.crop,
        crop_words(contract.crop), _terms(contract), standing, len({stay.colony_id for stay in stays}), here,
        min((stay.on for stay in stays), default=None), max(offs, default=None) if not here else None, looks, ready,
    )  # fmt: skip


def _standing(contract: Contract, came: int, here: int) -> Standing:
    if contract.state == "closed":
        return Standing.CLOSED
    if here:
        return Standing.ON_SITE
    if came:
        return Standing.HOME
    return Standing.OFFERED if contract.state == "offer" else Standing.WAITING


def _terms(contract: Contract) -> Terms:
    return Terms(
        contract.hives, contract.on_on, contract.off_on, contract.price_pence, contract.area_m2,
        contract.least_bees_tenths, contract.least_brood_tenths, contract.weak_share_hundredths,
        contract.bonus_frame_pence, contract.late_day_pence, contract.terms or "", contract.tax_code or "",
    )  # fmt: skip


def _by_contract(stays: Iterable[CropStay]) -> dict[int, list[CropStay]]:
    found: dict[int, list[CropStay]] = {}
    for stay in stays:
        found.setdefault(stay.contract_id, []).append(stay)
    return found


def crop_words(crop: str) -> str:
    """A crop as it was kept, in words."""
    known = crops().get(crop)
    return known.words if known else crop
