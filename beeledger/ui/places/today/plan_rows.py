"""A planned day as rows: each van with its stops in order, then what is left out and why."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date

from beeledger.base.text import counted
from beeledger.base.units import kilometres
from beeledger.queries.due import SiteDue
from beeledger.rules.day_plan import (
    Lanes,
    Problem,
    Tour,
    Visit,
    best_place,
    check_plan,
    clock,
    left_out,
    moved,
    tours,
    why_left,
)
from beeledger.ui.places.today.table import why_runs, work_words
from beeledger.ui.widgets.cells import BLANK, Align, Cell, Column, Row, Run
from beeledger.ui.widgets.marks import Mark

COLUMNS = (
    Column("in", "In", sample="08:00", align=Align.RIGHT, sorts=False),
    Column("site", "Van and site", sample="Stocking Field", sorts=False),
    Column("work", "Work", sample="12 h 45", align=Align.RIGHT, sorts=False),
    Column("why", "What is due", sample="30 swarm check", slack=True, whole=True, sorts=False),
    Column("km", "Drive", "km", sample="127.3", align=Align.RIGHT, sorts=False),
    Column("out", "Out", sample="17:00", align=Align.RIGHT, sorts=False),
)


@dataclass(frozen=True, slots=True)
class Planned:
    """A day as it stands: the problem, who goes where in which order, and what is due there."""

    on: date
    problem: Problem
    lanes: Lanes
    due: Mapping[int, SiteDue]
    """By the id of the site, which is the key of its stop."""
    no_stop: tuple[tuple[str, str], ...] = ()
    """Sites that were asked for and cannot be stops, each with why."""

    def where(self, stop: int) -> tuple[int, int] | None:
        """The van a stop is with, and its place there."""
        spots = ((van, lane.index(stop)) for van, lane in enumerate(self.lanes) if stop in lane)
        return next(spots, None)

    def shifted(self, stop: int, by: int) -> Planned:
        """A stop earlier or later in its van; one left out goes where it costs least."""
        at = self.where(stop)
        if at is None:
            return self.taken_in(stop, 0)
        return replace(self, lanes=moved(self.lanes, stop, at[0], at[1] + by))

    def handed(self, stop: int, by: int) -> Planned:
        """A stop with the next van, or the one before; one left out goes where it costs least."""
        at = self.where(stop)
        if at is None:
            return self.taken_in(stop, 0 if by > 0 else len(self.lanes) - 1)
        van = at[0] + by
        inside = 0 <= van < len(self.lanes)
        return replace(self, lanes=moved(self.lanes, stop, van, at[1])) if inside else self

    def dropped(self, stop: int) -> Planned:
        """Without the stop."""
        return replace(self, lanes=moved(self.lanes, stop, None, 0))

    def taken_in(self, stop: int, van: int) -> Planned:
        """With a stop that was left out: where it fits best, else last with a van, and what is wrong is said."""
        best = best_place(self.problem, self.lanes, stop)
        last = moved(self.lanes, stop, van, len(self.lanes[van]))
        return replace(self, lanes=best if best is not None else last)

    def site_ids(self) -> list[int]:
        """The sites in the order the vans come to them, van after van."""
        return [self.problem.stops[stop].key for lane in self.lanes for stop in lane]


def plan_rows(planned: Planned) -> list[Row]:
    """The whole table."""
    wrong: dict[str, list[str]] = {}
    for finding in check_plan(planned.problem, planned.lanes):
        name = finding.where.record or ""
        wrong.setdefault(name, []).append(finding.what.removeprefix(f"{name} "))
    rows: list[Row] = []
    for tour in tours(planned.problem, planned.lanes):
        rows.append(_van_row(planned, tour, wrong))
        rows += [_stop_row(planned, visit, wrong) for visit in tour.visits]
    return [*rows, *_left_rows(planned)]


def _van_row(planned: Planned, tour: Tour, wrong: Mapping[str, list[str]]) -> Row:
    van = planned.problem.vans[tour.van]
    said = wrong.get(van.name)
    name = f"{van.name}, {van.crew}" if van.crew else van.name
    if not tour.visits:
        cells = (
            BLANK,
            Cell(name, weight=600, tint="sunk"),
            BLANK,
            Cell("stays at home", "ink2"),
            BLANK,
            BLANK,
        )
        return _tinted(Row(("van", tour.van), cells))
    work = sum(planned.problem.stops[visit.stop].work_s for visit in tour.visits)
    words = _tour_words(planned.problem, tour)
    cells = (
        Cell(clock(tour.start_s), weight=600),
        Cell(name, weight=600),
        Cell(work_words(_minutes(work)), weight=600),
        Cell("; ".join(said), "now", mark=Mark.CANNOT) if said else Cell(words, "ink2"),
        Cell(kilometres(tour.metres), weight=600),
        Cell(clock(tour.home_s), "now" if said else "ink", 600),
    )
    return _tinted(Row(("van", tour.van), cells))


def _tinted(row: Row) -> Row:
    return replace(row, cells=tuple(replace(cell, tint="sunk") for cell in row.cells))


def _tour_words(problem: Problem, tour: Tour) -> str:
    here, drive = 0, 0
    for visit in tour.visits:
        drive += problem.seconds(here, visit.stop + 1)
        here = visit.stop + 1
    drive += problem.seconds(here, 0)
    return f"{counted(len(tour.visits), 'site')}, {work_words(_minutes(drive))} of driving"


def _stop_row(planned: Planned, visit: Visit, wrong: Mapping[str, list[str]]) -> Row:
    stop = planned.problem.stops[visit.stop]
    said = wrong.get(stop.name)
    cells = (
        Cell(clock(visit.begin_s)),
        Cell(stop.name),
        Cell(work_words(_minutes(stop.work_s))),
        Cell("; ".join(said), "now", mark=Mark.CANNOT) if said else _due_cell(planned, stop.key),
        Cell(kilometres(visit.metres), "ink2"),
        Cell(clock(visit.leave_s)),
    )
    return Row(("stop", visit.stop), cells)


def _due_cell(planned: Planned, key: int) -> Cell:
    words = planned.due[key].words
    return Cell(words, runs=why_runs(words))


def _left_rows(planned: Planned) -> Iterator[Row]:
    """The sites nobody goes to, each with its reason."""
    left = left_out(planned.problem, planned.lanes)
    count = len(left) + len(planned.no_stop)
    if not count:
        return
    head = (
        BLANK,
        Cell("Left out", weight=600),
        BLANK,
        Cell(f"{counted(count, 'site')}, and what would be wrong", "ink2"),
        BLANK,
        BLANK,
    )
    yield _tinted(Row("left", head))
    for stop in left:
        own = planned.problem.stops[stop]
        why = why_left(planned.problem, planned.lanes, stop)
        work = Cell(work_words(_minutes(own.work_s)), "ink2")
        yield Row(("stop", stop), (BLANK, Cell(own.name, "ink2"), work, Cell(why, "ink2"), BLANK, BLANK))
    for name, why in planned.no_stop:
        yield Row(("none", name), (BLANK, Cell(name, "ink2"), BLANK, Cell(why, "ink2"), BLANK, BLANK))


def plan_words(planned: Planned) -> tuple[list[Run], list[Run]]:
    """The foot: what the whole day adds up to, and what is wrong with it or how to change it."""
    made = [tour for tour in tours(planned.problem, planned.lanes) if tour.visits]
    stops = [planned.problem.stops[visit.stop] for tour in made for visit in tour.visits]
    work = work_words(_minutes(sum(stop.work_s for stop in stops)))
    sums = f"{work} of work · about {kilometres(sum(tour.metres for tour in made))} km"
    first = [
        Run(f"{counted(len(stops), 'site')} by {counted(len(made), 'van')}", "ink", 600, gap=10),
        Run(sums),
    ]
    wrong = check_plan(planned.problem, planned.lanes)
    if wrong:
        more = f", and {len(wrong) - 1} more" if len(wrong) > 1 else ""
        return first, [Run(f"{wrong[0].what}{more}", "now", mark=Mark.CANNOT, small=True)]
    keys = "Ctrl ↑ ↓ earlier or later · Ctrl ← → other van · Del leaves out · times are an estimate"
    return first, [Run(keys, small=True)]


def _minutes(seconds: int) -> int:
    """Whole minutes, rounded up."""
    return -(-seconds // 60)
