"""Jar labels: what stands on one, and the sheet of labels it is printed on."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class LabelText:
    """What stands on one label, as words ready to print."""

    business: str
    food: str
    """The name of the food: "Honey"."""
    second: str = ""
    """Floral or regional claim, style: "Summer blossom"."""
    origin: str = ""
    """The whole sentence: "Origin: United Kingdom"."""
    address: tuple[str, ...] = ()
    best_before: str = ""
    """The whole sentence: "Best before end: 05/2028"."""
    lot: str = ""
    """With its L."""
    quantity: str = ""
    """"340 g"."""
    imperial: str = ""
    """Never larger than the metric; blank leaves it out."""
    caution: str = ""
    """"Not suitable for infants under 12 months."; blank leaves it out."""
    extra: tuple[str, ...] = ()
    elements: str = ""
    """GS1 element string with bracketed identifiers; blank prints no code."""
    figure_least_mm: float = 0.0
    """Least height of the quantity's figures for this quantity."""
    letter_least_mm: float = 0.0
    """Least x-height of the particulars for this pack."""


@dataclass(frozen=True, slots=True)
class SheetLayout:
    """A sheet of labels by its dimensions, millimetres from the top left."""

    name: str
    page_width_mm: float
    page_height_mm: float
    columns: int
    rows: int
    left_mm: float
    top_mm: float
    pitch_x_mm: float
    pitch_y_mm: float
    width_mm: float
    height_mm: float
    corner_mm: float = 0.0

    @property
    def places(self) -> int:
        """Labels on one sheet."""
        return self.columns * self.rows


@dataclass(frozen=True, slots=True)
class LabelSheet:
    """A print run: ``count`` labels from place ``start`` (1 is the top left, row by row)."""

    label: LabelText
    layout: SheetLayout
    count: int
    start: int = 1
    offset_x_mm: float = 0.0
    """What the printer is off by: plus moves the print right."""
    offset_y_mm: float = 0.0
    """Plus moves the print down."""
    outlines: bool = False
    """Draw the cut edges, to lay a trial print over a sheet of labels."""
    best_before: date | None = None
