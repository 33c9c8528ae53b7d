"""Reasons from feed, medicine, grafts, winter and what a person asked for: one small rule each."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date

from beeledger.base import dates
from beeledger.base.units import kilograms
from beeledger.rules import queens, stores
from beeledger.rules.due.facts import ColonyFacts, Due, Fact, Grafted
from beeledger.rules.due.figures import DueSettings, MonthDay
from beeledger.rules.due.making import after, one
from beeledger.rules.queens import Job

_FEEDING_MONTHS = frozenset({8, 9, 10, 11})
"""From August to November a colony is fed for the winter, else over the lean time of the month."""
_WINTER_BEGINS = 10
_BROODLESS_MONTHS = frozenset({11, 12, 1})
"""A colony found without brood in these months is at its winter rest; common practice, no source."""
_ANSWERS: dict[str, tuple[str, ...]] = {
    "accepted": ("taken", "emerged", "mated"),
    "make_nuclei": ("emerged", "mated"),
    "place_cells": ("emerged", "mated"),
    "laying": ("mated",),
    "pattern": ("mated",),
    "catch": ("mated",),
}
"""The counts of a graft that say a step was done; a step without any is not asked for."""


def _drone_layer(facts: ColonyFacts, _own: DueSettings) -> Iterator[Due]:
    since = facts.queen_state_since or facts.looked
    if since is None or facts.queen_state not in ("virgin", "cells"):
        return
    emerged = since
    if facts.queen_state == "cells":
        emerged = queens.cell_emerges(since, sealed=facts.cells == "sealed")[1]
    words = "a virgin" if facts.queen_state == "virgin" else "cells left"
    why = f"{words} on {dates.short(since)}: without eggs by now she is likely a drone layer"
    due_on = queens.virgin(emerged).drone_layer_from
    yield one(facts, "drone_layer", "look for eggs, else requeen or unite", why, due_on, (Fact.LOOK, since))


def _grafts(facts: ColonyFacts, _own: DueSettings) -> Iterator[Due]:
    for graft in facts.grafts:
        for job in queens.graft_calendar(graft.on):
            if job.work and job.day > 0 and not _answered(graft, job):
                why = f"graft of {dates.short(graft.on)}, day {job.day}"
                yield one(facts, "graft", job.what, why, job.on, (Fact.GRAFT, graft.on))


def _answered(graft: Grafted, job: Job) -> bool:
    return any(getattr(graft, count) for count in _ANSWERS.get(job.code, ()))


def _dose(facts: ColonyFacts, own: DueSettings) -> Iterator[Due]:
    if len(facts.dosed) == 1:
        first = facts.dosed[0]
        why = f"first dose on {dates.short(first)}, the second after {own.dose_days} days; the label rules"
        yield one(
            facts, "dose", "put the second dose in", why, after(first, own.dose_days), (Fact.COURSE, first)
        )


def _withdrawal(facts: ColonyFacts, _own: DueSettings) -> Iterator[Due]:
    free, seen = facts.withdrawal_from, _last_seen(facts)
    if free is None or facts.strips_in is not None or (seen is not None and seen >= free):
        return
    why = f"the withdrawal on the label ends; free from {dates.long(free)}"
    yield one(
        facts, "withdrawal", "supers for harvest may go on again", why, free, (Fact.COURSE, facts.treated)
    )


def _refill(facts: ColonyFacts, own: DueSettings) -> Iterator[Due]:
    fed = facts.fed
    if fed is None or facts.kind == "mating" or (facts.visited is not None and facts.visited > fed.on):
        return
    words = f"fed on {dates.short(fed.on)}"
    if facts.stores_g is not None and facts.stores_on is not None and facts.stores_on <= fed.on:
        wanted = _wanted_g(fed.on, facts.kind)
        has = facts.stores_g + stores.stores_from_sugar_g(fed.sugar_g or 0)
        if has >= wanted:
            return
        words += f", with it about {kilograms(has)} of the {kilograms(wanted)} kg wanted"
    days = own.refill_days if fed.liquid else own.refill_days_solid
    yield one(facts, "refill", "look at the feeder, refill", words, after(fed.on, days), (Fact.FEED, fed.on))


def _wanted_g(on: date, kind: str) -> int:
    if on.month in _FEEDING_MONTHS:
        return stores.winter_target_g("single" if kind == "full" else "nucleus")
    return stores.light_line_g(on.month, kind)


def _heft(facts: ColonyFacts, own: DueSettings) -> Iterator[Due]:
    seen = _last_seen(facts)
    if seen is None or facts.kind == "mating" or seen.month < own.winter_work_from_month:
        return
    why = f"last seen {dates.long(seen)}; stores are checked after the turn of the year"
    yield one(facts, "heft", "heft", why, _coming(own.heft_on, seen), (Fact.LOOK, seen))


def _oxalic(facts: ColonyFacts, own: DueSettings) -> Iterator[Due]:
    seen, empty = _last_seen(facts), facts.broodless_on
    if seen is None or facts.kind == "mating" or facts.strips_in is not None:
        return
    found_empty = empty is not None and empty.month in _BROODLESS_MONTHS
    if seen.month < own.winter_work_from_month and not found_empty:
        return
    winter = date(seen.year - (seen.month < own.winter_work_from_month), _WINTER_BEGINS, 1)
    if facts.oxalic_on is not None and facts.oxalic_on >= winter:
        return
    due_on, why = _coming(own.oxalic_on, seen), "usually without brood by then; not with brood"
    if empty is not None and found_empty:
        due_on, why = after(empty, own.oxalic_after_days), f"no brood on {dates.short(empty)}"
    what = "oxalic acid while it has no brood, as the label says"
    yield one(facts, "oxalic", what, why, due_on, (Fact.LOOK, empty or seen))


def _last_seen(facts: ColonyFacts) -> date | None:
    return max((day for day in (facts.looked, facts.visited) if day is not None), default=None)


def _coming(day: MonthDay, seen: date) -> date:
    """The first such day of the year after ``seen``."""
    this = date(seen.year, *day)
    return this if this > seen else date(seen.year + 1, *day)


def _tasks(facts: ColonyFacts, _own: DueSettings) -> Iterator[Due]:
    for task in facts.tasks:
        why = f"asked for on {dates.short(task.asked_on)}" if task.asked_on else "asked for"
        yield one(facts, "task", task.what, why, task.due_on, (Fact.TASK, task.asked_on))


SEASON_RULES: tuple[Callable[[ColonyFacts, DueSettings], Iterator[Due]], ...] = (
    _drone_layer,
    _grafts,
    _dose,
    _withdrawal,
    _refill,
    _heft,
    _oxalic,
    _tasks,
)
