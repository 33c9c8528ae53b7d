"""What every part of posting a round is handed."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime

from sqlalchemy.orm import Session

from beeledger.base.clock import local_moment
from beeledger.database.audit import OpenAct
from beeledger.operations.round_lines import RoundToPost
from beeledger.queries.farm import FarmSettings

NOON = 12 * 60
"""Minutes after midnight: when a round was, if nobody wrote it down."""


@dataclass(frozen=True, slots=True)
class Facts:
    """The act, the round as typed and as a row, and the farm's settings."""

    act: OpenAct
    new: RoundToPost
    round_id: int | None
    """None for an act at the desk, which no round stands behind."""
    farm: FarmSettings
    kept_courses: dict[int, int] = field(default_factory=dict)
    """Courses that a corrected round began and a later one ended, by colony: written over, not anew."""
    pack_id: int | None = None
    """The pack a medicine came from, where it was chosen and not named."""

    @property
    def session(self) -> Session:
        """Where rows are written."""
        return self.act.session

    @property
    def on(self) -> date:
        """The day of the round."""
        return self.new.on

    @property
    def minute(self) -> int:
        """When the round began, in minutes after local midnight; noon when not written."""
        return NOON if self.new.start_minute is None else self.new.start_minute

    @property
    def begun(self) -> datetime:
        """The moment the round began, UTC."""
        return local_moment(self.on, self.minute, self.act.clock.zone)
