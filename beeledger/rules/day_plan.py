"""A day planned: which van goes to which sites in which order, when it is where, what it carries.

Plain reckoning of a plan that somebody (a solver, or a person dragging) made: times, loads, kilometres, what is
wrong with it, where a stop would fit and why not. The search for a good plan is in ``rules.day_tours``. Figures
and sources stand in ``resources/rules/day_plan.toml``. Seconds are counted from local midnight.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.resources import table
from beeledger.base.units import kilograms

Lanes = tuple[tuple[int, ...], ...]
"""For each van the stops in order, by their place in the problem."""
DAY_S = 24 * 3600


@dataclass(frozen=True, slots=True)
class Stop:
    """A site to go to: work in seconds, grams that go out and come back, when work may begin."""

    key: int
    name: str
    work_s: int
    urgency_s: int
    """Seconds of driving that a visit is worth: what leaving it out costs."""
    out_g: int = 0
    back_g: int = 0
    opens_s: int = 0
    closes_s: int = DAY_S
    """The latest moment at which work may begin."""
    van: int | None = None
    """Pinned to this van, by its place in the problem."""


@dataclass(frozen=True, slots=True)
class Van:
    """A van with its crew: from when until when, and what it may carry (None: not known, not checked)."""

    name: str
    from_s: int
    until_s: int
    payload_g: int | None = None
    crew: str = ""


@dataclass(frozen=True, slots=True)
class Problem:
    """A day to plan. ``metres[i][j]`` by road; 0 is home, stop n stands at n + 1."""

    vans: tuple[Van, ...]
    stops: tuple[Stop, ...]
    metres: tuple[tuple[int, ...], ...]
    metres_an_hour: int

    def seconds(self, first: int, second: int) -> int:
        """Seconds of driving between two places, rounded up."""
        return -(-self.metres[first][second] * 3600 // self.metres_an_hour)


@dataclass(frozen=True, slots=True)
class Visit:
    """One stop of a tour: ``load_g`` is what is on the van when it leaves."""

    stop: int
    metres: int
    arrive_s: int
    begin_s: int
    leave_s: int
    load_g: int


@dataclass(frozen=True, slots=True)
class Tour:
    """What a van does: ``start_load_g`` as it leaves home."""

    van: int
    visits: tuple[Visit, ...]
    start_s: int
    home_s: int
    metres: int
    start_load_g: int

    @property
    def most_g(self) -> int:
        """The heaviest it gets."""
        return max((self.start_load_g, *(visit.load_g for visit in self.visits)))


def urgency_s(late_days: int, days_ahead: int) -> int:
    """Seconds of driving a visit is worth: more with each day it is late, less with each it is still ahead."""
    own = table("rules", "day_plan.toml")["urgency"]
    minutes = own["due_minutes"] + own["late_day_minutes"] * min(late_days, own["late_days_most"])
    return int(max(own["least_minutes"], minutes - own["ahead_day_minutes"] * max(0, days_ahead)) * 60)


def tour(problem: Problem, van: int, order: Sequence[int]) -> Tour:
    """The times and loads of a van that drives this order, waiting where it comes too soon."""
    own = problem.vans[van]
    load = start_load = sum(problem.stops[stop].out_g for stop in order)
    here, now, metres = 0, own.from_s, 0
    visits = []
    for at in order:
        stop = problem.stops[at]
        arrive = now + problem.seconds(here, at + 1)
        begin = max(arrive, stop.opens_s)
        now = begin + stop.work_s
        load += stop.back_g - stop.out_g
        visits.append(Visit(at, problem.metres[here][at + 1], arrive, begin, now, load))
        metres += problem.metres[here][at + 1]
        here = at + 1
    back = problem.metres[here][0]
    return Tour(van, tuple(visits), own.from_s, now + problem.seconds(here, 0), metres + back, start_load)


def tours(problem: Problem, lanes: Lanes) -> tuple[Tour, ...]:
    """The tour of each van."""
    return tuple(tour(problem, van, order) for van, order in enumerate(lanes))


def left_out(problem: Problem, lanes: Lanes) -> tuple[int, ...]:
    """The stops nobody goes to."""
    gone = {stop for lane in lanes for stop in lane}
    return tuple(at for at in range(len(problem.stops)) if at not in gone)


def cost_s(problem: Problem, lanes: Lanes) -> int:
    """What a plan is judged by: seconds of driving, and what the visits left out were worth."""
    driving = sum(
        problem.seconds(first, second)
        for lane in lanes
        if lane
        for first, second in pairwise([0, *(stop + 1 for stop in lane), 0])
    )
    return driving + sum(problem.stops[stop].urgency_s for stop in left_out(problem, lanes))


def check_plan(problem: Problem, lanes: Lanes) -> list[Finding]:
    """What is wrong with a plan: too late at a site, home after hours, too heavy, with the wrong van, twice."""
    found = [one for each in tours(problem, lanes) if each.visits for one in _check_tour(problem, each)]
    named = [stop for lane in lanes for stop in lane]
    twice = sorted({stop for stop in named if named.count(stop) > 1})
    return [*found, *(_refused("twice", problem.stops[at].name, "is planned twice") for at in twice)]


def _check_tour(problem: Problem, made: Tour) -> Iterator[Finding]:
    van = problem.vans[made.van]
    if made.home_s > van.until_s:
        yield _refused("hours", van.name, f"is home at {clock(made.home_s)}, after {clock(van.until_s)}")
    if van.payload_g is not None and made.most_g > van.payload_g:
        over = kilograms(made.most_g - van.payload_g, 0)
        yield _refused("load", van.name, f"carries {over} kg more than its {kilograms(van.payload_g, 0)} kg")
    for visit in made.visits:
        stop = problem.stops[visit.stop]
        if visit.begin_s > stop.closes_s:
            yield _refused(
                "window", stop.name, f"is reached at {clock(visit.begin_s)}, after {clock(stop.closes_s)}"
            )
        if stop.van is not None and stop.van != made.van:
            yield _refused("pinned", stop.name, f"is pinned to {problem.vans[stop.van].name}")


def _refused(code: str, record: str, what: str) -> Finding:
    return Finding(f"plan.{code}", Grade.REFUSED, f"{record} {what}", where=Where(record=record))


def moved(lanes: Lanes, stop: int, van: int | None, place: int) -> Lanes:
    """The plan with a stop taken to a place of a van's order (None: left out); the others close up."""
    without = [[one for one in lane if one != stop] for lane in lanes]
    if van is not None:
        without[van].insert(max(0, min(place, len(without[van]))), stop)
    return tuple(tuple(lane) for lane in without)


