"""Contracts: the list for the time line of bloom, one whole with what it needs and is owed, the report."""

from __future__ import annotations

from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from beeledger.model.contracts import Contract
from beeledger.model.parties import Party
from beeledger.model.sites import Site
from beeledger.queries.contract_list import Candidates, candidates_by_site, contract_rows, looks_at, row_of
from beeledger.queries.contract_report import (
    build_report,
    check_notes,
    check_results,
    grower_lines,
    owed_lines,
)
from beeledger.queries.contract_stays import counts_made, crop_stays, day_counts
from beeledger.queries.move_facts import site_facts
from beeledger.queries.moves import hives_at
from beeledger.queries.records.contract_desk import (
    ContractCard,
    ContractChoices,
    CropHive,
    CropSite,
    GrowerChoice,
    SourceSite,
)
from beeledger.queries.records.movement_report import MovementReport
from beeledger.rules.contracts import readiness
from beeledger.rules.sites import distance_m
from beeledger.rules.strength import Chance, choose_sample, sample_size


def report_record(session: Session, contract_id: int, today: date) -> MovementReport:
    """The movement report of a contract, from the log and the checks alone."""
    return build_report(session, contract_id, today)


def contract_card(session: Session, contract_id: int, today: date) -> ContractCard | None:
    """One contract whole; None when there is no such contract."""
    found = session.execute(contract_rows(None).where(Contract.id == contract_id)).first()
    if found is None:
        return None
    contract, grower, site = found
    stays = crop_stays(session, [contract_id])
    checks, counts = counts_made(session, [contract_id])
    candidates = candidates_by_site(session)
    looks = looks_at(session, [contract_id]).get(contract_id, ())
    row = row_of(contract, grower, site, stays, looks, candidates, today)
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
