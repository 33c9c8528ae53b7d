"""Sheets and rolls of labels by their measures, and where each label lies on the page.

A sheet is a file in resources/layouts/labels; its file name without the ending is its key.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from functools import cache
from typing import Any

from beeledger.base.findings import Finding, Grade, Where, holds
from beeledger.base.resources import resource, table

UNPRINTED_EDGE_MM = 4.0
"""What an office printer leaves white around a page. Common practice, no source."""
_SLACK_MM = 0.001
NOWHERE = Where()


@dataclass(frozen=True, slots=True)
class LabelSheet:
    """A page of equal labels. All lengths in mm; ``across`` and ``down`` go from edge to next edge."""

    key: str
    name: str
    for_jars_g: tuple[int, ...]
    page_width: float
    page_height: float
    columns: int
    rows: int
    label_width: float
    label_height: float
    left: float
    top: float
    across: float
    down: float
    corner: float = 0.0
    roll: bool = False

    @property
    def labels(self) -> int:
        """How many labels a page holds."""
        return self.columns * self.rows

    def place(self, index: int) -> tuple[float, float]:
        """Left and top edge in mm, from the top left corner of the page, of label ``index``.

        Counted from 0 along the rows. ValueError when the page has no such label.
        """
        if not 0 <= index < self.labels:
            raise ValueError(f"the sheet has labels 0 to {self.labels - 1}, not {index}")
        row, column = divmod(index, self.columns)
        return self.left + column * self.across, self.top + row * self.down

    def pages_for(self, labels: int, first: int = 0) -> int:
        """Pages needed for so many labels when the first sheet begins at label ``first``.

        A sheet from which some labels are used already is begun where it was left off.
        """
        return -(-(labels + first) // self.labels) if labels else 0


@cache
def load_sheets() -> dict[str, LabelSheet]:
    """All sheets that ship with the program, by key, in the order of their names.

    A sheet whose measures cannot be is the program's own fault: ValueError names it.
    """
    sheets = {}
    for file in sorted(resource("layouts", "labels").glob("*.toml")):
        sheet = read_sheet(file.stem, table("layouts", "labels", file.name))
        if holds(found := check_sheet(sheet)):
            raise ValueError(f"label sheet {file.stem}: {found[0].sentence()}")
        sheets[sheet.key] = sheet
    return sheets


def sheets_for(jar_g: int) -> tuple[LabelSheet, ...]:
    """The sheets meant for a jar of that net weight; none when no file names it."""
    return tuple(sheet for sheet in load_sheets().values() if jar_g in sheet.for_jars_g)


def read_sheet(key: str, measures: Mapping[str, Any]) -> LabelSheet:
    """A sheet from the contents of a layout file. ValueError names what is missing or unknown."""
    known = {field.name for field in fields(LabelSheet)} - {"key"}
    if unknown := sorted(set(measures) - known):
        raise ValueError(f"label sheet {key}: {', '.join(unknown)} is not a measure of a sheet")
    if absent := sorted(known - set(measures) - {"corner", "roll"}):
        raise ValueError(f"label sheet {key}: {', '.join(absent)} is missing")
    return LabelSheet(key=key, **{**measures, "for_jars_g": tuple(measures["for_jars_g"])})


def check_sheet(sheet: LabelSheet, where: Where = NOWHERE) -> list[Finding]:
    """What is wrong with a sheet's measures: labels off the page, over each other, or unprintable."""
    if min(sheet.columns, sheet.rows) < 1 or min(sheet.label_width, sheet.label_height) <= 0:
        return [_refused("empty", "a sheet has at least one label with a width and a height", where)]
    found = []
    for side, start, step, count, label, page in _sides(sheet):
        end = start + (count - 1) * step + label
        if start < 0 or end > page + _SLACK_MM:
            found.append(
                _refused("off-page", f"{side} the labels end at {end:.1f} mm of {page:.1f} mm", where)
            )
        if count > 1 and step < label - _SLACK_MM:
            found.append(_refused("overlap", f"{side} the labels lie over each other", where))
        if not sheet.roll and min(start, page - end) < UNPRINTED_EDGE_MM - _SLACK_MM:
            what = f"{side} a label lies within {UNPRINTED_EDGE_MM:.0f} mm of the edge"
            found.append(Finding("sheet.edge", Grade.DOUBTFUL, what, "Many printers leave that white", where))
    if not 0 <= sheet.corner * 2 <= min(sheet.label_width, sheet.label_height):
        found.append(_refused("corner", "the corners are rounder than the label is wide", where))
    return found


def _sides(sheet: LabelSheet) -> tuple[tuple[str, float, float, int, float, float], ...]:
    return (
        ("across", sheet.left, sheet.across, sheet.columns, sheet.label_width, sheet.page_width),
        ("down", sheet.top, sheet.down, sheet.rows, sheet.label_height, sheet.page_height),
    )


def _refused(code: str, what: str, where: Where) -> Finding:
    return Finding(f"sheet.{code}", Grade.REFUSED, what, "Measure the sheet again", where)
