"""What the harvest shows, read in one go."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from beeledger.queries.farm import farm_settings
from beeledger.queries.honey import LotLine, SeasonBalance, lots, season_balance
from beeledger.queries.takes import OpenTake, takes
from beeledger.queries.trace import Onward, forward

if TYPE_CHECKING:
    from sqlalchemy.orm import Session

STORES = ("drum", "tank", "bucket")


@dataclass(frozen=True, slots=True)
class Harvest:
    """Takes that wait for the scale or the extractor, what stands in drums and tanks, and the balance."""

    takes: tuple[OpenTake, ...]
    supers: dict[int, LotLine]
    """The lots of weighed supers that still hold honey, by id."""
    stores: tuple[LotLine, ...]
    balance: SeasonBalance
    super_full_g: int


def harvest(session: Session, since: date) -> Harvest:
    """The harvest as it stands; the balance counts from ``since``."""
    supers = {lot.id: lot for lot in lots(session, ["supers"])}
    weighed = takes(session, ids=[lot.take_id for lot in supers.values() if lot.take_id is not None])
    waiting = sorted(
        (*takes(session, unweighed=True), *weighed), key=lambda take: (take.on, take.id), reverse=True
    )
    return Harvest(
        tuple(waiting),
        supers, lots(session, STORES), season_balance(session, since), farm_settings(session).super_full_g,
    )  # fmt: skip


def went_from(session: Session, lot_id: int) -> Sequence[Onward]:
    """Where honey of a lot went."""
    return forward(session, lot_id)
