"""A lot of jars: those of a jarring, or some of them that came back and stand apart."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

RETURNED = ", returned "
"""Between the lot mark and the number, in the name of jars that came back."""


def mark_of(name: str) -> str:
    """The lot mark in the name of a lot of jars: "SB26-0001-40, returned 2" → "SB26-0001-40"."""
    return name.partition(RETURNED)[0]


@dataclass(frozen=True, slots=True)
class JarLot:
    """Jars under one lot mark that stand together. ``filled`` came in, ``left`` are there now."""

    lot_id: int
    batch_id: int | None
    """None for jars that came back."""
    name: str
    lot_mark: str
    product: str
    jar_g: int
    best_before: date
    since: date
    filled: int
    jars_g: int
    left: int
    left_g: int
    hold: str | None
