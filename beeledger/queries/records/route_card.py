"""The route card of a planned day: each van with its stops, what it takes along and what its crew minds."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class RouteStop:
    """A site on the way; seconds from local midnight."""

    site: str
    grid: str
    way_in: str
    contact: str
    """Who is to be called there, with the number."""
    begin_s: int
    leave_s: int
    metres: int
    """By road from the stop before."""
    words: str
    """What is due, counted."""


@dataclass(frozen=True, slots=True)
class RouteVan:
    """A van that goes out."""

    name: str
    crew: str
    start_s: int
    home_s: int
    metres: int
    stops: tuple[RouteStop, ...]
    take: tuple[str, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RouteCard:
    """The whole day."""

    on: date
    vans: tuple[RouteVan, ...]
    left: tuple[tuple[str, str], ...] = ()
    """Sites nobody goes to, each with why."""
