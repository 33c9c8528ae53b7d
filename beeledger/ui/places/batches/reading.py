"""What the card of a batch needs, read and drawn off the window's thread."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from beeledger.queries.honey import LotLine, lots
from beeledger.queries.labels import batch_card, batches, customers, record_of, run_of
from beeledger.queries.records.batch_card import BatchCard, BatchLine
from beeledger.queries.records.batch_record import BatchRecord
from beeledger.queries.records.label_sheet import LabelRun
from beeledger.queries.trace import WayBack, way_back
from beeledger.rules.label_particulars import Particular

if TYPE_CHECKING:
    from sqlalchemy.orm import Session

PROOF_DPI = 288.0
"""Fine enough for a screen at three dots where the design has one."""
TANKS = ("tank", "drum", "bucket")


@dataclass(frozen=True, slots=True)
class Shown:
    """A batch with its label drawn: what the law says of it, and its picture as a PNG."""

    card: BatchCard
    run: LabelRun
    particulars: tuple[Particular, ...]
    proof: bytes


def batch_shown(session: Session, batch_id: int) -> Shown | None:
    """A batch, its label laid out, measured, checked and drawn."""
    from beeledger.reporting.documents.label_sheet import label_proof  # start-up time: draws paper
    from beeledger.reporting.label_check import check_run  # start-up time: draws paper

    card = batch_card(session, batch_id)
    if card is None:
        return None
    run = run_of(card)
    return Shown(card, run, check_run(run), label_proof(run, PROOF_DPI))


def batch_paper(session: Session, batch_id: int) -> BatchRecord:
    """The record of a batch for paper, with the law's look at its label."""
    from beeledger.reporting.label_check import particular_lines  # start-up time: draws paper

    card = batch_card(session, batch_id)
    if card is None:
        raise ValueError(f"there is no batch {batch_id}")
    return record_of(card, particular_lines(run_of(card)))


def batches_listed(session: Session) -> tuple[BatchLine, ...]:
    """The batches, newest first."""
    return batches(session)


def customers_named(session: Session) -> tuple[str, ...]:
    """The farm's customers."""
    return customers(session)


def lots_to_jar(session: Session) -> tuple[LotLine, ...]:
    """The tanks, drums and buckets that hold honey."""
    return lots(session, TANKS)


def way_of(session: Session, lot_mark: str) -> WayBack | None:
    """The way of a batch back to its hives."""
    return way_back(session, lot_mark)
