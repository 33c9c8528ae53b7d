"""The columns of the entry grid: which fields stand in each, how they are shown and how they are typed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from beeledger.base.units import MINUS, frames, litres
from beeledger.queries.records.round_desk import HiveLine
from beeledger.rules.rounds.entry import (
    EMPTY,
    CellStage,
    Entry,
    FeedKind,
    MiteMethod,
    QueenColour,
    QueenState,
    fields_filled,
    filled,
)
from beeledger.rules.rounds.marks import Marks, english
from beeledger.rules.rounds.normal import Habits
from beeledger.rules.rounds.readback import FEEDS, figure, read_back
from beeledger.rules.rounds.reading import Token, parse

Show = Callable[[Entry, Habits], str]
SIZE_OF_SAMPLE = 300
_STATE_WORDS = {
    QueenState.RIGHT: "right",
    QueenState.VIRGIN: "virgin",
    QueenState.CELLS: "cells",
    QueenState.QUEENLESS: "none",
    QueenState.DRONE_LAYER: "drones",
}
_STAGE_WORDS = {
    CellStage.NONE: "none",
    CellStage.CUPS: "cups",
    CellStage.OPEN: "open",
    CellStage.SEALED: "sealed",
    CellStage.EMERGENCY: "emerg.",
    CellStage.SUPERSEDURE: "replac.",
}


@dataclass(frozen=True, slots=True)
class GridColumn:
    """One column. ``prefixes`` are the marks tried before what is typed into a cell of it."""

    key: str
    title: str
    second: str
    """The second line of the head: the mark and the unit, so that the heads teach the marks."""
    fields: tuple[str, ...] = ()
    prefixes: tuple[str, ...] = ("",)
    usual: str = ""
    """The figure of today that fits beside any last figure."""
    widest: str = ""
    """The widest figure of today that is expected; a last figure gives way to it."""
    group_end: bool = False
    show: Show = lambda _entry, _habits: ""
    sums: tuple[str, ...] = ()
    """The sums of the foot that stand under it."""


def show_seen(entry: Entry, _habits: Habits) -> str:
    """Queen seen or not, her state where it is not plain right, her colour."""
    seen = "" if entry.queen_seen is None else ("q" if entry.queen_seen else MINUS)
    parts = [seen]
    if entry.queen_state is not None and (entry.queen_state is not QueenState.RIGHT or not seen):
        parts = (
            [_STATE_WORDS[entry.queen_state]]
            if not entry.queen_seen
            else [seen, _STATE_WORDS[entry.queen_state]]
        )
    if entry.queen_colour is not None:
        parts.append("plain" if entry.queen_colour is QueenColour.UNMARKED else str(entry.queen_colour))
    return " ".join(part for part in parts if part)


def show_eggs(entry: Entry, _habits: Habits) -> str:
    """Eggs seen or none."""
    return "" if entry.eggs is None else ("e" if entry.eggs else MINUS)


def _frames(name: str) -> Show:
    def show(entry: Entry, _habits: Habits) -> str:
        value = getattr(entry, name)
        return "" if value is None else frames(value)

    return show


def show_stores(entry: Entry, habits: Habits) -> str:
    """Stores in the round's own measure plain, in the other with its unit, by hand as a word."""
    parts = []
    if entry.stores_g is not None:
        parts.append(figure(entry.stores_g, 1000) + (" kg" if habits.stores_in_frames else ""))
    if entry.stores_tenths is not None:
        parts.append(frames(entry.stores_tenths) + ("" if habits.stores_in_frames else " fr"))
    if entry.stores_heft is not None:
        parts.append(str(entry.stores_heft))
    return " ".join(parts)


def show_temper(entry: Entry, _habits: Habits) -> str:
    """1 calm to 5."""
    return "" if entry.temper is None else str(entry.temper)


def show_cells(entry: Entry, _habits: Habits) -> str:
    """How many, at which stage, and by its letter what was done."""
    count = "" if entry.cells_count is None else str(entry.cells_count)
    stage = _STAGE_WORDS[entry.cells_stage] if entry.cells_stage else ""
    done = f"/{english()['cells_done'].letter(entry.cells_done)}" if entry.cells_done else ""
    return " ".join(part for part in (count, stage) if part) + done


def show_supers(entry: Entry, _habits: Habits) -> str:
    """On and off, how full, clearer boards."""
    parts = []
    if entry.supers_on is not None:
        parts.append(f"+{entry.supers_on}")
    if entry.supers_off is not None:
        parts.append(f"{MINUS}{entry.supers_off}")
    if entry.super_fullness_tenths is not None:
        parts.append(f"{entry.super_fullness_tenths}/10")
    if entry.clearers is not None:
        parts.append("c" if entry.clearers else f"c{MINUS}")
    return " ".join(parts)


