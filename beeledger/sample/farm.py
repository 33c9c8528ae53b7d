"""The sample farm as it stands on a day of its life: its hives, where they are, and the keys of its rows."""

from __future__ import annotations

import heapq
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from random import Random

from beeledger.sample.breeding import Breeder
from beeledger.sample.diary import Diary
from beeledger.sample.hive import Hive, Season
from beeledger.sample.scenario import Scenario, SitePlan

_REUSED_AFTER = timedelta(days=90)
"""A hive that stood empty so long is scorched, refilled, and its number lives again."""


@dataclass(slots=True)
class Farm:
    """Everything that changes while the sample lives."""

    scenario: Scenario
    diary: Diary
    dice: Random
    season: Season
    breeder: Breeder
    hives: dict[str, list[Hive]] = field(default_factory=dict)
    """By the code of the site where they stand, in walking order; the dead leave it when they are found."""
    site_ids: dict[str, int] = field(default_factory=dict)
    parties: dict[str, int] = field(default_factory=dict)
    vehicles: list[tuple[int, int]] = field(default_factory=list)
    """Id and places, the largest first."""
    contracts: dict[tuple[str, int], int] = field(default_factory=dict)
    """By site and year."""
    rounds: int = 0
    _last_mark: int = 0
    _free_marks: list[tuple[date, int]] = field(default_factory=list)

    @property
    def standing(self) -> list[Hive]:
        """Every hive that is on the record as living."""
        return [hive for hives in self.hives.values() for hive in hives]

    @property
    def alive(self) -> int:
        """How many really live."""
        return sum(not hive.dead for hive in self.standing)

    @property
    def home(self) -> int:
        """The key of the home yard."""
        return self.site_ids[next(site.code for site in self.scenario.sites if site.kind == "home")]

    def next_mark(self, day: date) -> str:
        """The number for a new hive: one that has long been free, or a new one."""
        if self._free_marks and self._free_marks[0][0] <= day:
            return str(heapq.heappop(self._free_marks)[1])
        self._last_mark += 1
        return str(self._last_mark)

    def free_mark(self, mark: str, day: date) -> None:
        """A hive is gone: its number may be used again later."""
        heapq.heappush(self._free_marks, (day + _REUSED_AFTER, int(mark)))

    def site_plans(self) -> Mapping[str, SitePlan]:
        """The sites by their codes."""
        return {site.code: site for site in self.scenario.sites}
