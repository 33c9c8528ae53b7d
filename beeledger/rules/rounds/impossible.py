"""What logic, arithmetic or nature forbids on one line: these hold the line back from posting."""

from __future__ import annotations

from beeledger.base.units import frames
from beeledger.rules.rounds.case import Case, Words
from beeledger.rules.rounds.entry import (
    FIELDS,
    CellStage,
    Entry,
    Outcome,
    QueenState,
    fields_filled,
)
from beeledger.rules.rounds.readback import value_words

_ALWAYS = frozenset({"outcome", "cause", "signs", "question", "note"})
_LEFT_BY_THE_DEAD = _ALWAYS | {
    "stores_tenths",
    "stores_g",
    "stores_heft",
    "super_fullness_tenths",
    "supers_off",
    "feed_left_ml",
    "medicine_out",
    "medicine_out_count",
    "mites_count",
    "mites_method",
    "mites_bees",
    "mites_days",
    "cells_stage",
    "cells_count",
}
"""What can be found in a dead or empty hive."""
_WITHOUT_AN_ENTRY = _ALWAYS | {"next_action", "next_days"}
_INSIDE = ("queen_seen", "queen_colour", "eggs", "brood_tenths", "cells_stage", "cells_count", "cells_done")
"""What nobody can have seen without opening the hive."""
_NOUGHT = (None, 0, False, ())


def _first_beyond(entry: Entry, allowed: frozenset[str]) -> Words | None:
    for name in fields_filled(entry):
        if name not in allowed and getattr(entry, name) not in _NOUGHT:
            return _telling(entry, name)
    return None


def _telling(entry: Entry, name: str) -> Words:
    words = value_words(Entry(**{name: getattr(entry, name)}))
    return {"field": name, "said": words or name.replace("_", " ")}


def dead_yet_alive(case: Case) -> Words | None:
    """A dead colony that is fed, treated, split or has brood."""
    return _first_beyond(case.entry, _LEFT_BY_THE_DEAD) if case.outcome is Outcome.DEAD else None


def empty_yet_alive(case: Case) -> Words | None:
    """An empty hive with bees in it."""
    return _first_beyond(case.entry, _LEFT_BY_THE_DEAD) if case.outcome is Outcome.EMPTY else None


def not_found_yet_seen(case: Case) -> Words | None:
    """A hive that was not found and yet seen."""
    return _first_beyond(case.entry, _WITHOUT_AN_ENTRY) if case.outcome is Outcome.NOT_FOUND else None


def not_opened_yet_seen(case: Case) -> Words | None:
    """The inside of a hive that was not opened."""
    if case.outcome is not Outcome.NOT_OPENED:
        return None
    seen = (name for name in _INSIDE if getattr(case.entry, name) not in (None, False))
    return next((_telling(case.entry, name) for name in seen), None)


def cause_of_the_living(case: Case) -> Words | None:
    """A cause of death where nothing died."""
    if case.entry.cause is None or case.outcome in (Outcome.DEAD, Outcome.EMPTY):
        return None
    return {}


def below_nought(case: Case) -> Words | None:
    """A figure below nought."""
    entry = case.entry
    for name in FIELDS:
        value = getattr(entry, name)
        if isinstance(value, int) and value < 0:
            return _telling(entry, name)
    taken = [figure for split in entry.split_to for figure in (split.brood_tenths, split.bees_tenths)]
    if any(figure is not None and figure < 0 for figure in taken):
        return _telling(entry, "split_to")
    return None


def temper_off_the_scale(case: Case) -> Words | None:
    """Temper is kept from 1 to 5."""
    temper = case.entry.temper
    return None if temper is None or 1 <= temper <= 5 else {"temper": str(temper)}


def fuller_than_full(case: Case) -> Words | None:
    """More than ten tenths of a box."""
    full = case.entry.super_fullness_tenths
    return None if full is None or full <= 10 else {"full": str(full)}


def brood_beyond_the_box(case: Case) -> Words | None:
    """More frames of brood than the brood boxes hold frames."""
    brood, held = case.entry.brood_tenths, case.record.frames
    if brood is None or held is None or brood <= held * 10:
        return None
    boxes = "its box holds" if case.record.brood_boxes == 1 else f"its {case.record.brood_boxes} boxes hold"
    return {"brood": frames(brood), "holds": f"{boxes} {held}"}


def brood_beyond_laying(case: Case) -> Words | None:
    """More cells of brood than a queen can have laid."""
    cells, most = case.brood_cells, case.figures.brood_cells_most
    return None if cells is None or cells <= most else {"cells": f"{cells:,}", "most": f"{most:,}"}


def cells_and_none(case: Case) -> Words | None:
    """Queen cells counted where there were none."""
    count = case.entry.cells_count or 0
    none = case.entry.cells_stage is CellStage.NONE
    return {"count": str(count)} if none and count > 0 else None


def queen_seen_and_none(case: Case) -> Words | None:
    """A queen seen in a hive that the same line calls queenless."""
    queenless = case.entry.queen_state is QueenState.QUEENLESS
    return {} if queenless and case.entry.queen_seen else None


def colour_unseen(case: Case) -> Words | None:
    """The colour of a queen that was not seen."""
    colour = case.entry.queen_colour
    return {"colour": str(colour)} if colour is not None and case.entry.queen_seen is False else None


def no_sample(case: Case) -> Words | None:
    """Mites in no bees or over no days."""
    if case.entry.mites_bees == 0:
        return {"field": "mites_bees", "sample": "no bees"}
    return {"field": "mites_days", "sample": "no days"} if case.entry.mites_days == 0 else None


def with_itself(case: Case) -> Words | None:
    """Split to, united with or given from itself."""
    entry, mark = case.entry, case.record.mark
    partners: dict[str, tuple[str | None, ...]] = {
        "split_to": tuple(split.mark for split in entry.split_to),
        "united_into": (entry.united_into,),
        "brood_given_from": (entry.brood_given_from,),
    }
    named = [name for name, marks in partners.items() if mark and mark in marks]
    return {"field": named[0], "mark": mark} if named else None


def split_without_mark(case: Case) -> Words | None:
    """A split whose hive has no mark."""
    return {} if any(not split.mark for split in case.entry.split_to) else None
