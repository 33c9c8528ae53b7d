"""Weighed honey: to the gram, never backwards, always back to its takes."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from graphlib import CycleError, TopologicalSorter

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from beeledger.base.findings import Finding
from beeledger.base.units import kilograms
from beeledger.database.checking.breach import breach
from beeledger.model.honey import Batch, HoneyLot, HoneyTransfer


def balance(session: Session) -> Iterator[Finding]:
    """No lot has given more than it got."""
    into: dict[int | None, int] = defaultdict(int)
    for lot, grams in session.execute(select(HoneyTransfer.to_lot_id, HoneyTransfer.grams)):
        into[lot] += grams
    out_of = session.execute(
        select(HoneyTransfer.from_lot_id, func.sum(HoneyTransfer.grams))
        .where(HoneyTransfer.from_lot_id.is_not(None))
        .group_by(HoneyTransfer.from_lot_id)
    )
    names = dict(session.execute(select(HoneyLot.id, HoneyLot.name)).all())
    for lot, grams in out_of:
        had = into[lot]
        if int(grams) > had:
            over = kilograms(int(grams) - had, 3)
            yield breach(
                "honey-balance",
                f"{names.get(lot or 0, lot)} gave {over} kg more than it had",
                f"honey lot {lot}",
            )


def jars(session: Session) -> Iterator[Finding]:
    """No lot of jars has given more jars, as counted, than were filled into it or came back to it."""
    had: dict[int | None, int] = defaultdict(int)
    came = (
        select(HoneyTransfer.to_lot_id, func.sum(HoneyTransfer.jars))
        .where(HoneyTransfer.jars.is_not(None), HoneyTransfer.to_lot_id.is_not(None))
        .group_by(HoneyTransfer.to_lot_id)
    )
    for lot, many in session.execute(came):
        had[lot] += int(many or 0)
    for filled_lot, filled in session.execute(select(Batch.lot_id, Batch.jars)):
        had[filled_lot] += filled
    gave = (
        select(HoneyTransfer.from_lot_id, HoneyLot.name, func.sum(HoneyTransfer.jars))
        .join(HoneyLot, HoneyLot.id == HoneyTransfer.from_lot_id)
        .where(HoneyTransfer.jars.is_not(None))
        .group_by(HoneyTransfer.from_lot_id, HoneyLot.name)
    )
    for lot, name, many in session.execute(gave):
        if int(many or 0) > had[lot]:
            what = f"{name} gave {many:,} jars of {had[lot]:,}"
            yield breach("jars", what, f"honey lot {lot}")


def acyclic(session: Session) -> Iterator[Finding]:
    """The graph of transfers has no cycle."""
    sorter: TopologicalSorter[int] = TopologicalSorter()
    for source, target in session.execute(select(HoneyTransfer.from_lot_id, HoneyTransfer.to_lot_id)):
        if source is not None and target is not None:
            sorter.add(target, source)
    try:
        sorter.prepare()
    except CycleError as error:
        lots = ", ".join(str(lot) for lot in error.args[1])
        yield breach("honey-acyclic", f"honey flows in a circle through lots {lots}", "honey transfers")


def traceable(session: Session) -> Iterator[Finding]:
    """Behind every batch stand lots that began on a scale, in an opening balance or at a supplier's."""
    sources: dict[int, list[int]] = defaultdict(list)
    origins: dict[int, set[str]] = defaultdict(set)
    for source, target, origin in session.execute(
        select(HoneyTransfer.from_lot_id, HoneyTransfer.to_lot_id, HoneyTransfer.origin)
    ):
        if target is not None and source is not None:
            sources[target].append(source)
        elif target is not None and origin is not None:
            origins[target].add(origin)
    takes = dict(session.execute(select(HoneyLot.id, HoneyLot.take_id)).all())
    for mark, lot in session.execute(select(Batch.lot_mark, Batch.lot_id)):
        reached, stack = set(), [lot]
        while stack:
            number = stack.pop()
            if number in reached:
                continue
            reached.add(number)
            stack.extend(sources.get(number, ()))
        ends = [number for number in reached if not sources.get(number)]
        for number in ends:
            if not origins.get(number):
                yield breach(
                    "traceable",
                    f"{mark} leads to lot {number}, of which nothing is known",
                    f"honey lot {number}",
                )
            elif "weighed" in origins[number] and takes.get(number) is None:
                yield breach("traceable", f"{mark} leads to weighed honey of no take", f"honey lot {number}")
