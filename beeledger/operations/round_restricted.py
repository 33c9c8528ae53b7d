"""What a round carries out of a restricted site, or between two sites: each line wants its licence.

Supers off, a frame given or bees united with or split to a hive elsewhere, and a hive found here that should
stand at a restricted site. The reason written on the line is the licence.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from sqlalchemy import select

from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import tidy
from beeledger.database.audit import OpenAct
from beeledger.database.restricted import Laid, laid
from beeledger.model.colonies import ColonyTransfer
from beeledger.model.honey import Take
from beeledger.model.moves import MoveLine
from beeledger.operations.restricting import write_uses
from beeledger.operations.round_lines import Read, RoundToPost, Sorted
from beeledger.queries.move_facts import stays_of
from beeledger.queries.records.restrictions import Stopped
from beeledger.queries.stopped import between_by, supers_by
from beeledger.rules.restrictions import Goes, Licence
from beeledger.rules.rounds.checks import RESTRICTED
from beeledger.rules.rounds.entry import Outcome

_MEND = "Write the licence and its number. The notice and the inspector stand above this program"


@dataclass(frozen=True, slots=True)
class Crossing:
    """One thing of a line that a restriction stops: what is written for it, and with which other colony."""

    read: Read
    kind: str
    field: str
    stopped: Sequence[Stopped]
    other: int | None = None


def restricted_findings(act: OpenAct, new: RoundToPost, lines: Sorted) -> list[Finding]:
    """What the lines carry past a restriction: asked about, and answered by the licence alone."""
    return [
        Finding(
            RESTRICTED, Grade.AGAINST, one.finding.what, _MEND,
            Where(row=crossing.read.row, field=crossing.field, record=crossing.read.record.mark),
        )
        for crossing in crossings(act, new, lines)
        for one in crossing.stopped
    ]  # fmt: skip


def keep_licences(act: OpenAct, crossed: Sequence[Crossing], round_id: int | None) -> None:
    """Write the licences of the lines with the take, the transfers and the move that the round made of them."""
    taken: list[Crossing] = []
    for crossing in crossed:
        licence = Licence(crossing.read.line.reason or "")
        if crossing.kind == "take":
            taken.append(crossing)
        elif crossing.kind == "move":
            write_uses(act, crossing.stopped, licence, move_id=_move_here(act, crossing.read.colony))
        else:
            write_uses(act, crossing.stopped, licence, transfer_id=_transfer(act, crossing))
    if taken:
        take = act.session.scalars(select(Take.id).where(Take.round_id == round_id)).one()
        words = dict.fromkeys(tidy(one.read.line.reason or "") for one in taken)
        write_uses(act, taken[0].stopped, Licence("; ".join(words)), take_id=take)
    act.session.flush()


def crossings(act: OpenAct, new: RoundToPost, lines: Sorted) -> list[Crossing]:
    """What the lines carry past a restriction, by the record as it is before they are written."""
    ones = laid(act.session)
    if not any(one.force.may_hold(new.on) for one in ones):
        return []
    colonies = {mark: one.colony_id for mark, one in lines.partners.items() if one.place != "ended"}
    colonies |= {
        read.record.mark: read.colony_id for read in lines.reads if read.record.mark and read.colony_id
    }
    ids = {*colonies.values(), *(read.colony_id for read in lines.reads if read.colony_id)}
    sites: dict[int, int | None] = {}
    for colony_id, chain in stays_of(act.session, ids).items():
        there = [stay.site_id for stay in chain if stay.from_on <= new.on]
        sites[colony_id] = there[-1] if there else None
    here = {
        read.colony_id: new.site_id for read in lines.reads if read.entry.outcome is not Outcome.NOT_FOUND
    }
    was = dict(sites)
    sites.update({colony_id: site for colony_id, site in here.items() if colony_id is not None})
    found = [one for read in lines.reads for one in _of_line(ones, new, read, colonies, sites, was)]
    return [one for one in found if one.stopped]


def _of_line(
    ones: Sequence[Laid], new: RoundToPost, read: Read, colonies: Mapping[str, int], sites: Mapping[int, int | None],
    was: Mapping[int, int | None],
) -> Iterator[Crossing]:  # fmt: skip
    entry, here, on = read.entry, new.site_id, new.on
    if entry.supers_off:
        yield Crossing(read, "take", "supers_off", supers_by(ones, here, on))
    given = colonies.get(tidy(entry.brood_given_from or ""))
    if given is not None:
        stopped = between_by(ones, Goes.COMB, sites.get(given), here, on)
        yield Crossing(read, "frame", "brood_given_from", stopped, given)
    into = colonies.get(tidy(entry.united_into or ""))
    if into is not None:
        yield Crossing(
            read, "unite", "united_into", between_by(ones, Goes.BEES, here, sites.get(into), on), into
        )
    for split in entry.split_to:
        to = colonies.get(tidy(split.mark))
        if to is not None:
            yield Crossing(
                read, "split", "split_to", between_by(ones, Goes.BEES, here, sites.get(to), on), to
            )
    if read.colony_id is not None and "rounds.stands_elsewhere" in read.line.accepted:
        start = was.get(read.colony_id)
        if start is not None:
            yield Crossing(read, "move", "outcome", between_by(ones, Goes.HIVES, start, here, on))


def _transfer(act: OpenAct, crossing: Crossing) -> int:
    query = select(ColonyTransfer.id).where(
        ColonyTransfer.entry_id == crossing.read.entry_id, ColonyTransfer.kind == crossing.kind,
        (ColonyTransfer.from_colony_id == crossing.other) | (ColonyTransfer.to_colony_id == crossing.other),
    )  # fmt: skip
    return act.session.scalars(query.order_by(ColonyTransfer.id.desc())).first() or 0


def _move_here(act: OpenAct, colony_id: int) -> int:
    query = select(MoveLine.move_id).where(MoveLine.colony_id == colony_id).order_by(MoveLine.id.desc())
    return act.session.scalars(query.limit(1)).one()