def show_feed(entry: Entry, habits: Habits) -> str:
    """Litres with the letter of a kind that is not the usual, kilograms, what was left."""
    kind = entry.feed_kind
    letters = english()["feed_kind"]
    parts = []
    if entry.feed_ml is not None:
        parts.append(
            litres(entry.feed_ml) + (letters.letter(kind) if kind and kind is not habits.feed_kind else "")
        )
    if entry.feed_g is not None:
        usual = kind in (None, FeedKind.FONDANT)
        parts.append(
            f"{figure(entry.feed_g, 1000)} kg" + ("" if usual or kind is None else letters.letter(kind))
        )
    if not parts and kind is not None:
        parts.append(FEEDS[kind])
    if entry.feed_left_ml is not None:
        parts.append(f"r{figure(entry.feed_left_ml, 1000)}")
    return " ".join(parts)


def show_strips(entry: Entry, habits: Habits) -> str:
    """In and out, with a number that is not the usual one."""
    parts = []
    if entry.medicine_in is not None or entry.medicine_in_count is not None:
        parts.append(_strips("in", entry.medicine_in_count, habits.medicine_count))
    if entry.medicine_out is not None or entry.medicine_out_count is not None:
        parts.append(_strips("out", entry.medicine_out_count, habits.medicine_count))
    return " ".join(parts)


def _strips(way: str, count: int | None, usual: int | None) -> str:
    return way if count is None or count == usual else f"{count} {way}"


def show_mites(entry: Entry, _habits: Habits) -> str:
    """The count; a drop with its days, a sample that is not the usual with its bees."""
    if entry.mites_count is None:
        return ""
    tail = ""
    if entry.mites_method is MiteMethod.DROP:
        tail = f"/d{entry.mites_days}" if entry.mites_days is not None else "/d"
    elif entry.mites_bees not in (None, SIZE_OF_SAMPLE):
        tail = f"/{entry.mites_bees}"
    return f"{entry.mites_count}{tail}"


def show_again(entry: Entry, _habits: Habits) -> str:
    """Days, and by its letter what for."""
    days = "" if entry.next_days is None else str(entry.next_days)
    what = f"/{english()['next'].letter(entry.next_action)}" if entry.next_action else ""
    return days + what


REST = (
    "outcome", "cause", "signs", "split_to", "united_into", "brood_given_from", "brood_given_tenths",
    "question", "note",
)  # fmt: skip
"""Fields that have no column of their own: they stand in the margin."""


def show_rest(entry: Entry, _habits: Habits) -> str:
    """What stands in the margin: what became of the visit, what was done between hives, question, note."""
    said = dict(read_back(replace(EMPTY, **{name: getattr(entry, name) for name in REST})))
    parts = [] if said.get("hive") == "looked" else [said.get("hive", "")]
    parts += [f"{name} {said[name]}" for name in ("split to", "united into") if name in said]
    parts += [f"brood {said['brood given']}"] if "brood given" in said else []
    parts += [f"signs: {said['signs']}"] if "signs" in said else []
    parts += [f"? {said['question']}" if said["question"] != "?" else "?"] if "question" in said else []
    parts += [said["note"]] if "note" in said else []
    return "; ".join(part for part in parts if part)


_QUEEN = ("queen_state", "queen_seen", "queen_colour")
_FEED = ("feed_kind", "feed_ml", "feed_g", "feed_left_ml")
_IN = ("medicine_in", "medicine_in_count", "medicine_batch", "medicine_out", "medicine_out_count")
_MITES = ("mites_count", "mites_method", "mites_bees", "mites_days")
# fmt: off
_SHAPE: tuple[tuple[str, str, tuple[str, ...], tuple[str, ...], str, str, bool, Show, tuple[str, ...]], ...] = (
    # key, title, fields, prefixes, usual figure, widest figure, group end, show, sums
    ("seen", "Seen", _QUEEN, ("", "q/", "q", "i"), "q", "virgin", False, show_seen, ("queen_seen",)),
    ("eggs", "Eggs", ("eggs",), ("", "e"), "e", "e", True, show_eggs, ("eggs",)),
    ("brood", "Brood", ("brood_tenths",), ("b", ""), "11", "10.5", False, _frames("brood_tenths"), ("brood_tenths",)),
    ("bees", "Bees", ("bees_tenths",), ("f", ""), "11", "10.5", False, _frames("bees_tenths"), ("bees_tenths",)),
    ("stores", "Stores", ("stores_g", "stores_tenths", "stores_heft"), ("k", "", "w"), "14", "heavy", False, show_stores, ("stores_g",)),
    ("temper", "Temper", ("temper",), ("t", ""), "5", "5", True, show_temper, ()),
    ("cells", "Cells", ("cells_stage", "cells_count", "cells_done"), ("c", "c/", ""), "3 open", "5 sealed/k", False, show_cells, ("cells_stage",)),
    ("supers", "Supers", ("supers_on", "supers_off", "super_fullness_tenths", "clearers"), ("", "s"), "+1", f"+1 {MINUS}2", True, show_supers, ("supers_on",)),
    ("feed", "Feed", _FEED, ("l", "", "a"), "2.0", "12.5t", False, show_feed, ("feed_ml",)),
    ("strips", "Strips", _IN, ("x", ""), "out", "2 out", False, show_strips, ("medicine_in",)),
    ("mites", "Mites", _MITES, ("m", ""), "99", "44/d7", True, show_mites, ("mites_count",)),
    ("again", "Again", ("next_days", "next_action"), ("d", "d/", ""), "14", "14/q", True, show_again, ()),
    ("rest", "Margin", REST, (";", ), "", "", False, show_rest, ()),
)
# fmt: on


