"""Days to plan, drawn by a seed; and the best plan of a small one by going through them all."""

from __future__ import annotations

from itertools import permutations
from math import hypot, inf
from random import Random

from beeledger.rules.day_plan import Problem, Stop, Van, check_plan, cost_s

HOUR = 3600


def day(seed: int, stops: int, vans: int, *, hours: int = 9, payload_g: int = 600_000) -> Problem:
    """Sites in a square of 60 km around home; a quarter open late or close early; some are worth little."""
    dice = Random(seed)
    spots = [(30_000, 30_000), *((dice.randrange(60_000), dice.randrange(60_000)) for _ in range(stops))]
    metres = tuple(tuple(round(1.3 * hypot(ax - bx, ay - by)) for bx, by in spots) for ax, ay in spots)
    sites = tuple(_site(dice, at) for at in range(stops))
    crews = tuple(Van(f"Van {at + 1}", 8 * HOUR, (8 + hours) * HOUR, payload_g) for at in range(vans))
    return Problem(crews, sites, metres, 45_000)


def _site(dice: Random, at: int) -> Stop:
    opens, closes = dice.choice([(0, 24), (0, 24), (0, 24), (0, 24), (0, 24), (0, 24), (13, 24), (0, 11)])
    return Stop(
        at, f"Site {at + 1}", dice.randrange(15, 75) * 60, dice.randrange(30, 240) * 60,
        dice.randrange(0, 120_000), dice.randrange(0, 200_000), opens * HOUR, closes * HOUR,
    )  # fmt: skip


def best_cost_s(problem: Problem) -> int:
    """The least cost there is, exactly: every set of stops for each van by dynamic programming (Held and Karp
    1962, with time windows and loads as labels), then every way of sharing the sets among the vans."""
    whole = (1 << len(problem.stops)) - 1
    worth = [_sum(problem, done, "urgency_s") for done in range(whole + 1)]
    best = [0.0 if not done else inf for done in range(whole + 1)]
    for van in range(len(problem.vans)):
        alone = _drives(problem, van)
        best = [min(best[done & ~own] + alone[own] for own in _subsets(done)) for done in range(whole + 1)]
    return int(min(best[done] + worth[whole & ~done] for done in range(whole + 1)))


def _sum(problem: Problem, done: int, name: str) -> int:
    return sum(getattr(stop, name) for at, stop in enumerate(problem.stops) if done >> at & 1)


def _subsets(whole: int):
    own = whole
    while True:
        yield own
        if not own:
            return
        own = (own - 1) & whole


def _drives(problem: Problem, van: int) -> list[float]:
    """Least driving of one van over exactly each set; a label is (driving, clock, how much heavier than at home)."""
    own, count = problem.vans[van], len(problem.stops)
    labels: dict[tuple[int, int], list[tuple[int, int, int]]] = {(0, 0): [(0, own.from_s, 0)]}
    least = [0.0] + [inf] * ((1 << count) - 1)
    for done in range(1 << count):
        change = _sum(problem, done, "back_g") - _sum(problem, done, "out_g")
        start = _sum(problem, done, "out_g")
        known = [(last, label) for last in range(count + 1) for label in labels.get((done, last), [])]
        for here, (drive, now, heavier) in known:
            leg = _leg(problem, here, 0)
            if done and now + leg <= own.until_s and start + heavier <= own.payload_g:
                least[done] = min(least[done], drive + leg)
            for at, stop in enumerate(problem.stops):
                begin = max(now + _leg(problem, here, at + 1), stop.opens_s)
                if done >> at & 1 or begin > stop.closes_s:
                    continue
                weight = max(heavier, change + stop.back_g - stop.out_g)
                _keep(
                    labels.setdefault((done | 1 << at, at + 1), []),
                    (drive + _leg(problem, here, at + 1), begin + stop.work_s, weight),
                )
    return least


def _leg(problem: Problem, first: int, second: int) -> int:
    metres = problem.metres[first][second] * 3600
    return metres // problem.metres_an_hour + (metres % problem.metres_an_hour > 0)


def _keep(labels: list[tuple[int, int, int]], new: tuple[int, int, int]) -> None:
    if any(all(a <= b for a, b in zip(old, new, strict=True)) for old in labels):
        return
    labels[:] = [old for old in labels if not all(a <= b for a, b in zip(new, old, strict=True))]
    labels.append(new)


def best_by_trying(problem: Problem) -> int:
    """The same for three stops and one van by writing every order down: the check on the one above."""

    lanes = [((*order,),) for size in range(len(problem.stops) + 1)
             for order in permutations(range(len(problem.stops)), size)]  # fmt: skip
    return min(cost_s(problem, one) for one in lanes if not check_plan(problem, one))
