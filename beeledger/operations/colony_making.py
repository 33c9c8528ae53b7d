"""Colonies made of others and united with others, frames and bees given: acts at the desk of their own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from sqlalchemy import select

from beeledger.base import dates
from beeledger.base.findings import Finding
from beeledger.base.text import listed
from beeledger.database.audit import OpenAct
from beeledger.model.colonies import ColonyTransfer
from beeledger.model.feeding import Feeding
from beeledger.model.medicines import Treatment
from beeledger.operations.between_colonies import daughter_boxes, passed, queen_along
from beeledger.operations.colonies import NewColony, check_ending, check_founding, end, found
from beeledger.operations.colony_work import (
    NO_ANSWERS,
    Answers,
    asked,
    guard,
    hives_named,
    named,
    refuse,
    set_beside,
    wrong,
)
from beeledger.operations.queens import end_reigns, queens_since, take_queen_away
from beeledger.operations.restricting import license_transfers
from beeledger.operations.round_lines import Read
from beeledger.operations.round_work import NOON
from beeledger.operations.still_true import still_true
from beeledger.rules.rounds.entry import EMPTY, SplitQueen

UNITED = "went at a unite"


@dataclass(frozen=True, slots=True)
class Gift:
    """What one hive gave: frames in tenths, cells by count."""

    colony_id: int
    brood_tenths: int | None = None
    bees_tenths: int | None = None
    stores_tenths: int | None = None
    cells: int | None = None

    @property
    def anything(self) -> bool:
        """Whether anything was given at all."""
        return any((self.brood_tenths, self.bees_tenths, self.stores_tenths, self.cells))


@dataclass(frozen=True, slots=True)
class Daughter:
    """A colony made of others. ``queen`` says what it gets; the queen herself comes from the first giver."""

    mark: str | None
    site_id: int
    gifts: tuple[Gift, ...]
    kind: str = "nucleus"
    queen: SplitQueen | None = None


@dataclass(frozen=True, slots=True)
class Uniting:
    """Hives put into another. ``queen_stays``: "into" the queen of the hive they went into, "from" the other's."""

    from_ids: tuple[int, ...]
    into_id: int
    queen_stays: str = "into"


def split_colony(act: OpenAct, on: date, daughters: Sequence[Daughter], answers: Answers = NO_ANSWERS) -> str:
    """Split a colony on a day into one or several; ``act.result`` are the ids of the new ones.

    Refused for numbers and sites that cannot be, and when the queen goes along twice; asked about where the
    record has another queen since.
    """
    givers = _make(act, on, daughters, "split", answers)
    return f"Split {givers} into {_marks(daughters)}, {dates.short(on)}"


def make_nucleus(act: OpenAct, on: date, daughter: Daughter, answers: Answers = NO_ANSWERS) -> str:
    """Make one nucleus of what several colonies gave on a day; ``act.result`` holds its id."""
    givers = _make(act, on, [daughter], "nucleus", answers)
    return f"Made nucleus {_marks([daughter])} from {givers}, {dates.short(on)}"


def unite_colonies(act: OpenAct, on: date, new: Uniting, answers: Answers = NO_ANSWERS) -> str:
    """Unite colonies into another on a day: they end, and one queen stays.

    Refused for a hive with itself, for one looked at or moved since; asked about where hives stand at
    different sites and where the record tells of feed, medicine, gifts or queens since.
    """
    if new.into_id in new.from_ids or not new.from_ids:
        refuse([wrong("a hive is united with another, not with itself", "into")])
    if new.queen_stays == "from" and len(new.from_ids) > 1:
        refuse([wrong("one queen stays, and these are several hives", "queen", "Unite one at a time")])
    reads = set_beside(act, [(number, EMPTY) for number in (*new.from_ids, new.into_id)], on, answers)
    refuse(check_ending(act, new.from_ids, on, "united"))
    changing = (*new.from_ids, new.into_id) if new.queen_stays == "from" else new.from_ids
    queens = queens_since(act, changing, on)
    guard(act, reads, on, answers, [*queens, *_apart(reads), *_told_since(act, new.from_ids, on)])
    with still_true(act.session, {read.colony for read in reads}):
        went = [passed("unite", on, giver, new.into_id) for giver in new.from_ids]
        act.session.add_all(went)
        act.session.flush()
        if new.queen_stays == "from" and not queens:
            end_reigns(act, [new.into_id], on, UNITED)
            take_queen_away(act, new.from_ids[0], new.into_id, on, None)
        license_transfers(act, went, _sites(reads), answers.reason)
        end(act, new.from_ids, on, "united")
    return f"United {named(reads[:-1])} into {named(reads[-1:])}, {dates.short(on)}"


