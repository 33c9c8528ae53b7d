"""What passes between colonies in a round: splits, frames given, unites, and colonies that ended."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from beeledger.base.text import tidy
from beeledger.model.colonies import ColonyTransfer
from beeledger.operations.colonies import Boxes, NewColony, end, found, usual_boxes
from beeledger.operations.queens import NewQueen, Reign, enthrone, take_queen_away
from beeledger.operations.round_lines import Read, Sorted
from beeledger.operations.round_work import Facts
from beeledger.rules.rounds.entry import Cause, Outcome, Split, SplitQueen
from beeledger.rules.rounds.readback import SPLIT_QUEENS

_CELLS = (SplitQueen.SEALED_CELL, SplitQueen.OPEN_CELL)
_ENDED = (Outcome.DEAD, Outcome.EMPTY)


def carry_between(facts: Facts, lines: Sorted) -> None:
    """Write what the lines say went from hive to hive, in the order in which it can have happened."""
    marks = _marks(lines)
    _splits(facts, lines.reads, marks)
    _frames_given(facts, lines.reads, marks)
    _unites(facts, lines.reads, marks)
    _deaths(facts, lines.reads)


def _marks(lines: Sorted) -> dict[str, int]:
    """Which colony a mark means: a line of this round before a living hive elsewhere."""
    marks = {mark: one.colony_id for mark, one in lines.partners.items() if one.place != "ended"}
    marks |= {read.record.mark: read.colony for read in lines.reads if read.record.mark}
    return marks


def _splits(facts: Facts, reads: Sequence[Read], marks: dict[str, int]) -> None:
    made = [(read, split) for read in reads for split in read.entry.split_to]
    first: dict[str, tuple[Read, Split]] = {}
    for read, split in made:
        if split.mark not in marks:
            first.setdefault(split.mark, (read, split))
    if first:
        new = [_founded(facts, read, split) for read, split in first.values()]
        marks.update(zip(first, found(facts.act, new), strict=True))
    for read, split in made:
        to = marks[split.mark]
        facts.session.add(_transfer(facts, read, "split", read.colony, to, split))
        _queen_goes_along(facts, read, split, to)


def _founded(facts: Facts, read: Read, split: Split) -> NewColony:
    nucleus = split.bees_tenths is None or split.bees_tenths <= facts.farm.nucleus_frames * 10
    usual = usual_boxes(facts.act)
    boxes = Boxes(
        usual.hive_type, 1, facts.farm.nucleus_frames if nucleus else usual.brood_frames, usual.brood_frame, 0,
        usual.super_frames, excluder=False,
    )  # fmt: skip
    return NewColony(
        split.mark, facts.new.site_id, facts.on, kind="nucleus" if nucleus else "full", how="split", boxes=boxes,
        minute=facts.minute, entry_id=read.entry_id,
    )  # fmt: skip


def _queen_goes_along(facts: Facts, read: Read, split: Split, to: int) -> None:
    if split.queen is SplitQueen.QUEEN:
        take_queen_away(facts.act, read.colony, to, facts.on, read.entry_id)
    elif split.queen is SplitQueen.VIRGIN:
        virgin = NewQueen(hatch_year=facts.on.year, marked=False, origin="a virgin given")
        enthrone(facts.act, [Reign(to, virgin, facts.on, read.entry_id)])


def _frames_given(facts: Facts, reads: Sequence[Read], marks: Mapping[str, int]) -> None:
    for read in reads:
        giver = marks.get(tidy(read.entry.brood_given_from or ""))
        if giver is not None and giver != read.colony:
            row = _transfer(facts, read, "frame", giver, read.colony)
            row.brood_tenths = read.entry.brood_given_tenths
            facts.session.add(row)


def _unites(facts: Facts, reads: Sequence[Read], marks: Mapping[str, int]) -> None:
    united = [read for read in reads if read.entry.united_into]
    for read in united:
        into = marks.get(tidy(read.entry.united_into or ""))
        if into is not None and into != read.colony:
            facts.session.add(_transfer(facts, read, "unite", read.colony, into))
    facts.session.flush()
    if united:
        end(facts.act, [read.colony for read in united], facts.on, "united")


def _deaths(facts: Facts, reads: Sequence[Read]) -> None:
    by_cause: dict[str, list[int]] = {}
    for read in reads:
        if read.entry.outcome in _ENDED and read.record.alive:
            unsaid = Cause.UNKNOWN if read.entry.outcome is Outcome.DEAD else Cause.DWINDLED
            by_cause.setdefault(str(read.entry.cause or unsaid), []).append(read.colony)
    for cause, colony_ids in by_cause.items():
        end(facts.act, colony_ids, facts.on, cause)


def _transfer(
    facts: Facts, read: Read, kind: str, giver: int, taker: int, split: Split | None = None
) -> ColonyTransfer:
    row = ColonyTransfer(
        kind=kind, on=facts.on, from_colony_id=giver, to_colony_id=taker, entry_id=read.entry_id
    )
    if split is not None:
        row.brood_tenths, row.bees_tenths = split.brood_tenths, split.bees_tenths
        row.cells = 1 if split.queen in _CELLS else None
        row.queen = SPLIT_QUEENS[split.queen] if split.queen else None
    return row
