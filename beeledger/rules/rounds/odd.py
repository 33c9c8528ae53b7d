"""What is odd on one line and wants a second look: a slip of the finger, or news. Nothing is held back.

No season makes brood odd: colonies keep brood in mild winters and lose it in dry summers.
"""

from __future__ import annotations

from beeledger.base.units import frames, kilograms, per_cent
from beeledger.rules.mites import (
    Judgement,
    infestation_hundredths,
    judge_drop,
    line_words,
    mites_from_drop,
)
from beeledger.rules.rounds.case import Case, Words
from beeledger.rules.rounds.entry import CellStage, Entry, Outcome, QueenState
from beeledger.rules.rounds.normal import habits_for
from beeledger.rules.rounds.readback import figure, value_words
from beeledger.rules.rounds.reading import parse
from beeledger.rules.stores import light_line_g


def much_brood(case: Case) -> Words | None:
    """More brood than 2,000 eggs a day leave, though not more than could be."""
    cells = case.brood_cells
    if cells is None or not case.figures.brood_cells_odd < cells <= case.figures.brood_cells_most:
        return None
    return {"cells": f"{cells:,}", "line": f"{case.figures.brood_cells_odd:,}"}


def brood_and_stores_beyond_frames(case: Case) -> Words | None:
    """Brood and stores together fill more frames than there are."""
    brood, stores, held = case.entry.brood_tenths, case.entry.stores_tenths, case.record.frames
    if brood is None or stores is None or held is None or not held * 10 < brood + stores:
        return None
    return {"both": frames(brood + stores), "held": str(held)}


def more_brood_than_bees(case: Case) -> Words | None:
    """More frames of brood than bees could keep warm."""
    brood, bees = case.entry.brood_tenths, case.entry.bees_tenths
    if brood is None or bees is None or brood - bees <= case.figures.odd.brood_over_bees_tenths:
        return None
    return {"brood": frames(brood), "bees": frames(bees)}


def more_bees_than_frames(case: Case) -> Words | None:
    """Bees on more frames than stand in the hive, supers and all."""
    bees, held = case.entry.bees_tenths, case.record.frames
    if bees is None or held is None or case.record.supers_on is None:
        return None
    supers = max(case.record.supers_on, case.supers_after or 0)
    most = held + supers * case.figures.odd.super_frames
    return {"bees": frames(bees), "most": str(most)} if bees > most * 10 else None


def brood_gone(case: Case) -> Words | None:
    """No brood where there was brood at the last look."""
    last = case.record.last
    if case.entry.brood_tenths != 0 or last is None or last.brood_tenths is None:
        return None
    many = last.brood_tenths >= case.figures.odd.brood_gone_tenths
    return {"last": frames(last.brood_tenths)} if many else None


def perhaps_queenless(case: Case) -> Words | None:
    """No eggs, no queen seen and no cells: nothing on the line speaks of a queen."""
    entry = case.entry
    said = entry.queen_state not in (None, QueenState.RIGHT)
    if said or entry.eggs is not False or entry.queen_seen or entry.cells_stage is not CellStage.NONE:
        return None
    return {}


def swarm_gone(case: Case) -> Words | None:
    """Sealed queen cells and no queen seen."""
    return {} if case.entry.cells_stage is CellStage.SEALED and not case.entry.queen_seen else None


def stores_fell(case: Case) -> Words | None:
    """Stores fell faster than a colony eats; not asked when supers or frames went away with them."""
    now, before, since = case.stores_g(case.entry), case.stores_g(case.record.last), case.record.last_date
    if now is None or before is None or since is None or case.entry.split_to:
        return None
    days, fell, odd = (case.today - since).days, before - now, case.figures.odd
    if days <= 0 or fell < odd.stores_fall_least_g or fell <= odd.stores_fall_g_per_day * days:
        return None
    return {
        "field": "stores_g" if case.entry.stores_g is not None else "stores_tenths",
        "fell": figure(fell, 1000),
        "days": str(days),
    }


def stores_beyond_the_hive(case: Case) -> Words | None:
    """More stores than brood box and supers hold when full."""
    stores, held = case.entry.stores_g, case.record.frames
    full = case.stores_g(Entry(stores_tenths=held * 10)) if held is not None else None
    if stores is None or full is None or case.record.supers_on is None:
        return None
    most = full + max(case.record.supers_on, case.supers_after or 0) * case.figures.odd.super_full_g
    return {"stores": kilograms(stores), "most": kilograms(most, 0)} if stores > most else None


