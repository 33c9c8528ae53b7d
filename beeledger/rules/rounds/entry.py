"""The entry of a round: what was seen, done and asked at one colony on one visit.

Every field is optional. None means nobody looked; nought and False mean looked and none. Nothing here
knows of tables, windows or paper: draft, grid, quick line, sheet and act all speak of this one record.
"""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from enum import StrEnum
from typing import Any

from beeledger.base.text import tidy


class Outcome(StrEnum):
    """What became of the visit to this colony."""

    LOOKED = "looked"
    NOT_OPENED = "not_opened"
    DEAD = "dead"
    NOT_FOUND = "not_found"
    STRANGER = "stranger"
    """A colony that stands there and is on no list."""
    EMPTY = "empty"
    """The stand or the hive is empty: no bees, no dead colony."""


class Cause(StrEnum):
    """Why a colony is dead, after the published loss surveys (Brodschneider et al. 2018, COLOSS)."""

    STARVATION = "starvation"
    QUEEN_FAILURE = "queen_failure"
    DRONE_LAYER = "drone_layer"
    DISEASE = "disease"
    VARROA = "varroa"
    DWINDLED = "dwindled"
    """Dwindled away, or the hive found empty."""
    DAMP = "damp"
    WASPS = "wasps"
    HORNET = "hornet"
    ANIMALS = "animals"
    """Mice, woodpecker or livestock."""
    THEFT = "theft"
    VANDALISM = "vandalism"
    FLOOD = "flood"
    SPRAY = "spray"
    TRANSIT = "transit"
    DESTROYED = "destroyed"
    """Destroyed under notice."""
    UNKNOWN = "unknown"


class QueenState(StrEnum):
    """How the colony stands for a queen."""

    RIGHT = "right"
    VIRGIN = "virgin"
    CELLS = "cells"
    QUEENLESS = "queenless"
    DRONE_LAYER = "drone_layer"


class QueenColour(StrEnum):
    """The marking colour seen on the queen, by the international code of years."""

    WHITE = "white"
    YELLOW = "yellow"
    RED = "red"
    GREEN = "green"
    BLUE = "blue"
    UNMARKED = "unmarked"


class CellStage(StrEnum):
    """The stage or kind of the queen cells found; NONE is looked and none there."""

    NONE = "none"
    CUPS = "cups"
    OPEN = "open"
    SEALED = "sealed"
    EMERGENCY = "emergency"
    SUPERSEDURE = "supersedure"


class CellsDone(StrEnum):
    """What was done about the queen cells."""

    LEFT_ONE = "left_one"
    KNOCKED_DOWN = "knocked_down"
    SPLIT_MADE = "split_made"
    LEFT_ALL = "left_all"
    USED = "used"
    """Taken for use in another colony."""


class Heft(StrEnum):
    """Stores judged by lifting the hive, from least to most."""

    EMPTY = "empty"
    LIGHT = "light"
    FAIR = "fair"
    GOOD = "good"
    HEAVY = "heavy"


class FeedKind(StrEnum):
    """What was fed."""

    SYRUP_1_1 = "syrup_1_1"
    SYRUP_2_1 = "syrup_2_1"
    SYRUP_READY = "syrup_ready"
    FONDANT = "fondant"
    SUGAR = "sugar"
    """Dry or damped sugar."""
    PATTY = "patty"
    """Pollen or substitute."""


class MiteMethod(StrEnum):
    """How mites were counted: washed or rolled off a sample of bees, or fallen on a board."""

    WASH = "wash"
    ROLL = "roll"
    DROP = "drop"


class SplitQueen(StrEnum):
    """What the new colony gets for a queen."""

    QUEEN = "queen"
    VIRGIN = "virgin"
    SEALED_CELL = "sealed_cell"
    OPEN_CELL = "open_cell"
    EGGS = "eggs"
    """Eggs or young larvae, to raise its own."""
    NONE = "none"


class NextAction(StrEnum):
    """What the next visit is for."""

    LOOK = "look"
    QUEEN_CHECK = "queen_check"
    FEED = "feed"
    TREAT = "treat"
    MEDICINE_OUT = "medicine_out"
    SUPERS = "supers"
    HONEY_OFF = "honey_off"
    SPLIT = "split"
    REQUEEN = "requeen"
    UNITE = "unite"
    MOVE = "move"


@dataclass(frozen=True, slots=True)
class Split:
    """A colony made from this one: its hive mark and what it took along."""

    mark: str
    brood_tenths: int | None = None
    bees_tenths: int | None = None
    queen: SplitQueen | None = None

    def __post_init__(self) -> None:
        """Keep the mark tidy."""
        object.__setattr__(self, "mark", tidy(self.mark))


