"""A reading handed on to the act that writes it: the sheet's words made into what the ledger keeps."""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import replace
from datetime import date
from typing import Any

from beeledger.base.resources import table
from beeledger.base.text import counted, folded, tidy
from beeledger.exchange.register.records import ColonyRow, RegisterReading, SiteRow
from beeledger.operations.colonies import Boxes
from beeledger.operations.imported_looks import ComingLook, ComingQueen
from beeledger.operations.imports import ComingHive, ComingSite, Register
from beeledger.operations.queens import NewQueen
from beeledger.operations.sites import NewSite
from beeledger.queries.farm import FarmSettings
from beeledger.rules.queens import Colour, marking_colour, year_of
from beeledger.rules.rounds.entry import Cause, Entry, Outcome

_JARS = re.compile(r"(\d{1,4})\s*jars?\b.*", re.IGNORECASE)
_POUNDS = re.compile(r"£\s*(\d{1,6})(?:\.(\d{2}))?\b.*")


def to_register(
    reading: RegisterReading,
    file: str,
    farm: FarmSettings,
    leave_out: Collection[tuple[str, int]] = (),
    *,
    all_live: bool = False,
    leave_out_bad: bool = False,
    found_unknown: bool = False,
) -> Register:
    """The rows of a reading as ``operations.imports`` takes them.

    ``farm`` says the boxes of a hive whose row names no type. ``leave_out`` names rows, by sheet and number,
    that the person does not want. ``all_live``: hives whose comment says they are dead come in alive all the same.
    """
    unwanted = set(leave_out)
    usual = Boxes(farm.hive_type, farm.brood_boxes, farm.brood_frames, farm.brood_frame, 0, farm.super_frames)
    return Register(
        file,
        tuple(_site(row) for row in reading.sites if (row.where.sheet, row.where.row) not in unwanted),
        tuple(
            _hive(row, usual, ended=bool(row.gone) and not all_live)
            for row in reading.colonies
            if (row.where.sheet, row.where.row) not in unwanted
        ),
        reading.numbers_restart,
        tuple(_look(row) for row in reading.looks if (row.where.sheet, row.where.row) not in unwanted),
        tuple(_head(row) for row in reading.queens if (row.where.sheet, row.where.row) not in unwanted),
        leave_out_bad,
        found_unknown,
    )


def _look(row: ColonyRow) -> ComingLook:
    """A look; supers counted are words of its note, for what was put on or taken off that day is not known."""
    supers = "" if row.supers is None else counted(row.supers, "super")
    note = "; ".join(part for part in (row.comment, supers) if part)
    return ComingLook(row.hive, row.site, row.seen or date.min, _seen(row, note), row.where)


def _seen(row: ColonyRow, note: str) -> Entry:
    return replace(
        row.more,
        outcome=Outcome.DEAD if row.gone and row.brood_tenths is None else Outcome.LOOKED,
        cause=Cause.UNKNOWN if row.gone and row.brood_tenths is None else None,
        brood_tenths=row.brood_tenths,
        temper=row.temper,
        note=note or None,
    )


def _head(row: ColonyRow) -> ComingQueen:
    queen = _queen(row) or NewQueen()
    if row.queen_year is None and row.queen_colour is not None and row.seen is None:
        queen = NewQueen(marked=True, note=f"marked {row.queen_colour} by the register")
    queen = replace(queen, clipped=row.clipped, line=row.line or None)
    return ComingQueen(row.hive, row.site, queen, row.seen, row.where)


def _site(row: SiteRow) -> ComingSite:
    jars, pounds = _JARS.fullmatch(row.rent.strip()), _POUNDS.fullmatch(row.rent.strip())
    unread = f"Rent: {row.rent.strip()}" if row.rent.strip() and not (jars or pounds) else ""
    site = NewSite(
        row.name,
        code=row.code,
        grid=row.grid or "",
        capacity=row.capacity,
        rent_jars=int(jars[1]) if jars else None,
        rent_pence=int(pounds[1]) * 100 + int(pounds[2] or 0) if pounds else None,
        note="; ".join(part for part in (tidy(row.notes), unread) if part) or None,
    )
    return ComingSite(site, row.where, row.owner)


def _hive(row: ColonyRow, usual: Boxes, *, ended: bool) -> ComingHive:
    look = None
    if ended and row.seen is not None:
        look = Entry(outcome=Outcome.DEAD, cause=Cause.UNKNOWN, note=row.comment or None)
    elif row.seen is not None:
        look = replace(_seen(row, row.comment), outcome=Outcome.LOOKED, cause=None)
    return ComingHive(
        row.hive, row.site, row.where, row.seen, look, _boxes(row, usual), _queen(row),
        kind="nucleus" if _is_nucleus(row.hive_type) else "full", ended=ended,
    )  # fmt: skip


def _queen(row: ColonyRow) -> NewQueen | None:
    """She is known by her year; where only a colour is written, the year follows from it."""
    if row.queen_year is not None:
        other = row.queen_colour is not None and row.queen_colour != marking_colour(row.queen_year)
        note = f"marked {row.queen_colour} by the register" if other else None
        return NewQueen(hatch_year=row.queen_year, marked=row.marked, note=note)
    if row.queen_colour is not None and row.seen is not None:
        year = year_of(Colour(row.queen_colour), row.seen)
        return NewQueen(hatch_year=year, marked=True, note="year by the colour in the register")
    return NewQueen(marked=row.marked) if row.marked is not None else None


def _boxes(row: ColonyRow, usual: Boxes) -> Boxes:
    """Boxes by the type of hive, as many as it says; one more where the brood counted needs it."""
    figures: dict[str, Any] = table("rules", "register.toml")["brood"]
    bare = folded(row.hive_type)
    named = max((name for name in figures["box_frames"] if name in bare), key=len, default=None)
    frames = int(figures["box_frames"][named]) if named else usual.brood_frames
    said = max((count for words, count in figures["boxes"].items() if words in bare), default=1)
    needed = -(-(row.brood_tenths or 0) // (frames * 10))
    return Boxes(
        hive_type=tidy(row.hive_type) or usual.hive_type,
        brood_boxes=max(said, needed),
        brood_frames=frames,
        brood_frame=figures["frame_names"][named] if named else usual.brood_frame,
        supers=row.supers or 0,
        super_frames=usual.super_frames,
    )


def _is_nucleus(hive_type: str) -> bool:
    return any(word.startswith("nuc") for word in folded(hive_type).split())
