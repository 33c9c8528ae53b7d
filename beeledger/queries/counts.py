"""The few figures that stand beside the places and the farm's name; each an indexed count."""

from __future__ import annotations

import json
from dataclasses import dataclass

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from beeledger.model.colonies import Colony
from beeledger.model.farm import FarmSetting
from beeledger.model.sites import Site


@dataclass(frozen=True, slots=True)
class FarmSize:
    """The farm's name, living colonies, open sites."""

    name: str
    colonies: int
    sites: int


def farm_size(session: Session) -> FarmSize:
    """Name and size of the farm."""
    kept = session.scalar(select(FarmSetting.value).where(FarmSetting.key == "name"))
    colonies = session.scalar(select(func.count()).select_from(Colony).where(Colony.ended_on.is_(None))) or 0
    sites = session.scalar(select(func.count()).select_from(Site).where(Site.closed_on.is_(None))) or 0
    return FarmSize(str(json.loads(kept)) if kept else "A new farm", colonies, sites)
