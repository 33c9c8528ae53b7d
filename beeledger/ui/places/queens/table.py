"""Queens and grafts as rows, and what stands at the foot of each list."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import date

from beeledger.base.dates import long, short
from beeledger.base.text import counted
from beeledger.queries.records.queens import MATING_WORDS, Graft, QueenLine
from beeledger.rules.pedigree import MatingKind
from beeledger.ui.parts.queen_mark import SAMPLE, queen_cell, queen_disc
from beeledger.ui.widgets.cells import BLANK, Align, Cell, Column, Row, Run
from beeledger.ui.widgets.look import Token
from beeledger.ui.widgets.marks import Mark

COLUMNS = (
    Column("queen", "Queen", sample=SAMPLE, marks=True),
    Column("hive", "Hive", sample="9999"),
    Column("site", "Site", sample="Tarrow Bank yard", slack=True),
    Column("line", "Line", sample="Alder 7", spare=1),
    Column("dam", "Dam", sample="22-198", spare=2),
    Column("mated", "Mated", sample="known drones", spare=3),
    Column("since", "Since or ended", sample="30 Sep 2025", spare=4),
    Column("state", "State", sample="drone layer", marks=True),
)
GRAFT_COLUMNS = (
    Column("on", "Grafted on", sample="30 Sep 2025"),
    Column("dam", "From", sample=SAMPLE, marks=True),
    Column("finisher", "Finisher", sample="9999"),
    Column("grafted", "Grafted", sample="999", align=Align.RIGHT),
    Column("taken", "Taken", sample="999", align=Align.RIGHT),
    Column("sealed", "Sealed", sample="999", align=Align.RIGHT),
    Column("emerged", "Emerged", sample="999", align=Align.RIGHT),
    Column("mated", "Mated", sample="999", align=Align.RIGHT, group_end=True),
    Column("note", "Note", slack=True),
)
_MATED = {
    MatingKind.OPEN: "open",
    MatingKind.DRONES: "known drones",
    MatingKind.SINGLE: "single drone",
    MatingKind.POOLED: "pooled semen",
}
_STATES: dict[str, tuple[str, Token, Mark | None]] = {
    "right": ("laying", "ink2", None),
    "virgin": ("virgin", "watch", Mark.ODD),
    "cells": ("cells in her hive", "watch", Mark.ODD),
    "queenless": ("not there", "now", Mark.LATE),
    "drone_layer": ("drone layer", "now", Mark.LATE),
}


def queen_row(line: QueenLine) -> Row:
    """A queen as a row."""
    since = line.ended_on or line.since
    state, when = state_cell(line), long(since) if since else ""
    mated = _MATED[line.mating] if line.mating else ""
    cells = (
        name_cell(line),
        Cell(line.hive or ("no number" if line.colony_id else ""), weight=600),
        Cell(line.site, "ink2"),
        Cell(line.line or "", "ink2"),
        Cell(line.dam, "ink2"),
        Cell(mated, "ink2", tip=mated_words(line)),
        Cell(when, "ink2"),
        state,
    )
    number = int("".join(ch for ch in line.hive or "" if ch.isdigit()) or 0)
    sort = (
        (line.year or 0, line.tag or ""), (number, line.hive) if line.hive else None, line.site or None,
        line.line, line.dam or None, mated or None, since, state.text or None,
    )  # fmt: skip
    words = (
        *(cell.text for cell in cells),
        f"at {line.site}" if line.site else "",
        line.origin or "",
        line.note or "",
    )
    return Row(line.queen_id, cells, sort, " ".join(word for word in words if word))


def name_cell(line: QueenLine) -> Cell:
    """What she is called: her colour and tag; her year without a tag; else that nobody knows."""
    cell = queen_cell(line.year, line.marked, line.tag)
    return Cell(cell.text, cell.ink, 600, disc=cell.disc) if cell.text else Cell("not known", "ink2")


def mated_words(line: QueenLine) -> str:
    """How and where she was mated; blank when nobody wrote it down."""
    if line.mating is None:
        return ""
    return ", ".join(part for part in (MATING_WORDS[line.mating], line.mated_at) if part)


def state_cell(line: QueenLine) -> Cell:
    """How she stands: laying, a virgin, in no colony, ended and why."""
    if line.ended_on is not None:
        return Cell(line.end_cause or "ended", "ink2", tip=f"on {long(line.ended_on)}")
    if line.colony_id is None:
        return Cell("in no colony", "ink2")
    if line.state is None:
        return BLANK
    word, ink, mark = _STATES[line.state]
    return Cell(word, ink, mark=mark, tip=f"written on {long(line.state_on)}" if line.state_on else "")


def sums(lines: Sequence[QueenLine]) -> list[Run]:
    """The foot: how many, and how many of each year, the youngest first."""
    runs = [Run(counted(len(lines), "queen"), "ink", 600, gap=16)]
    years = Counter(line.year for line in lines)
    known = sorted((one for one in years if one is not None), reverse=True)[:6]
    runs += [Run(f"{year}: {years[year]:,}", disc=queen_disc(year, marked=True), gap=12) for year in known]
    if years[None]:
        runs.append(Run(f"year not known: {years[None]:,}"))
    return runs


def graft_row(graft: Graft, today: date) -> Row:
    """A graft as a row."""
    on = short(graft.on) if graft.on.year == today.year else long(graft.on)
    dam = queen_cell(graft.dam.year, graft.dam.marked, graft.dam.tag)
    counts = (graft.grafted, graft.taken, graft.sealed, graft.emerged, graft.mated)
    cells = (
        Cell(on, weight=600),
        Cell(dam.text if graft.dam.tag else graft.dam.words, disc=dam.disc),
        Cell(graft.finisher or "", "ink2"),
        *(BLANK if number is None else Cell(f"{number:,}", align=Align.RIGHT) for number in counts),
        Cell(graft.note or "", "ink2"),
    )
    return Row(graft.graft_id, cells, (graft.on, graft.dam.words, graft.finisher, *counts, graft.note))


def graft_sums(grafts: Sequence[Graft]) -> dict[str, str]:
    """Sums under their columns, of those that were counted."""
    said = {}
    for step in ("grafted", "taken", "sealed", "emerged", "mated"):
        known = [getattr(graft, step) for graft in grafts if getattr(graft, step) is not None]
        if known:
            said[step] = f"{sum(known):,}"
    return said
