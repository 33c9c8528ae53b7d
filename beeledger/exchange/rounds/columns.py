"""The columns of a round workbook: one line of the table for each thing an entry can hold."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any

from beeledger.base.resources import table
from beeledger.rules.rounds.entry import Heft, MiteMethod, QueenColour
from beeledger.rules.rounds.readback import (
    ACTIONS,
    CAUSES,
    DONE,
    FEEDS,
    OUTCOMES,
    QUEENS,
    SPLIT_QUEENS,
    STAGES,
)


class Takes(StrEnum):
    """What kind of value a cell takes."""

    CHOICE = "choice"
    YES_NO = "yes or no"
    WHOLE = "whole number"
    DECIMAL = "number"
    TEXT = "words"


YES_NO = {"yes": True, "no": False}
_SPLIT_FIELDS = ("split_mark", "split_brood", "split_bees", "split_queen")


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its heading, the field it fills, and what its cells take.

    ``scale`` is what a typed figure is multiplied by to be kept: 10 for frames, 1000 for kilograms.
    ``choices`` are the words of the drop-down and what each stands for.
    """

    name: str
    group: str
    heading: str
    takes: Takes
    limit: str = ""
    scale: int = 1
    choices: Mapping[str, str] = field(default_factory=dict)
    wide: float = 8
    summed: bool = False

    @property
    def most(self) -> int:
        """The largest figure, or the most letters, a cell takes."""
        limits = table("rules", "round_workbook.toml")["limits"]
        return int(limits[self.limit or "letters"])

    @property
    def splits(self) -> bool:
        """Whether it is one of the columns that together tell of a split."""
        return self.name in _SPLIT_FIELDS


def _choice(name: str, group: str, heading: str, words: Mapping[str, str], wide: float = 11) -> Column:
    return Column(name, group, heading, Takes.CHOICE, choices=words, wide=wide)


def _yes_no(name: str, group: str, heading: str) -> Column:
    return Column(name, group, heading, Takes.YES_NO, wide=7)


def _whole(name: str, group: str, heading: str, limit: str, *, summed: bool = False) -> Column:
    return Column(name, group, heading, Takes.WHOLE, limit, summed=summed)


def _decimal(name: str, group: str, heading: str, limit: str, scale: int, *, summed: bool = False) -> Column:
    return Column(name, group, heading, Takes.DECIMAL, limit, scale, summed=summed)


def _text(name: str, group: str, heading: str, wide: float = 14) -> Column:
    return Column(name, group, heading, Takes.TEXT, wide=wide)


def _told(words: Mapping[Any, str]) -> dict[str, str]:
    return {told: str(code) for code, told in words.items()}


_OUTCOMES = _told(OUTCOMES)
_COLOURS = {str(colour): str(colour) for colour in QueenColour}
_HEFTS = {str(heft): str(heft) for heft in Heft}
_METHODS = {str(method): str(method) for method in MiteMethod}

COLUMNS: tuple[Column, ...] = (
    _choice("outcome", "Visit", "Outcome", _OUTCOMES),
    _choice("cause", "Visit", "Cause of death", _told(CAUSES), 15),
    _choice("queen_state", "Queen", "Queen is", _told(QUEENS)),
    _yes_no("queen_seen", "Queen", "Queen seen"),
    _yes_no("eggs", "Queen", "Eggs"),
    _choice("queen_colour", "Queen", "Colour seen", _COLOURS),
    _decimal("brood_tenths", "Strength, frames", "Brood", "frames", 10, summed=True),
    _decimal("bees_tenths", "Strength, frames", "Bees", "frames", 10, summed=True),
    _decimal("stores_tenths", "Stores", "Stores frames", "frames", 10, summed=True),
    _decimal("stores_g", "Stores", "Stores kg", "kilograms", 1000, summed=True),
    _choice("stores_heft", "Stores", "Heft", _HEFTS, 9),
    _whole("temper", "Temper", "Temper 1 to 5", "temper"),
    _choice("cells_stage", "Queen cells", "Cells", _told(STAGES)),
    _whole("cells_count", "Queen cells", "How many cells", "count"),
    _choice("cells_done", "Queen cells", "Cells: done", _told(DONE), 13),
    _whole("supers_on", "Supers", "Supers on", "boxes", summed=True),
    _whole("supers_off", "Supers", "Supers off", "boxes", summed=True),
    _whole("super_fullness_tenths", "Supers", "Full, tenths", "tenths"),
    _yes_no("clearers", "Supers", "Clearers in"),
    _choice("feed_kind", "Feed", "Feed", _told(FEEDS), 14),
    _decimal("feed_ml", "Feed", "Feed litres", "litres", 1000, summed=True),
    _decimal("feed_g", "Feed", "Feed kg", "kilograms", 1000, summed=True),
    _decimal("feed_left_ml", "Feed", "Left, litres", "litres", 1000),
    _text("medicine_in", "Medicine", "Medicine in"),
    _whole("medicine_in_count", "Medicine", "Pieces in", "count", summed=True),
    _text("medicine_batch", "Medicine", "Batch"),
    _text("medicine_out", "Medicine", "Medicine out"),
    _whole("medicine_out_count", "Medicine", "Pieces out", "count", summed=True),
    _whole("mites_count", "Mites", "Mites", "count"),
    _choice("mites_method", "Mites", "Counted by", _METHODS, 9),
    _whole("mites_bees", "Mites", "In bees", "count"),
    _whole("mites_days", "Mites", "In days", "days"),
    _text("signs", "Health", "Signs of disease", 20),
    _text("split_mark", "Split", "Split to hive", 9),
    _decimal("split_brood", "Split", "Split: brood frames", "frames", 10),
    _decimal("split_bees", "Split", "Split: bee frames", "frames", 10),
    _choice("split_queen", "Split", "Split: queen", _told(SPLIT_QUEENS), 12),
    _text("united_into", "Between hives", "United into", 9),
    _text("brood_given_from", "Between hives", "Brood given from", 9),
    _decimal("brood_given_tenths", "Between hives", "Given, frames", "frames", 10),
    _choice("next_action", "Next", "Next: what", _told(ACTIONS), 14),
    _whole("next_days", "Next", "Next: in days", "days"),
    _text("question", "Words", "Question", 24),
    _text("note", "Words", "Note", 40),
)

SITE_FIELDS: tuple[Column, ...] = (
    Column("day", "", "Day", Takes.TEXT),
    Column("crew", "", "Crew", Takes.TEXT),
    Column("start", "", "Start (09:40)", Takes.TEXT),
    Column("end", "", "End (12:10)", Takes.TEXT),
    Column("weather", "", "Weather", Takes.TEXT),
    _choice("feed_kind", "", "All hives fed with", _told(FEEDS)),
    _decimal("feed_ml", "", "Litres each", "litres", 1000),
    _decimal("feed_g", "", "Kilograms each", "kilograms", 1000),
    _yes_no("clearers", "", "Clearers in for all"),
    Column("note", "", "Note for the site", Takes.TEXT),
)
"""What is said once for the whole site, on a sheet of its own."""