def honey_it_needs(case: Case) -> Words | None:
    """Supers taken from a colony that is left light and was not fed."""
    left = case.stores_g(case.entry)
    fed = (case.entry.feed_ml or 0) > 0 or (case.entry.feed_g or 0) > 0
    if left is None or not case.entry.supers_off or fed or left >= light_line_g(case.today.month):
        return None
    return {"left": kilograms(left)}


def mites_over_the_line(case: Case) -> Words | None:
    """Mites in a sample at or above the farm's line."""
    count, bees, line = case.entry.mites_count, case.entry.mites_bees, case.figures.mite_line_hundredths
    if count is None or bees is None or count < 0 or bees <= 0:
        return None
    rate = infestation_hundredths(count, bees)
    place = "at" if rate == line else "over"
    words = {"rate": per_cent(rate), "place": place, "line": line_words(line)}
    return words if rate >= line else None


def drop_over_the_line(case: Case) -> Words | None:
    """A drop that speaks of more mites than a colony should carry, by the season's factor."""
    count, days = case.entry.mites_count, case.entry.mites_days
    if count is None or days is None or count < 0 or days <= 0:
        return None
    if judge_drop(count, days, case.today) is not Judgement.TREAT:
        return None
    return {"mites": f"{mites_from_drop(count, days, case.today.month):,}"}


def more_mites_than_bees(case: Case) -> Words | None:
    """More mites than bees in the sample."""
    count, bees = case.entry.mites_count, case.entry.mites_bees
    return {"count": str(count), "bees": str(bees)} if count and bees and count > bees else None


def treated_twice(case: Case) -> Words | None:
    """The same medicine put in while it is in; strips without a name may be the same."""
    entry, treatment = case.entry, case.record.treatment
    put_in = entry.medicine_in is not None or bool(entry.medicine_in_count)
    if treatment is None or not treatment.in_hive or not put_in or _taken_out(entry):
        return None
    other = entry.medicine_in is not None and entry.medicine_in != treatment.medicine
    return None if other else {"medicine": treatment.medicine}


def supers_over_medicine(case: Case) -> Words | None:
    """Supers put on over a medicine that stays in: their honey may not be for sale."""
    treatment = case.record.treatment
    if treatment is None or not treatment.in_hive or not case.entry.supers_on or _taken_out(case.entry):
        return None
    return {"medicine": treatment.medicine}


def _taken_out(entry: Entry) -> bool:
    return entry.medicine_out is not None or bool(entry.medicine_out_count)


def syrup_under_supers(case: Case) -> Words | None:
    """Feed given with supers on: it may end in the honey."""
    fed = (case.entry.feed_ml or 0) > 0 or (case.entry.feed_g or 0) > 0
    left = case.supers_after
    return {} if fed and left is not None and left > 0 else None


def many(case: Case) -> Words | None:
    """A count so large that a finger may have slipped."""
    odd, entry = case.figures.odd, case.entry
    limits = {
        "supers_on": (odd.supers_on, "supers on"),
        "feed_ml": (odd.feed_ml, "ml of feed"),
        "feed_g": (odd.feed_g, "g of feed"),
        "cells_count": (odd.cells_count, "cells"),
        "medicine_in_count": (odd.medicine_count, "strips in"),
        "medicine_out_count": (odd.medicine_count, "strips out"),
        "next_days": (odd.next_days, "days until the next look"),
    }
    for name, (limit, words) in limits.items():
        value = getattr(entry, name)
        if value is not None and value > limit:
            return {"field": name, "value": f"{value:,} {words}"}
    return None


def stranger_unnamed(case: Case) -> Words | None:
    """A stranger without a word on how to know it."""
    return {} if case.outcome is Outcome.STRANGER and case.entry.note is None else None


def note_of_marks(case: Case) -> Words | None:
    """A note whose first word reads as marks with a figure: words seldom do, a mark behind the sign of a note does."""
    word = (case.entry.note or "").split(" ")[0].rstrip(",;.")
    if not any(sign.isdigit() for sign in word) or not word.strip("0123456789.,"):
        return None
    reading = parse(word, habits_for(case.today))
    return {"word": word, "reads": value_words(reading.entry)} if reading.ok and reading.tokens else None


def split_beyond_brood(case: Case) -> Words | None:
    """More brood gone with splits than was counted."""
    taken = sum(split.brood_tenths or 0 for split in case.entry.split_to)
    brood = case.entry.brood_tenths
    return None if brood is None or taken <= brood else {"taken": frames(taken), "brood": frames(brood)}
