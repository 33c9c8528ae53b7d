"""The movement register: the log of any period and site, one line a hive moved."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime


@dataclass(frozen=True, slots=True)
class RegisterLine:
    """One hive in one move. Moments are aware and in the farm's zone; None where not written down."""

    on: date
    hive: str
    came_from: str
    went_to: str
    left: datetime | None = None
    arrived: datetime | None = None
    vehicle: str = ""
    driver: str = ""
    reason: str = ""
    contract: str = ""
    override: str = ""
    """The licence, where the move went over a restriction."""
    move: int | None = None
    """The number of the move, the same for all its lines."""


@dataclass(frozen=True, slots=True)
class MovementRegister:
    """The log of a period; ``scope`` says of what ("all sites", "Perry Tree")."""

    scope: str
    first: date
    last: date
    lines: tuple[RegisterLine, ...]

    @property
    def moves(self) -> int:
        """How many different moves; lines without a move's number count by day, way and vehicle."""
        return len(
            {
                line.move
                if line.move is not None
                else (line.on, line.came_from, line.went_to, line.vehicle, line.left)
                for line in self.lines
            }
        )

    @property
    def hives(self) -> int:
        """How many different hives."""
        return len({line.hive for line in self.lines})