def grid_columns(habits: Habits, marks: Marks | None = None) -> tuple[GridColumn, ...]:
    """The columns for a round's habits: the heads name the marks and units that hold tonight."""
    seconds = _seconds(habits, marks or english())
    made = []
    for key, title, names, prefixes, usual, widest, end, show, sums in _SHAPE:
        tried = ("h", "", "w") if key == "stores" and habits.stores_in_frames else prefixes
        made.append(GridColumn(key, title, seconds[key], names, tried, usual, widest, end, show, sums))
    return tuple(made)


def _seconds(habits: Habits, marks: Marks) -> dict[str, str]:
    stores = marks["stores_frames" if habits.stores_in_frames else "stores_kg"]
    mites = "/300" if habits.mites_method is not MiteMethod.DROP else f"/{habits.mites_days} days"
    return {
        "seen": marks["seen"].mark,
        "eggs": marks["eggs"].mark,
        "brood": f"{marks['brood'].mark} frames",
        "bees": f"{marks['bees'].mark} frames",
        "stores": f"{stores.mark} {stores.unit}",
        "temper": f"{marks['temper'].mark} 1–5",
        "cells": marks["cells"].mark,
        "supers": f"{marks['supers'].mark} on off",
        "feed": f"{marks['feed_litres'].mark} litres",
        "strips": marks["medicine_in"].short or marks["medicine_in"].mark,
        "mites": f"{marks['mites'].mark} {mites}",
        "again": f"{marks['next'].mark} days",
        "rest": "what to look at; the note",
    }


ONE_LETTER = frozenset(
    {"queen_seen", "eggs", "medicine_in", "medicine_in_count", "medicine_out", "medicine_out_count"}
)
"""Marks of one letter may be typed into any cell: they go to their own."""


def read_cell(
    column: GridColumn, text: str, habits: Habits, *, alone: bool = False
) -> tuple[Entry | None, str]:
    """What a cell's text says: an entry, or None and what is wrong.

    The column's mark may be left out; any mark of its fields may be typed whole, and q, e, x, xo beside a
    figure go to their own cells unless the cell stands ``alone``. Words typed into the margin are a note.
    """
    if not text.strip():
        return EMPTY, ""
    if column.key == "rest":
        return _read_rest(column, text, habits)
    beside: Entry | None = None
    for prefix in column.prefixes:
        reading = parse(prefix + text, habits)
        if not reading.ok or any(token.field == "normal" for token in reading.tokens):
            continue
        outside = set(fields_filled(reading.entry)) - set(column.fields)
        if not outside:
            return reading.entry, ""
        if outside <= ONE_LETTER and beside is None and not alone:
            beside = reading.entry
    return (beside, "") if beside is not None else (None, _problem(column, text, habits))


def _problem(column: GridColumn, text: str, habits: Habits) -> str:
    problems: list[Token] = [
        token for token in parse(column.prefixes[0] + text, habits).tokens if not token.ok
    ]
    said = problems[0].problem if problems else f"{text} does not belong here"
    return f"{column.title.lower()}: {said}"


def _read_rest(column: GridColumn, text: str, habits: Habits) -> tuple[Entry, str]:
    reading = parse(text, habits)
    named = {token.field for token in reading.tokens}
    if reading.ok and "normal" not in named and set(fields_filled(reading.entry)) <= set(column.fields):
        return reading.entry, ""
    return Entry(note=text), ""


def without(entry: Entry, names: tuple[str, ...]) -> Entry:
    """The entry with some fields cleared."""
    values: dict[str, Any] = {name: getattr(EMPTY, name) for name in names}
    return replace(entry, **values)


def says(entry: Entry, column: GridColumn) -> bool:
    """Whether the entry says anything in a column."""
    return any(filled(entry, name) for name in column.fields)


def last_of(hive: HiveLine | None, column: GridColumn, habits: Habits) -> str:
    """The last visit's figure of a hive in a column; supers and strips are what is on and in by the record."""
    if hive is None:
        return ""
    if column.key in _OF_THE_RECORD:
        return _OF_THE_RECORD[column.key](hive)
    visit = hive.looked or hive.last
    return "" if visit is None else _LAST_SHOWN.get(column.key, column.show)(visit.entry, habits)


def _supers_on(hive: HiveLine) -> str:
    return str(hive.boxes.supers) if hive.boxes else ""


def _strips_in(hive: HiveLine) -> str:
    return "in" if any(course.out_on is None for course in hive.treatments) else ""


_OF_THE_RECORD: dict[str, Callable[[HiveLine], str]] = {
    "supers": _supers_on,
    "strips": _strips_in,
    "feed": lambda _hive: "",
    "rest": lambda _hive: "",
}
_LAST_SHOWN: dict[str, Show] = {
    "cells": lambda entry, _habits: "" if not entry.cells_count else str(entry.cells_count),
    "seen": lambda entry, _habits: "q" if entry.queen_seen else "",
}
"""Where the last figure is shorter than today's."""
