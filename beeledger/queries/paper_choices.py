"""What each document can be made of: sites, rounds, contracts, batches, dispatches and queens by number and words."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from beeledger.base.dates import long
from beeledger.base.text import counted
from beeledger.model.contracts import Contract
from beeledger.model.honey import Batch
from beeledger.model.parties import Party
from beeledger.model.sites import Site
from beeledger.queries.dispatches import dispatch_log
from beeledger.queries.moves import first_move
from beeledger.queries.pedigrees import pedigree_subjects
from beeledger.queries.rounds import recent_rounds

MOST = 2000
"""Rounds, batches and dispatches offered, newest first."""

Choices = tuple[tuple[int, str], ...]


@dataclass(frozen=True, slots=True)
class PaperChoices:
    """Numbers with words, newest or first by name."""

    sites: Choices = ()
    """Open ones."""
    all_sites: Choices = ()
    """Those given up too: the registers still hold them."""
    rounds: Choices = ()
    contracts: Choices = ()
    batches: Choices = ()
    dispatches: Choices = ()
    queens: Choices = ()
    """Those with a dam first."""
    first_move: date | None = None

    def of(self, what: str) -> Choices:
        """The choices of one kind, by its name here."""
        found: Choices = getattr(self, what)
        return found


def paper_choices(session: Session) -> PaperChoices:
    """Everything that paper is made of: a fixed number of statements."""
    sites = session.execute(select(Site.id, Site.name, Site.closed_on).order_by(Site.name)).all()
    contracts = session.execute(
        select(Contract.id, Contract.name, Party.name)
        .join(Party, Party.id == Contract.grower_id)
        .order_by(Contract.on_on.desc(), Contract.id.desc())
    )
    batches = session.execute(
        select(Batch.id, Batch.lot_mark, Batch.product, Batch.jar_g)
        .order_by(Batch.jarred_on.desc(), Batch.id.desc())
        .limit(MOST)
    )
    return PaperChoices(
        sites=tuple((row.id, row.name) for row in sites if row.closed_on is None),
        all_sites=tuple((row.id, row.name) for row in sites),
        rounds=tuple(
            (row.round_id, f"{row.site}, {long(row.on)}, {counted(row.hives, 'hive')}")
            for row in recent_rounds(session, limit=MOST)
        ),
        contracts=tuple((number, f"{name}, {grower}") for number, name, grower in contracts),
        batches=tuple((number, f"{mark}  {product}, {jar:,} g") for number, mark, product, jar in batches),
        dispatches=tuple(
            (row.id, ", ".join(part for part in (row.receiver, long(row.on), row.reference) if part))
            for row in dispatch_log(session, MOST)
        ),
        queens=tuple(pedigree_subjects(session, MOST)),
        first_move=first_move(session),
    )
