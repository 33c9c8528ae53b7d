"""The columns of the colonies and each colony as a row; the same columns wherever colonies are listed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from beeledger.base.dates import days_between, long, short
from beeledger.base.text import counted
from beeledger.base.units import frames, kilograms, per_cent
from beeledger.queries.records.colonies import ColonyLine
from beeledger.rules import mites, stores
from beeledger.rules.due import Grade, grade, reason_figures
from beeledger.ui.parts.due_words import due_cell
from beeledger.ui.parts.queen_mark import SAMPLE, queen_cell
from beeledger.ui.widgets.cells import BLANK, Align, Cell, Column, Row, Run

COLUMNS = (
    Column("hive", "Hive", sample="9999"),
    Column("site", "Site", sample="Ash Lane"),
    Column("queen", "Queen", sample=SAMPLE, marks=True),
    Column("bees", "Bees", "fr", sample="12.5", align=Align.RIGHT, spare=5),
    Column("brood", "Brood", "fr", sample="12.5", align=Align.RIGHT, spare=4),
    Column("stores", "Stores", "kg", sample="22.5", align=Align.RIGHT, spare=3),
    Column("mites", "Mites", "%", sample="12.5", align=Align.RIGHT, spare=1),
    Column("looked", "Looked", sample="29 Apr", align=Align.RIGHT, spare=2),
    Column("due", "Due", sample="super in 3 d", marks=True, slack=True, whole=True),
)
_YEAR_PLAIN_DAYS = 300
"""A day within the last ten months is said without its year."""
_STATE_WORDS = {"queenless": "queenless", "drone_layer": "drone layer", "virgin": "virgin", "cells": "cells"}


def colony_row(line: ColonyLine, today: date, mite_line: int) -> Row:
    """A colony as a row; words under a tip where a figure was not counted."""
    cells = (
        Cell(line.mark or "", weight=600),
        Cell(_where(line), "ink2"),
        queen_cell(line.queen_year, line.queen_marked, line.queen_tag, line.queen_state, line.queen_state_on),
        _frames(line.bees_tenths),
        _frames(line.brood_tenths),
        _stores(line, today),
        _mites(line, mite_line),
        Cell(_looked(line.looked_on, today), "ink2") if line.looked_on else BLANK,
        _end_or_due(line, today),
    )
    return Row(line.colony_id, cells, _sort(line), haystack(line, today))


def is_due(line: ColonyLine, today: date) -> bool:
    """Whether something is late, due today or soon there."""
    return line.due_on is not None and grade(line.due_on, today) is not Grade.LATER


def is_light(line: ColonyLine, today: date) -> bool:
    """Whether its last known stores are below the line of this month."""
    if line.stores_g is None:
        return line.stores_heft in ("empty", "light")
    return line.kind != "mating" and line.stores_g < stores.light_line_g(today.month, line.kind)


def haystack(line: ColonyLine, today: date) -> str:
    """The words by which the filter finds it: "at perry tree", "late", "queenless", "nucleus"."""
    queen = queen_cell(line.queen_year, line.queen_marked, line.queen_tag).text
    words = [line.mark or "no number", f"at {_where(line)}", queen, "" if line.kind == "full" else line.kind]
    words.append(_STATE_WORDS.get(line.queen_state or "", ""))
    words.append("light" if is_light(line, today) else "")
    if line.due_on and line.due_code:
        words += [reason_figures()[line.due_code].words, _grade_word(line.due_on, today)]
    words.append((line.end_cause or "").replace("_", " "))
    return " ".join(word for word in words if word)


def sums(lines: Sequence[ColonyLine]) -> list[Run]:
    """The foot: how many, the means, and on how many they rest."""
    runs = [Run(counted(len(lines), "colony", "colonies"), "ink", 600, gap=16)]
    means = [
        (name, mean)
        for name, mean in (
            ("bees", _mean(line.bees_tenths for line in lines)),
            ("brood", _mean(line.brood_tenths for line in lines)),
        )
        if mean is not None
    ]
    grams = [line.stores_g for line in lines if line.stores_g is not None]
    if means or grams:
        runs.append(Run("mean", gap=12))
    runs += [Run(f"{name} {mean / 10:.1f}", gap=12) for name, mean in means]
    if grams:
        runs.append(Run(f"stores {kilograms(round(sum(grams) / len(grams)))} kg", gap=12))
    counted_in = sum(line.mites_hundredths is not None for line in lines)
    if counted_in:
        runs += [Run("·", "ink3", gap=12), Run(f"mites counted in {counted_in:,} of {len(lines):,}")]
    return runs


def _looked(day: date, today: date) -> str:
    return short(day) if days_between(day, today) < _YEAR_PLAIN_DAYS else long(day)


def _where(line: ColonyLine) -> str:
    if line.place == "vehicle":
        return f"on {line.site}"
    return "unaccounted for" if line.place == "unaccounted" else line.site


def _frames(tenths: int | None) -> Cell:
    return (
        BLANK
        if tenths is None
        else Cell(frames(tenths), align=Align.RIGHT, weight=600 if tenths == 0 else 400)
    )


def _stores(line: ColonyLine, today: date) -> Cell:
    light = is_light(line, today)
    tip = f"looked at on {short(line.stores_on)}" if line.stores_on else ""
    if line.stores_g is None:
        return Cell(
            line.stores_heft or "",
            "watch" if light else "ink",
            600 if light else 400,
            tip=tip,
            align=Align.RIGHT,
        )
    words = kilograms(line.stores_g, 0 if line.stores_g % 1000 == 0 else 1)
    return Cell(words, "watch" if light else "ink", 600 if light else 400, tip=tip, align=Align.RIGHT)


def _mites(line: ColonyLine, mite_line: int) -> Cell:
    share = line.mites_hundredths
    if share is None:
        return BLANK
    tip = f"counted on {short(line.mites_on)}" if line.mites_on else ""
    if share >= mite_line:
        return Cell(
            per_cent(share), "now", 600, align=Align.RIGHT, tip=tip, spoken=f"{per_cent(share)}, treat"
        )
    watched = share >= min(mite_line, mites.figures().watch_hundredths)
    return Cell(
        per_cent(share), "watch" if watched else "ink", 600 if watched else 400, align=Align.RIGHT, tip=tip
    )


def _end_or_due(line: ColonyLine, today: date) -> Cell:
    if line.ended_on is not None:
        return Cell(
            f"{(line.end_cause or '').replace('_', ' ')}, {short(line.ended_on)} {line.ended_on.year}", "ink2"
        )
    return due_cell(line.due_code, line.due_on, today)


def _sort(line: ColonyLine) -> tuple[object, ...]:
    queen = None if line.queen_year is None else (line.queen_year, line.queen_tag or "")
    number = (line.number is None, line.number or 0, line.mark or "")
    when = line.ended_on or line.due_on
    return (
        number, (_where(line).casefold(), line.stand or 0, number), queen, line.bees_tenths, line.brood_tenths,
        line.stores_g, line.mites_hundredths, line.looked_on, when,
    )  # fmt: skip


def _grade_word(due_on: date, today: date) -> str:
    return {Grade.LATE: "late due", Grade.TODAY: "due today", Grade.SOON: "due soon", Grade.LATER: ""}[
        grade(due_on, today)
    ]


def _mean(values: Iterable[int | None]) -> float | None:
    known = [value for value in values if value is not None]
    return sum(known) / len(known) if known else None
