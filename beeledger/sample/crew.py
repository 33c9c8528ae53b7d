"""What the crew sees and does at one hive, written as the entry of a round.

Only what a person would see is read off the colony, rounded as it would be written; much is left blank, for
nobody looks at everything. What is done changes the colony at once.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from random import Random
from typing import Any

from beeledger.rules.queens import marking_colour
from beeledger.rules.rounds.entry import (
    Cause,
    CellsDone,
    CellStage,
    Entry,
    FeedKind,
    Heft,
    MiteMethod,
    NextAction,
    Outcome,
    QueenColour,
    QueenState,
    Split,
    SplitQueen,
)
from beeledger.rules.stores import light_line_g
from beeledger.sample.hive import FRAME_KG, SUPER_KG, Hive, Reign, mites_washed_off

STRIPS, OXALIC = "Amitraz strips", "Oxalic acid, trickled"
WINTER_KG = 22.0
_COUNT_AGED_DAYS = 120
_COUNT_HOLDS_DAYS = 40


@dataclass(slots=True)
class Splits:
    """The farm's wish for more colonies: numbers to give out while it is not met."""

    wanted: Callable[[], bool]
    next_mark: Callable[[], str]


@dataclass(slots=True)
class Call:
    """One visit to one hive: the day, the work, and what comes of it beside the entry."""

    day: date
    work: frozenset[str]
    dice: Random
    splits: Splits
    neighbour: Hive | None = None
    """A queenright hive at the site into which a weak one may be united."""
    new: tuple[str, float, Reign] | None = None
    """Mark, frames of bees and queen of a colony split off."""
    queen_found: bool = False
    """A laying queen that the record does not have was found and marked."""


def look_into(hive: Hive, call: Call) -> Entry:
    """The entry of this visit."""
    if hive.dead:
        return _dead(hive)
    if "look" not in call.work:
        return _heft(hive, call)
    seen: dict[str, Any] = {"outcome": Outcome.LOOKED}
    _see(hive, call, seen)
    _see_queen(hive, call, seen)
    if "cells" in call.work:
        _see_cells(hive, call, seen)
    _count_mites(hive, call, seen)
    _supers(hive, call, seen)
    _feed(hive, call, seen)
    _medicines(hive, call, seen)
    _remark(hive, call, seen)
    if "unite" in call.work:
        _unite(hive, call, seen)
    return Entry(**seen)


def _dead(hive: Hive) -> Entry:
    found: dict[str, Any] = {"outcome": Outcome.DEAD, "cause": Cause(hive.dead)}
    if hive.stores > 4 and hive.dead != "starvation":
        found["note"] = "stores left, closed up against robbing"
    return Entry(**found)


def _heft(hive: Hive, call: Call) -> Entry:
    found: dict[str, Any] = {"outcome": Outcome.NOT_OPENED, "stores_heft": heft_word(hive.stores, call.day)}
    if "fondant" in call.work and found["stores_heft"] in (Heft.FAIR, Heft.LIGHT, Heft.EMPTY):
        found.update(feed_kind=FeedKind.FONDANT, feed_g=2500)
        hive.stores += 2.4
    _medicines(hive, call, found)
    return Entry(**found)


def heft_word(stores_kg: float, day: date) -> Heft:
    """What a hive with such stores feels like to who lifts it at that time of year."""
    line = light_line_g(day.month) / 1000
    steps = ((0.35, Heft.EMPTY), (0.9, Heft.LIGHT), (1.25, Heft.FAIR), (1.7, Heft.GOOD))
    return next((word for share, word in steps if stores_kg < line * share), Heft.HEAVY)


def _halves(frames: float, most: int) -> int:
    """Frames as they are written: halves up to three, whole ones beyond."""
    written = round(frames * 2) / 2 if frames < 3 else round(frames)
    return int(10 * max(0.0, min(float(most), written)))


def _see(hive: Hive, call: Call, seen: dict[str, Any]) -> None:
    dice = call.dice
    # A person judges a frame of brood to a tenth or two at best.
    seen["brood_tenths"] = _halves(hive.brood * dice.gauss(1, 0.06), hive.frames)
    seen["bees_tenths"] = _halves(hive.bees * dice.gauss(1, 0.05), hive.frames + 10 * hive.supers)
    free = hive.frames - seen["brood_tenths"] / 10
    seen["stores_tenths"] = _halves(min(free, hive.stores / FRAME_KG), hive.frames)
    if dice.random() < 0.8:
        seen["temper"] = max(1, min(5, hive.temper + dice.choice((0, 0, 0, 0, 1, -1))))
    if hive.supers and dice.random() < 0.9:
        seen["super_fullness_tenths"] = round(10 * hive.fullness)


