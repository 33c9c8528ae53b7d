"""An entry said back in words, cell by cell, as it is shown under the quick line."""

from __future__ import annotations

from collections.abc import Callable

from beeledger.base.text import counted
from beeledger.base.units import MINUS, frames, per_cent, scaled
from beeledger.rules.mites import infestation_hundredths
from beeledger.rules.rounds.entry import (
    Cause,
    CellsDone,
    CellStage,
    Entry,
    FeedKind,
    MiteMethod,
    NextAction,
    Outcome,
    QueenColour,
    QueenState,
    Split,
    SplitQueen,
    fields_filled,
)

CAUSES: dict[Cause, str] = {
    **{cause: cause.replace("_", " ") for cause in Cause},
    Cause.DWINDLED: "dwindled or empty",
    Cause.ANIMALS: "mice, woodpecker or livestock",
    Cause.DESTROYED: "destroyed under notice",
    Cause.TRANSIT: "in transit",
    Cause.UNKNOWN: "cause not known",
}
QUEENS: dict[QueenState, str] = {state: state.replace("_", " ") for state in QueenState}
STAGES: dict[CellStage, str] = {stage: str(stage) for stage in CellStage}
DONE: dict[CellsDone, str] = {done: done.replace("_", " ") for done in CellsDone}
FEEDS: dict[FeedKind, str] = {
    FeedKind.SYRUP_1_1: "syrup 1:1",
    FeedKind.SYRUP_2_1: "syrup 2:1",
    FeedKind.SYRUP_READY: "ready-made syrup",
    FeedKind.FONDANT: "fondant",
    FeedKind.SUGAR: "dry sugar",
    FeedKind.PATTY: "patty",
}
SPLIT_QUEENS: dict[SplitQueen, str] = {
    SplitQueen.QUEEN: "the queen",
    SplitQueen.VIRGIN: "a virgin",
    SplitQueen.SEALED_CELL: "a sealed cell",
    SplitQueen.OPEN_CELL: "an open cell",
    SplitQueen.EGGS: "eggs",
    SplitQueen.NONE: "no queen",
}
ACTIONS: dict[NextAction, str] = {
    **{action: action.replace("_", " ") for action in NextAction},
    NextAction.SUPERS: "supers on",
}
OUTCOMES: dict[Outcome, str] = {outcome: outcome.replace("_", " ") for outcome in Outcome}
_MITES = {MiteMethod.WASH: "washed", MiteMethod.ROLL: "rolled", MiteMethod.DROP: "fallen"}


def read_back(entry: Entry, supers_before: int | None = None) -> list[tuple[str, str]]:
    """Name and value in words of everything ``entry`` says, in the order of the record.

    ``supers_before`` is what stood on the hive by the record: with it the supers line says what is on now.
    """
    said = [(name, words) for name, speak in _SPEAKERS if (words := speak(entry))]
    supers = _supers(entry, supers_before)
    return [(name, supers if name == "supers" else words) for name, words in said]


def figure(value: int, scale: int) -> str:
    """``value`` / ``scale`` in the fewest figures: 5000 by 1000 is "5", 5250 is "5.25"."""
    text = scaled(value, scale)
    return text.rstrip("0").rstrip(".") if "." in text else text


def _outcome(entry: Entry) -> str:
    words = OUTCOMES[entry.outcome] if entry.outcome else ""
    cause = CAUSES[entry.cause] if entry.cause else ""
    return ", ".join(part for part in (words, cause) if part)


def _queen(entry: Entry) -> str:
    parts = []
    if entry.queen_state is not None:
        parts.append(QUEENS[entry.queen_state])
    if entry.queen_seen is not None:
        parts.append("seen" if entry.queen_seen else "not seen")
    if entry.queen_colour is not None:
        marked = entry.queen_colour is not QueenColour.UNMARKED
        parts.append(f"marked {entry.queen_colour}" if marked else "unmarked")
    return ", ".join(parts)


def _eggs(entry: Entry) -> str:
    return "" if entry.eggs is None else ("seen" if entry.eggs else "none")


def _frames(value: int | None) -> str:
    if value is None:
        return ""
    return f"{frames(value)} {'frame' if value == 10 else 'frames'}"


def _stores(entry: Entry) -> str:
    parts = [_frames(entry.stores_tenths)]
    if entry.stores_g is not None:
        parts.append(f"{figure(entry.stores_g, 1000)} kg")
    if entry.stores_heft is not None:
        parts.append(f"{entry.stores_heft} by hand")
    return ", ".join(part for part in parts if part)


def _full(entry: Entry) -> str:
    value = entry.super_fullness_tenths
    return "" if value is None else f"{value} tenths full"


def _temper(entry: Entry) -> str:
    return "" if entry.temper is None else f"{entry.temper} of 5"


