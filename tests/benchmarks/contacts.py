"""How long contacts take on 60,000 invented moves of ten years, beside only going through the same rows once.

Run as ``python -m tests.benchmarks.contacts``.
"""

from __future__ import annotations

from collections.abc import Callable
from random import Random
from time import perf_counter

from beeledger.rules.contacts import Link, onward

MOVES, COLONIES, SITES, DAYS = 60_000, 2_000, 70, 3_650
_DAY = 86_400


def invented(seed: int = 7) -> list[Link]:
    """Stays of hives: each move ends one and begins another at a site by chance."""
    dice, links = Random(seed), []
    stands = {colony: (dice.randrange(SITES), 0) for colony in range(COLONIES)}
    for when in sorted(dice.randrange(DAYS * _DAY) for _ in range(MOVES)):
        colony = dice.randrange(COLONIES)
        site, since = stands[colony]
        links.append(Link(("colony", colony), ("site", site), since, when))
        stands[colony] = (dice.randrange(SITES), when)
    links += [Link(("colony", one), ("site", site), since, 2**40) for one, (site, since) in stands.items()]
    return links


def best(work: Callable[[], object], times: int = 5) -> float:
    """The best of some runs, in milliseconds."""
    found = []
    for _ in range(times):
        start = perf_counter()
        work()
        found.append(perf_counter() - start)
    return min(found) * 1_000


def main() -> None:
    """Print the figures."""
    links = invented()
    plain = best(lambda: sum(link.last - link.first for link in links))
    print(f"{len(links):,} stays gone through once: {plain:.1f} ms")
    for days in (90, 365, DAYS):
        last = DAYS * _DAY
        took = best(lambda: onward(links, [("site", 0)], last - days * _DAY, last))  # noqa: B023
        print(f"onward from one site, {days:,} days: {took:.1f} ms, {took / plain:.0f} times as long")


if __name__ == "__main__":
    main()