def _see_queen(hive: Hive, call: Call, seen: dict[str, Any]) -> None:
    dice = call.dice
    state = QueenState(hive.reign.value)
    if hive.reign in (Reign.QUEENLESS, Reign.CELLS):
        seen.update(queen_state=state, eggs=False)
        return
    if hive.reign is Reign.VIRGIN:
        seen.update(queen_state=state, eggs=False, queen_seen=dice.random() < 0.35)
        hive.known_year, hive.marked = call.day.year, False
        return
    seen.update(queen_state=state, eggs=hive.reign is Reign.RIGHT)
    if dice.random() > (0.55 if "mark" in call.work else 0.35):
        return
    seen["queen_seen"] = True
    if hive.known_year != hive.queen_year:
        # Not the queen the record has: a new one, marked there and then.
        call.queen_found, hive.marked, hive.known_year = True, True, hive.queen_year
        seen["note"] = "new queen, marked"
    elif hive.marked:
        seen["queen_colour"] = QueenColour(marking_colour(hive.queen_year))
    elif "mark" in call.work:
        hive.marked = True
        seen["queen_colour"] = QueenColour(marking_colour(hive.queen_year))
    else:
        seen["queen_colour"] = QueenColour.UNMARKED


def _see_cells(hive: Hive, call: Call, seen: dict[str, Any]) -> None:
    if hive.reign is Reign.CELLS:
        seen.update(
            cells_stage=CellStage.SEALED, cells_count=call.dice.randint(1, 3), cells_done=CellsDone.LEFT_ONE
        )
        return
    if hive.cells_since is None and _strong_enough(hive, call):
        seen.update(cells_stage=CellStage.NONE)
        _split(hive, call, seen, sealed=None)
        return
    if hive.cells_since is None or call.dice.random() < 0.04:
        cups = hive.kind == "full" and hive.bees > 12 and call.dice.random() < 0.15
        seen["cells_stage"] = CellStage.CUPS if cups else CellStage.NONE
        return
    sealed = (call.day - hive.cells_since).days >= 6
    seen.update(
        cells_stage=CellStage.SEALED if sealed else CellStage.OPEN, cells_count=call.dice.randint(3, 14)
    )
    hive.cells_since = None
    if "split" in call.work and call.splits.wanted() and hive.brood > 4:
        _split(hive, call, seen, sealed=sealed)
    else:
        seen["cells_done"] = CellsDone.KNOCKED_DOWN


def _strong_enough(hive: Hive, call: Call) -> bool:
    """For increase without cells: while more are wanted, of the strong, one in three."""
    strong = hive.kind == "full" and hive.reign is Reign.RIGHT and hive.bees > 10 and hive.brood > 6
    return strong and "split" in call.work and call.dice.random() < 0.33 and call.splits.wanted()


def _split(hive: Hive, call: Call, seen: dict[str, Any], *, sealed: bool | None) -> None:
    """A nucleus with a cell, the old queen left where she is; or with the old queen, a cell left behind.

    ``sealed`` None: there are no cells, the nucleus gets eggs and raises its own.
    """
    mark = call.splits.next_mark()
    if sealed is None:
        seen["split_to"] = (Split(mark, 20, 30, SplitQueen.EGGS),)
        hive.brood, hive.bees = hive.brood - 2, hive.bees - 3
        call.new = (mark, 3.0, Reign.CELLS)
        return
    brood, bees = call.dice.choice(((20, 30), (20, 30), (30, 40), (15, 25)))
    with_queen = call.dice.random() < 0.3
    cell = SplitQueen.SEALED_CELL if sealed else SplitQueen.OPEN_CELL
    queen = SplitQueen.QUEEN if with_queen else cell
    seen.update(
        cells_done=CellsDone.LEFT_ONE if with_queen else CellsDone.SPLIT_MADE,
        split_to=(Split(mark, brood, bees, queen),),
        next_action=NextAction.QUEEN_CHECK if with_queen else None,
        next_days=18 if with_queen else None,
    )
    hive.brood, hive.bees = hive.brood - brood / 10, hive.bees - bees / 10
    hive.mites *= 0.8
    call.new = (mark, bees / 10, Reign.RIGHT if with_queen else Reign.CELLS)
    if with_queen:
        hive.reign, hive.since = Reign.CELLS, call.day