def best_place(problem: Problem, lanes: Lanes, stop: int) -> Lanes | None:
    """The cheapest plan with one more stop and nothing newly wrong; None where it fits nowhere."""
    wrong = {finding.what for finding in check_plan(problem, lanes)}
    fits = [
        tried
        for tried in _with_stop(problem, lanes, stop)
        if {finding.what for finding in check_plan(problem, tried)} <= wrong
    ]
    return min(fits, key=lambda tried: cost_s(problem, tried)) if fits else None


def why_left(problem: Problem, lanes: Lanes, stop: int) -> str:
    """Why a stop is not in the plan, in words: what is wrong at the place where least would be."""
    if not problem.vans:
        return "no van goes out"
    if best_place(problem, lanes, stop) is not None:
        return "it would fit; the drive costs more than the visit is worth today, or it was left out by hand"
    known = {finding.what for finding in check_plan(problem, lanes)}
    tries = [
        [finding.what for finding in check_plan(problem, tried) if finding.what not in known]
        for tried in _with_stop(problem, lanes, stop)
    ]
    least = min(tries, key=len)
    return "; ".join(least)


def _with_stop(problem: Problem, lanes: Lanes, stop: int) -> Iterator[Lanes]:
    for van in range(len(problem.vans)):
        for place in range(len(lanes[van]) + 1):
            yield moved(lanes, stop, van, place)


def pinned(problem: Problem, stop: int, van: int | None) -> Problem:
    """The same day with a stop pinned to a van, or no longer."""
    stops = tuple(replace(one, van=van) if at == stop else one for at, one in enumerate(problem.stops))
    return replace(problem, stops=stops)


def clock(seconds: int) -> str:
    """Seconds from midnight as a clock shows them; the next day's hours go on after 24."""
    return f"{seconds // 3600:02d}:{seconds % 3600 // 60:02d}"