def _cells(entry: Entry) -> str:
    count = "" if entry.cells_count is None else f"{entry.cells_count:,} "
    stage = STAGES[entry.cells_stage] if entry.cells_stage else ""
    done = DONE[entry.cells_done] if entry.cells_done else ""
    return ", ".join(part for part in (f"{count}{stage}".strip(), done) if part)


def _supers(entry: Entry, before: int | None = None) -> str:
    parts = []
    if entry.supers_on is not None:
        parts.append(f"{entry.supers_on} on")
    if entry.supers_off is not None:
        parts.append(f"{entry.supers_off} off")
    if parts and before is not None:
        parts.append(f"now {before + (entry.supers_on or 0) - (entry.supers_off or 0)}")
    return ", ".join(parts).replace("-", MINUS)


def _clearers(entry: Entry) -> str:
    return "" if entry.clearers is None else ("in" if entry.clearers else "none")


def _feed(entry: Entry) -> str:
    parts = []
    if entry.feed_ml is not None:
        parts.append(f"{figure(entry.feed_ml, 1000)} litres")
    if entry.feed_g is not None:
        parts.append(f"{figure(entry.feed_g, 1000)} kg")
    amount = " and ".join(parts)
    return f"{amount} {FEEDS[entry.feed_kind] if entry.feed_kind else ''}".strip()


def _left(entry: Entry) -> str:
    return "" if entry.feed_left_ml is None else f"{figure(entry.feed_left_ml, 1000)} litres"


def _medicine(count: int | None, name: str | None, batch: str | None) -> str:
    words = " ".join(part for part in (None if count is None else str(count), name) if part)
    return f"{words}, batch {batch}".lstrip(", ") if batch else words


def _medicine_in(entry: Entry) -> str:
    return _medicine(entry.medicine_in_count, entry.medicine_in, entry.medicine_batch)


def _medicine_out(entry: Entry) -> str:
    return _medicine(entry.medicine_out_count, entry.medicine_out, None)


def _mites(entry: Entry) -> str:
    count, bees, days = entry.mites_count, entry.mites_bees, entry.mites_days
    parts = ["" if count is None else f"{count:,}"]
    if bees is not None:
        parts.append(f"in {bees:,}")
    if days is not None:
        parts.append(f"in {counted(days, 'day')}")
    words = " ".join(part for part in parts if part)
    if entry.mites_method in (MiteMethod.ROLL, MiteMethod.DROP) or (entry.mites_method and not words):
        words = f"{words} {_MITES[entry.mites_method]}".strip()
    if count is not None and bees is not None and count >= 0 and bees > 0:
        words += f", {per_cent(infestation_hundredths(count, bees))} %"
    return words


def _split(split: Split) -> str:
    takes = [
        f"{_frames(split.brood_tenths)} of brood" if split.brood_tenths is not None else "",
        f"{_frames(split.bees_tenths)} of bees" if split.bees_tenths is not None else "",
        SPLIT_QUEENS[split.queen] if split.queen else "",
    ]
    told = ", ".join(take for take in takes if take)
    return f"{split.mark} with {told}" if told else split.mark


def _splits(entry: Entry) -> str:
    return "; ".join(_split(split) for split in entry.split_to)


def _given(entry: Entry) -> str:
    source = f"from {entry.brood_given_from}" if entry.brood_given_from else ""
    return f"{_frames(entry.brood_given_tenths)} {source}".strip()


def _next(entry: Entry) -> str:
    when = "" if entry.next_days is None else f"in {counted(entry.next_days, 'day')}"
    what = ACTIONS[entry.next_action] if entry.next_action else ""
    return ", ".join(part for part in (when, what) if part)


_SPEAKERS: tuple[tuple[str, Callable[[Entry], str]], ...] = (
    ("hive", _outcome),
    ("queen", _queen),
    ("eggs", _eggs),
    ("brood", lambda entry: _frames(entry.brood_tenths)),
    ("bees", lambda entry: _frames(entry.bees_tenths)),
    ("stores", _stores),
    ("supers full", _full),
    ("temper", _temper),
    ("cells", _cells),
    ("supers", _supers),
    ("clearers", _clearers),
    ("feed", _feed),
    ("left in feeder", _left),
    ("medicine in", _medicine_in),
    ("medicine out", _medicine_out),
    ("mites", _mites),
    ("signs", lambda entry: entry.signs or ""),
    ("split to", _splits),
    ("united into", lambda entry: entry.united_into or ""),
    ("brood given", _given),
    ("next look", _next),
    ("question", lambda entry: entry.question or ""),
    ("note", lambda entry: entry.note or ""),
)


def value_words(entry: Entry) -> str:
    """Everything ``entry`` says in one line; empty when it says nothing."""
    return ", ".join(f"{name} {words}" for name, words in read_back(entry)) if fields_filled(entry) else ""