def _count_mites(hive: Hive, call: Call, seen: dict[str, Any]) -> None:
    share = 0.3 if "count" in call.work else 0.0
    if "count most" in call.work:
        # A hive counted in the last weeks is passed over.
        lately = hive.counted is not None and (call.day - hive.counted).days < _COUNT_HOLDS_DAYS
        never = hive.counted is None or (call.day - hive.counted).days > _COUNT_AGED_DAYS
        share = 0.0 if lately else 1.0 if never else 0.95
    if hive.kind != "full" or hive.bees < 2 or call.dice.random() >= share:
        return
    hive.counted = call.day
    if call.dice.random() < 0.75:
        bees = 300
        seen.update(
            mites_method=MiteMethod.WASH, mites_bees=bees, mites_count=mites_washed_off(hive, bees, call.dice)
        )
    else:
        fallen = max(0, round(hive.mites * 7 / 100 * call.dice.gauss(1, 0.25)))
        seen.update(mites_method=MiteMethod.DROP, mites_days=7, mites_count=fallen)


def _supers(hive: Hive, call: Call, seen: dict[str, Any]) -> None:
    if hive.kind != "full":
        return
    if "honey" in call.work:
        full = int(min(hive.supers, hive.honey / SUPER_KG + 0.45))
        if call.day.month >= 7:
            full = hive.supers
        if full and hive.strips_since is None:
            seen.update(
                supers_off=full, super_fullness_tenths=round(10 * min(1.0, hive.honey / (full * SUPER_KG)))
            )
            hive.supers -= full
            hive.honey = max(0.0, hive.honey - full * SUPER_KG) if hive.supers else 0.0
        return
    wanted = (not hive.supers and hive.bees > 8.5) or (
        hive.supers and hive.fullness > 0.65 and hive.supers < 4
    )
    if "supers" in call.work and wanted and hive.reign is Reign.RIGHT and hive.strips_since is None:
        seen["supers_on"] = 1
        hive.supers += 1


def _feed(hive: Hive, call: Call, seen: dict[str, Any]) -> None:
    light = hive.stores < light_line_g(call.day.month) / 1000
    if "feed" in call.work and not hive.supers:
        target = WINTER_KG if hive.kind == "full" else WINTER_KG / 2
        if hive.stores < target - 1.5:
            litres = min(10, max(2, round((target - hive.stores) / 0.9)))
            seen.update(feed_kind=FeedKind.SYRUP_2_1, feed_ml=litres * 1000)
            hive.stores += litres * 0.88
    elif ("gap feed" in call.work or hive.stores < 2.5) and light and not hive.supers:
        seen.update(feed_kind=FeedKind.SYRUP_1_1, feed_ml=2000)
        hive.stores += 1.2
    elif "rescue" in call.work and light and not hive.supers:
        seen.update(feed_kind=FeedKind.FONDANT, feed_g=2500)
        hive.stores += 2.4


def _medicines(hive: Hive, call: Call, seen: dict[str, Any]) -> None:
    treated_this_autumn = (
        hive.treated is not None and hive.treated.year == call.day.year and hive.treated.month > 6
    )
    if "strips in" in call.work and not hive.supers and not treated_this_autumn and hive.strips_since is None:
        seen.update(medicine_in=STRIPS, medicine_in_count=2 if hive.kind == "full" else 1)
        hive.strips_since = hive.treated = call.day
    elif "strips out" in call.work and hive.strips_since is not None:
        if (call.day - hive.strips_since).days >= 42:
            seen.update(medicine_out=STRIPS, medicine_out_count=2 if hive.kind == "full" else 1)
            hive.strips_since = None
    elif "oxalic" in call.work:
        seen.update(medicine_in=OXALIC, medicine_in_count=1)
        hive.mites *= 0.06


_REMARKS = (
    "brood a little patchy", "stores on one side only", "floor changed", "chalk brood, a few cells",
    "very even brood", "heavy with pollen", "drifting from the end hive", "old comb, two frames to come out",
    "roof lifts in the wind, strapped",
)  # fmt: skip


def _remark(hive: Hive, call: Call, seen: dict[str, Any]) -> None:
    if "note" not in seen and call.dice.random() < 0.03:
        seen["note"] = call.dice.choice(_REMARKS)
    if hive.reign is Reign.QUEENLESS and "next_action" not in seen:
        seen.update(next_action=NextAction.REQUEEN, next_days=7)


def _unite(hive: Hive, call: Call, seen: dict[str, Any]) -> None:
    weak = hive.bees < 4.2 or hive.reign is not Reign.RIGHT
    if weak and call.neighbour is not None and call.neighbour is not hive:
        seen["united_into"] = call.neighbour.mark
        for name in ("feed_kind", "feed_ml", "next_action", "next_days", "medicine_in", "medicine_in_count"):
            seen.pop(name, None)
        call.neighbour.bees += hive.bees * 0.8
        call.neighbour.stores += hive.stores * 0.5