def give_frames(
    act: OpenAct, on: date, gift: Gift, to_ids: Sequence[int], answers: Answers = NO_ANSWERS
) -> str:
    """Give frames, bees or cells of one colony to others on a day: so much to each.

    Refused when nothing is given and for a hive with itself; asked about between different sites.
    """
    if not gift.anything:
        refuse([wrong("nothing was given", "brood", "Type frames of brood, bees or stores, or cells")])
    if gift.colony_id in to_ids or not to_ids:
        refuse([wrong("a hive gives to another, not to itself", "to")])
    reads = set_beside(act, [(number, EMPTY) for number in (gift.colony_id, *to_ids)], on, answers)
    guard(act, reads, on, answers, _apart(reads))
    with still_true(act.session, {read.colony for read in reads}):
        given = [_gift_row(_kind(gift), on, gift, taker) for taker in to_ids]
        act.session.add_all(given)
        license_transfers(act, given, _sites(reads), answers.reason)
    return f"Gave {_what(gift)} of {named(reads[:1])} to {named(reads[1:])}, {dates.short(on)}"


def _make(act: OpenAct, on: date, daughters: Sequence[Daughter], kind: str, answers: Answers) -> str:
    givers = list(dict.fromkeys(gift.colony_id for one in daughters for gift in one.gifts))
    reads = set_beside(act, [(number, EMPTY) for number in givers], on, answers)
    new = [
        NewColony(
            one.mark, one.site_id, on, kind=one.kind, how=kind, boxes=daughter_boxes(act, one.kind), minute=NOON
        )
        for one in daughters
    ]  # fmt: skip
    refuse([*check_founding(act, new), *_once(daughters)])
    along = [one.gifts[0].colony_id for one in daughters if one.queen is SplitQueen.QUEEN]
    queens = queens_since(act, along, on)
    guard(act, reads, on, answers, queens)
    with still_true(act.session, set(givers)):
        ids, given = found(act, new), list[ColonyTransfer]()
        for one, colony_id in zip(daughters, ids, strict=True):
            given += [
                _gift_row(kind, on, gift, colony_id, one.queen if number == 0 else None)
                for number, gift in enumerate(one.gifts)
            ]
            act.session.add_all(given)
            act.session.flush()
            if not (queens and one.queen is SplitQueen.QUEEN):
                queen_along(act, one.gifts[0].colony_id, colony_id, on, one.queen)
        to = {colony_id: one.site_id for one, colony_id in zip(daughters, ids, strict=True)}
        license_transfers(act, given, _sites(reads) | to, answers.reason)
    act.result = ids
    return named(reads)


def _once(daughters: Sequence[Daughter]) -> list[Finding]:
    """A hive has one queen to give along, and a new colony begins with what somebody gave."""
    along = [one.gifts[0].colony_id for one in daughters if one.gifts and one.queen is SplitQueen.QUEEN]
    found = [] if len(along) == len(set(along)) else [wrong("the queen goes into one of them only", "queen")]
    if any(not one.gifts for one in daughters):
        found.append(wrong("nothing says which hive it comes from", "from"))
    return found


def _sites(reads: Sequence[Read]) -> dict[int, int | None]:
    """Where each colony stood that day."""
    return {read.colony: read.known.site_id for read in reads if read.known is not None}


def _apart(reads: Sequence[Read]) -> list[Finding]:
    sites = {read.known.site_id: read.known.site for read in reads if read.known is not None}
    if len(sites) < 2:
        return []
    what = f"they stood apart that day, at {listed([name or 'no site' for name in sites.values()])}"
    return [asked("apart", what, "on", "Accept if it was carried there, or write down the move first")]


def _told_since(act: OpenAct, colony_ids: Sequence[int], on: date) -> list[Finding]:
    """What the record tells of a colony after the day on which it is to have ended."""
    since = (
        ("fed", select(Feeding.on).where(Feeding.colony_id.in_(colony_ids), Feeding.on > on)),
        ("treated", select(Treatment.in_on).where(Treatment.colony_id.in_(colony_ids), Treatment.in_on > on)),
        (
            "giving to another hive",
            select(ColonyTransfer.on).where(ColonyTransfer.from_colony_id.in_(colony_ids), ColonyTransfer.on > on),
        ),
    )  # fmt: skip
    said = [f"{what} on {dates.long(day)}" for what, query in since if (day := act.session.scalar(query))]
    mend = "Accept to leave that in the record, or take it back first"
    return [asked("since", f"by the record it was {listed(said)}", "on", mend)] if said else []


def _gift_row(kind: str, on: date, gift: Gift, taker: int, queen: SplitQueen | None = None) -> ColonyTransfer:
    return passed(
        kind, on, gift.colony_id, taker, None, gift.brood_tenths, gift.bees_tenths, gift.stores_tenths, queen,
        gift.cells,
    )  # fmt: skip


def _kind(gift: Gift) -> str:
    if gift.brood_tenths or gift.stores_tenths:
        return "frame"
    return "bees" if gift.bees_tenths else "cells"


def _what(gift: Gift) -> str:
    parts = (
        ("brood", gift.brood_tenths), ("bees", gift.bees_tenths), ("stores", gift.stores_tenths),
        ("cells", gift.cells),
    )  # fmt: skip
    return listed([name for name, much in parts if much])


def _marks(daughters: Sequence[Daughter]) -> str:
    return hives_named([one.mark for one in daughters]).removeprefix("hive ").removeprefix("hives ")
