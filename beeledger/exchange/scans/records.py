"""A scan of round sheets as it was read: marks with their certainty, pages, and what was against them."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from PIL import Image

from beeledger.base.findings import Finding
from beeledger.rules.rounds.paper import BoxAt, PaperPage


class Says(StrEnum):
    """What a box was read as."""

    MARKED = "marked"
    BLANK = "blank"


@dataclass(frozen=True, slots=True)
class Mark:
    """One box as read. ``certainty`` runs from 0 to 1; below ``SURE`` a person says yes or no."""

    box: BoxAt
    says: Says
    certainty: float
    ink: float
    """Share of the box's inside that is dark."""
    why: str = ""
    """Why it is not sure."""

    @property
    def sure(self) -> bool:
        """Whether it may be taken as it was read."""
        return self.certainty >= SURE


SURE = 0.9
"""From here on a mark is taken as read."""


@dataclass(frozen=True, slots=True)
class ScannedPage:
    """One page of a sheet: its marks, and the page turned straight."""

    sheet: str
    source: str
    """The file, and the page in it."""
    paper: PaperPage
    marks: tuple[Mark, ...]
    straight: Image.Image = field(compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Scans:
    """All that came out of some files: pages that can be used, in the order of their sheet, and words on the rest."""

    pages: tuple[ScannedPage, ...]
    findings: tuple[Finding, ...]
