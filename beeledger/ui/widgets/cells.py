"""What a table shows: ready cells, prepared before the model gets them, so that painting only paints."""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass
from enum import Enum
from typing import Any

from beeledger.ui.widgets.look import Token
from beeledger.ui.widgets.marks import Mark


class Align(Enum):
    """Where the text of a cell stands."""

    LEFT = "left"
    RIGHT = "right"
    CENTRE = "centre"


@dataclass(frozen=True, slots=True)
class Run:
    """A stretch of words in one ink and weight, with a mark or a queen's disc before it."""

    text: str
    ink: Token = "ink2"
    weight: int = 400
    mark: Mark | None = None
    disc: str = ""
    small: bool = False
    gap: int = 4
    """Pixels of air after the run at the base size."""


@dataclass(frozen=True, slots=True)
class Interval:
    """A figure with its interval on a scale: drawn as a dot with a bar; a ring when ``thin``."""

    value: float
    low: float
    high: float
    scale_low: float
    scale_high: float
    middle: float | None = None
    """Where the farm's mean stands: a hairline."""
    thin: bool = False


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell, ready to paint. A blank text means not known: never a dash, never a 0."""

    text: str = ""
    ink: Token = "ink"
    weight: int = 400
    mark: Mark | None = None
    disc: str = ""
    align: Align | None = None
    tip: str = ""
    spoken: str = ""
    last: str = ""
    """The last visit's figure, pale at the left."""
    tint: Token | None = None
    bar: Token | None = None
    second: str = ""
    """The second line of a list of two lines."""
    runs: tuple[Run, ...] = ()
    """Words in several inks; they take the place of ``text``, which stays what is spoken and copied."""
    interval: Interval | None = None

    def said(self) -> str:
        """What a screen reader says: the state's word and the queen's colour are in it."""
        if self.spoken:
            return self.spoken
        words = self.text or " ".join(run.text for run in self.runs)
        parts = [self.mark.words if self.mark else "", words, self.second]
        if self.disc and self.disc not in words:
            parts.insert(1, self.disc)
        return ", ".join(part for part in parts if part)


BLANK = Cell()


@dataclass(frozen=True, slots=True)
class Row:
    """One row: its id, one cell and one sort key a column, and what the filter looks in.

    Without ``sort`` the texts sort; a key of None is not known and stays at the end both ways.
    Without ``search`` the texts are searched.
    """

    id: Hashable
    cells: tuple[Cell, ...]
    sort: tuple[Any, ...] = ()
    search: str = ""

    def haystack(self) -> str:
        """The words the filter looks in."""
        return self.search or " ".join(cell.text for cell in self.cells)


@dataclass(frozen=True, slots=True)
class Column:
    """A column: its head, and how wide its widest expected value is.

    ``sample`` is that value; ``slack`` columns take the room left over and alone may be shortened;
    a ``whole`` one of them still has room for its longest text, as names have: it is shortened only
    where that is longer than any name; ``group_end`` draws a line at the right; ``marks`` keeps room
    for a mark before every text. ``spare`` columns step out where the room is too narrow for all, the
    highest first: the card beside the table tells what they tell.
    """

    key: str
    title: str
    unit: str = ""
    sample: str = "9999"
    align: Align = Align.LEFT
    group_end: bool = False
    slack: bool = False
    whole: bool = False
    marks: bool = False
    sorts: bool = True
    spare: int = 0
