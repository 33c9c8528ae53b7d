"""Contracts: the list for the time line of bloom, one whole with what it needs and is owed, the report."""

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
from beeledger.queries.contract_report import (
    build_report,
    check_notes,
    check_results,
    crop_words,
    grower_lines,
    owed_lines,
)
from beeledger.queries.contract_stays import CropStay, counts_made, crop_stays, day_counts
from beeledger.queries.move_facts import site_facts
from beeledger.queries.moves import hives_at
from beeledger.queries.records.contract_desk import (
    ContractCard,
    ContractChoices,
    ContractRow,
    CropHive,
    CropSite,
    GrowerChoice,
    Look,
    Season,
    SourceSite,
    Standing,
    Terms,
)
from beeledger.queries.records.movement_report import MovementReport
from beeledger.rules.contracts import Strength, readiness
from beeledger.rules.sites import distance_m
from beeledger.rules.strength import Chance, choose_sample, sample_size

Candidates = dict[int, list[Strength]]
"""By site: what each colony that could go was last counted at."""


def report_record(session: Session, contract_id: int, today: date) -> MovementReport:
    """The movement report of a contract, from the log and the checks alone."""
    return build_report(session, contract_id, today)


def list_contracts(
    session: Session, today: date, year: int | None = None, *, closed: bool = True
) -> tuple[ContractRow, ...]:
    """Contracts by their day, of one year or of all: five statements at most. Ready is counted for each alone.

    ``closed``: those too whose account is closed.
    """
    query = _contracts(year)
    rows = session.execute(query if closed else query.where(Contract.state != "closed")).all()
    ids = [contract.id for contract, _, _ in rows]
    stays = _by_contract(crop_stays(session, ids))
    looks = _looks(session, ids)
    coming = any(today <= contract.off_on for contract, _, _ in rows)
    candidates = _candidates(session) if coming else {}
    return tuple(
        _row(
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


def contract_card(session: Session, contract_id: int, today: date) -> ContractCard | None:
    """One contract whole; None when there is no such contract."""
    found = session.execute(_contracts(None).where(Contract.id == contract_id)).first()
    if found is None:
        return None
    contract, grower, site = found
    stays = crop_stays(session, [contract_id])
    checks, counts = counts_made(session, [contract_id])
    candidates = _candidates(session)
    looks = _looks(session, [contract_id]).get(contract_id, ())
    row = _row(contract, grower, site, stays, looks, candidates, today)
    here = hives_at(session, contract.site_id, today)
    return ContractCard(
        row,
        grower_lines(session, contract.grower_id).contact,
        _sources(session, contract, candidates, today) if row.ready is not None else (),
        tuple(CropHive(hive.colony_id, hive.mark) for hive in here),
        check_results(contract, checks, counts),
        owed_lines(contract, stays, counts, today),
        day_counts(stays),
        check_notes(checks, counts),
    )


def draw_sample(
    session: Session, contract_id: int, on: date, chance: Chance, share_hundredths: int | None = None
) -> tuple[CropHive, ...]:
    """Hives to open for a strength check, drawn by lot from those that stand on the crop that day."""
    site_id = session.get_one(Contract, contract_id).site_id
    here = {hive.mark: hive.colony_id for hive in hives_at(session, site_id, on)}
    drawn = choose_sample(here, chance, sample_size(len(here), share_hundredths))
    return tuple(CropHive(here[mark], mark) for mark in drawn)


def contract_choices(session: Session) -> ContractChoices:
    """Growers and sites for the form: two statements."""
    growers = select(Party.id, Party.name).where(Party.is_grower).order_by(Party.name)
    sites = select(Site.id, Site.name, Site.kind).where(Site.closed_on.is_(None)).order_by(Site.name)
    return ContractChoices(
        tuple(GrowerChoice(*row) for row in session.execute(growers)),
        tuple(CropSite(*row) for row in session.execute(sites)),
    )


def _contracts(year: int | None) -> Any:
    query = (
        select(Contract, Party.name, Site.name)
        .join(Party, Party.id == Contract.grower_id)
        .join(Site, Site.id == Contract.site_id)
        .order_by(Contract.on_on, Contract.name)
    )
    if year is not None:
        query = query.where(Contract.on_on >= date(year, 1, 1), Contract.on_on <= date(year, 12, 31))
    return query


def _looks(session: Session, contract_ids: Sequence[int]) -> dict[int, tuple[Look, ...]]:
    query = (
        select(BloomLook.contract_id, BloomLook.on, BloomLook.share_hundredths)
        .where(BloomLook.contract_id.in_(contract_ids))
        .order_by(BloomLook.on)
    )
    found: dict[int, tuple[Look, ...]] = {}
    for contract_id, on, share in session.execute(query):
        found[contract_id] = (*found.get(contract_id, ()), Look(on, share))
    return found


def _candidates(session: Session) -> Candidates:
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


def _row(
    contract: Contract, grower: str, site: str, stays: Sequence[CropStay], looks: tuple[Look, ...],
    candidates: Candidates, today: date,
) -> ContractRow:  # fmt: skip
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


def _sources(
    session: Session, contract: Contract, candidates: Candidates, today: date
) -> tuple[SourceSite, ...]:
    """Sites with hives, the most ready first, then the nearest."""
    sites = site_facts(session)
    goal = sites[contract.site_id].spot
    sources = []
    for site_id, own in candidates.items():
        if site_id == contract.site_id:
            continue
        spot = sites[site_id].spot
        metres = None if goal is None or spot is None else distance_m(spot, goal)
        ready = readiness(own, contract.least_bees_tenths or 0, today, contract.hives)
        strong, weak, unknown = len(ready.strong), len(ready.weak), len(ready.unknown)
        sources.append(SourceSite(site_id, sites[site_id].name, strong, weak, unknown, metres))
    return tuple(sorted(sources, key=lambda each: (-each.ready, each.metres is None, each.metres, each.site)))
