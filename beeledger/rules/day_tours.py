"""The search for a good day: vehicle routing with time windows and optional stops, by the pyvrp library.

The only module that knows the solver. It is handed its seed and counts steps, so the same day gives the same plan.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from beeledger.base.resources import table
from beeledger.rules.day_plan import DAY_S, Lanes, Problem, Stop

if TYPE_CHECKING:
    from pyvrp import Location, Model
    from pyvrp.Model import Profile

Progress = Callable[[int, int], bool]
"""Told the step and how many there are; answers whether to stop now."""


@dataclass(slots=True)
class _Steps:
    """The solver's question whether to stop: after so many steps, or when somebody asks."""

    most: int
    progress: Progress | None
    done: int = 0
    cost: int = 0
    """Of the best plan so far."""

    def __call__(self, best_cost: int) -> bool:
        self.cost = best_cost
        self.done += 1
        asked = self.progress is not None and self.progress(min(self.done, self.most), self.most)
        return asked or self.done > self.most


def proposed(
    problem: Problem, *, steps: int | None = None, seed: int = 1, progress: Progress | None = None
) -> Lanes:
    """A good plan: least driving and least left out that matters. Stopped early it is the best so far.

    ``steps`` of the search, by itself those of ``day_plan.toml``. Nothing in it breaks hours, windows or loads.
    """
    if not problem.vans or not problem.stops:
        return tuple(() for _ in problem.vans)
    most: int = table("rules", "day_plan.toml")["search"]["steps"] if steps is None else steps
    result = _model(problem).solve(stop=_Steps(most, progress), seed=seed, collect_stats=False, display=False)
    lanes: list[tuple[int, ...]] = [() for _ in problem.vans]
    if not result.is_feasible():
        return tuple(lanes)
    for route in result.best.routes():
        lanes[route.vehicle_type()] = tuple(one.idx for one in route if one.is_client())
    return tuple(lanes)


def _model(problem: Problem) -> Model:
    """The day in the solver's words: seconds for distance, so that driving and visits left out are one sum."""
    from pyvrp import Model

    model = Model()
    home = model.add_location(0, 0)
    places = [home, *(model.add_location(at, 0) for at in range(1, len(problem.stops) + 1))]
    depot = model.add_depot(home)
    for place, stop in zip(places[1:], problem.stops, strict=True):
        _add_stop(model, place, stop)
    most_g = sum(stop.out_g + stop.back_g for stop in problem.stops)
    for number, van in enumerate(problem.vans):
        profile = model.add_profile(name=str(number))
        _add_roads(model, problem, places, number, profile)
        carries = most_g if van.payload_g is None else van.payload_g
        model.add_vehicle_type(
            1,
            [carries],
            depot,
            depot,
            tw_early=van.from_s,
            tw_late=max(van.from_s, van.until_s),
            profile=profile,
        )
    return model


def _add_stop(model: Model, place: Location, stop: Stop) -> None:
    pinned: int = table("rules", "day_plan.toml")["urgency"]["pinned_minutes"]
    model.add_client(
        place,
        delivery=[stop.out_g],
        pickup=[stop.back_g],
        service_duration=stop.work_s,
        tw_early=stop.opens_s,
        tw_late=max(stop.opens_s, stop.closes_s),
        prize=stop.urgency_s if stop.van is None else pinned * 60,
        required=False,
    )


def _add_roads(
    model: Model, problem: Problem, places: Sequence[Location], van: int, profile: Profile
) -> None:
    """The roads of one van; those to stops pinned to another are longer than any day."""
    for first, start in enumerate(places):
        for second, end in enumerate(places):
            if first == second:
                continue
            pin = problem.stops[second - 1].van if second else None
            seconds = problem.seconds(first, second) if pin in (None, van) else _NEVER_S
            model.add_edge(start, end, seconds, seconds, profile=profile)


_NEVER_S = 10 * DAY_S
