"""The figures that the checks of a round stand on, read once from ``resources/rules/rounds.toml``."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cache
from math import sqrt
from typing import Any

from beeledger.base.resources import table
from beeledger.rules import mites

SECONDS_A_DAY = 86_400


@dataclass(frozen=True, slots=True)
class FrameType:
    """A brood frame: the comb inside its bars."""

    comb_width_mm: int
    comb_height_mm: int


@dataclass(frozen=True, slots=True)
class Odd:
    """Where a figure wants a second look. Names carry the unit; counts have none."""

    stores_fall_g_per_day: int
    stores_fall_least_g: int
    super_frames: int
    super_full_g: int
    supers_on: int
    feed_ml: int
    feed_g: int
    cells_count: int
    medicine_count: int
    next_days: int
    brood_over_bees_tenths: int
    brood_gone_tenths: int


@dataclass(frozen=True, slots=True)
class Figures:
    """All figures of the checks; a farm may replace any (``dataclasses.replace``)."""

    eggs_per_day: int
    worker_days: int
    seconds_per_egg: int
    share_of_frame_hundredths: int
    """How much of a frame that counts as brood holds brood at least, in hundredths of a per cent."""
    worker_cell_hundredths_mm: int
    frames: dict[str, FrameType]
    odd: Odd
    mite_line_hundredths: int = field(default_factory=lambda: mites.figures().treat_hundredths)
    """Mites on bees from which to treat, in hundredths of a per cent."""

    @property
    def brood_cells_odd(self) -> int:
        """Cells of brood above which a figure is odd: 2,000 eggs a day for 21 days are 42,000."""
        return self.eggs_per_day * self.worker_days

    @property
    def brood_cells_most(self) -> int:
        """Cells of brood that a queen who lays every 22 seconds leaves in 21 days: 82,472."""
        return SECONDS_A_DAY * self.worker_days // self.seconds_per_egg

    def cells_per_frame(self, frame_type: str) -> int:
        """Worker cells on both sides of a comb: area by that of a hexagon w² × √3 / 2, to whole cells.

        KeyError names a frame type that the table lacks.
        """
        frame = self.frames[frame_type]
        width = self.worker_cell_hundredths_mm / 100
        return round(2 * frame.comb_width_mm * frame.comb_height_mm / (width * width * sqrt(3) / 2))

    def brood_cells(self, brood_tenths: int, frame_type: str) -> int:
        """The cells of brood that so many frames hold at least."""
        share = self.share_of_frame_hundredths
        return brood_tenths * self.cells_per_frame(frame_type) * share // (10 * 10_000)


def read_figures(data: dict[str, Any]) -> Figures:
    """Figures from a table in the shape of ``resources/rules/rounds.toml``."""
    frames = {code: FrameType(**row) for code, row in data["frames"].items()}
    return Figures(**data["brood"], frames=frames, odd=Odd(**data["odd"]))


@cache
def shipped_figures() -> Figures:
    """The figures that ship with the program."""
    return read_figures(table("rules", "rounds.toml"))
