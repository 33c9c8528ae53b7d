"""A print run of jar labels: what stands on one, the sheet it goes on, how many from which place."""

from __future__ import annotations

from dataclasses import dataclass

from beeledger.rules.label_codes import ElementString
from beeledger.rules.label_sheets import LabelSheet
from beeledger.rules.labels import Label


@dataclass(frozen=True, slots=True)
class LabelRun:
    """So many labels of one batch."""

    label: Label
    layout: LabelSheet
    count: int
    surface_cm2: float
    """Of the jar: its largest surface, on which the least size of text depends."""
    code: ElementString | None = None
    """None prints no code."""
    first: int = 0
    """Place of the first label on the first sheet, from 0 along the rows: sheets begun are used up."""
    offset_right_mm: float = 0.0
    """What the printer is off by: plus moves the print right."""
    offset_down_mm: float = 0.0
    outlines: bool = False
    """Draw the edges, to lay a trial print over a sheet of labels."""
