"""How near to the best and how fast the day is planned: ``python -m tests.benchmarks.day_plan``.

Small days against the exact best, larger ones against the best of two searches four times as long from other seeds.
"""

from __future__ import annotations

from time import perf_counter

from beeledger.rules.day_plan import check_plan, cost_s, left_out
from beeledger.rules.day_tours import proposed
from tests.builders.days import best_cost_s, day


def main() -> None:
    """Print the gaps and the seconds."""
    gaps = []
    for seed in range(12):
        problem = day(seed, 8, 2, hours=4 + seed % 3, payload_g=450_000)
        best = best_cost_s(problem)
        gaps.append(100 * (cost_s(problem, proposed(problem)) / best - 1))
    print("8 sites, 2 vans, against the exact best:", " ".join(f"{gap:.2f}" for gap in gaps), "%")
    gaps = []
    for seed in range(100, 108):
        problem = day(seed, 40, 3, payload_g=1_500_000)
        best = min(cost_s(problem, proposed(problem, steps=6_000, seed=more)) for more in (2, 3))
        gaps.append(100 * (cost_s(problem, proposed(problem)) / best - 1))
    print(
        "40 sites, 3 vans, against two searches four times as long:",
        " ".join(f"{gap:.2f}" for gap in gaps),
        "%",
    )
    problem = day(200, 80, 3, payload_g=3_000_000)
    begun = perf_counter()
    lanes = proposed(problem)
    took = perf_counter() - begun
    missed = len(left_out(problem, lanes))
    print(f"80 sites, 3 vans: {took:.2f} s, {missed} left out, {len(check_plan(problem, lanes))} faults")


if __name__ == "__main__":
    main()
