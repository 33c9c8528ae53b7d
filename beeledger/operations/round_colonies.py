"""What passes between colonies in a round: splits, frames given, unites, and colonies that ended."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from beeledger.base.text import tidy
from beeledger.operations.between_colonies import daughter_boxes, passed, queen_along
from beeledger.operations.colonies import NewColony, end, found
from beeledger.operations.round_lines import Read, Sorted
from beeledger.operations.round_work import Facts
from beeledger.rules.rounds.entry import Cause, Outcome, Split

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
        facts.session.add(
            passed(
                "split", facts.on, read.colony, to, read.entry_id, split.brood_tenths, split.bees_tenths,
                queen=split.queen,
            )
        )  # fmt: skip
        queen_along(facts.act, read.colony, to, facts.on, split.queen, read.entry_id)


def _founded(facts: Facts, read: Read, split: Split) -> NewColony:
    nucleus = split.bees_tenths is None or split.bees_tenths <= facts.farm.nucleus_frames * 10
    kind = "nucleus" if nucleus else "full"
    return NewColony(
        split.mark, facts.new.site_id, facts.on, kind=kind, how="split", boxes=daughter_boxes(facts.act, kind),
        minute=facts.minute, entry_id=read.entry_id,
    )  # fmt: skip


def _frames_given(facts: Facts, reads: Sequence[Read], marks: Mapping[str, int]) -> None:
    for read in reads:
        giver = marks.get(tidy(read.entry.brood_given_from or ""))
        if giver is not None and giver != read.colony:
            brood = read.entry.brood_given_tenths
            facts.session.add(passed("frame", facts.on, giver, read.colony, read.entry_id, brood))


def _unites(facts: Facts, reads: Sequence[Read], marks: Mapping[str, int]) -> None:
    united = [read for read in reads if read.entry.united_into]
    for read in united:
        into = marks.get(tidy(read.entry.united_into or ""))
        if into is not None and into != read.colony:
            facts.session.add(passed("unite", facts.on, read.colony, into, read.entry_id))
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