TEXT_FIELDS = (
    "medicine_in",
    "medicine_out",
    "medicine_batch",
    "signs",
    "united_into",
    "brood_given_from",
    "question",
    "note",
)
"""Fields of free words. They are kept tidy (NFC, single blanks); no words at all is None."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One colony on one visit. Frames in tenths, stores and solid feed in grams, liquids in millilitres."""

    outcome: Outcome | None = None
    cause: Cause | None = None
    queen_state: QueenState | None = None
    queen_seen: bool | None = None
    queen_colour: QueenColour | None = None
    eggs: bool | None = None
    brood_tenths: int | None = None
    bees_tenths: int | None = None
    stores_tenths: int | None = None
    stores_g: int | None = None
    stores_heft: Heft | None = None
    super_fullness_tenths: int | None = None
    """How full the supers are, in tenths of a box: 7 is seven tenths full."""
    temper: int | None = None
    """1 calm to 5 fierce."""
    cells_stage: CellStage | None = None
    cells_count: int | None = None
    cells_done: CellsDone | None = None
    supers_on: int | None = None
    supers_off: int | None = None
    clearers: bool | None = None
    feed_kind: FeedKind | None = None
    feed_ml: int | None = None
    feed_g: int | None = None
    feed_left_ml: int | None = None
    """What was still in the feeder when it was opened."""
    medicine_in: str | None = None
    medicine_in_count: int | None = None
    """Strips, trays or doses put in."""
    medicine_batch: str | None = None
    medicine_out: str | None = None
    medicine_out_count: int | None = None
    mites_count: int | None = None
    mites_method: MiteMethod | None = None
    mites_bees: int | None = None
    """Bees in the sample of a wash or roll."""
    mites_days: int | None = None
    """Days the board lay, for a drop."""
    signs: str | None = None
    """Signs of disease in words. The program names no disease: that is for the bee inspector."""
    split_to: tuple[Split, ...] = ()
    united_into: str | None = None
    brood_given_from: str | None = None
    brood_given_tenths: int | None = None
    next_action: NextAction | None = None
    next_days: int | None = None
    question: str | None = None
    """For the crew: the line waits until it is answered. "?" alone when no words were typed."""
    note: str | None = None

    def __post_init__(self) -> None:
        """Keep free words tidy, so that equal words are equal however they were typed."""
        for name in TEXT_FIELDS:
            words = getattr(self, name)
            if words is not None:
                object.__setattr__(self, name, tidy(words) or None)


FIELDS = tuple(field.name for field in fields(Entry))
"""The names of all fields, in the order of the record."""

_WORDS_ALONE = frozenset({"cause", "question", "note", "next_action", "next_days"})
"""Fields that can be filled without anybody having been at the hive."""
_WITHOUT_OPENING = frozenset({"feed_kind", "feed_ml", "feed_g", "feed_left_ml", "stores_heft"})
"""Feed goes on and a hive is lifted without anybody looking in: common practice, no source."""
EMPTY = Entry()


def filled(entry: Entry, field: str) -> bool:
    """Whether ``field`` of ``entry`` says anything."""
    return getattr(entry, field) not in (None, ())


def fields_filled(entry: Entry) -> tuple[str, ...]:
    """The names of the fields that say something, in the order of the record."""
    return tuple(name for name in FIELDS if filled(entry, name))


def blank(entry: Entry) -> bool:
    """Whether nothing at all is entered."""
    return entry == EMPTY


def outcome_of(entry: Entry) -> Outcome | None:
    """The outcome as entered, or what the rest of the line says of it.

    LOOKED when something was seen or done that wants an open hive; NOT_OPENED when all that is said is feed
    or a heft, so that feeding a whole site does not count as a look; None when the line is blank or holds
    words alone.
    """
    if entry.outcome is not None:
        return entry.outcome
    said = set(fields_filled(entry)) - _WORDS_ALONE
    if not said:
        return None
    return Outcome.NOT_OPENED if said <= _WITHOUT_OPENING else Outcome.LOOKED


def settled(entry: Entry) -> Entry:
    """The entry as it is posted: with its outcome made plain."""
    outcome = outcome_of(entry)
    return entry if outcome is entry.outcome else replace(entry, outcome=outcome)


def over(under: Entry, upper: Entry) -> Entry:
    """``under`` with all that ``upper`` says laid over it."""
    said: dict[str, Any] = {name: getattr(upper, name) for name in fields_filled(upper)}
    return replace(under, **said)
