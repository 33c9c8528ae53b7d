"""Last autumn of the sample: a dead hive looked suspicious, the inspector came, a sample was clear, and it was over."""

from __future__ import annotations

from datetime import date

from beeledger.operations.official import (
    NewSample,
    NewVisit,
    Result,
    record_result,
    record_sample,
    record_visit,
)
from beeledger.operations.parties import NewParty, add_party
from beeledger.operations.restrictions import NewRestriction, Release, impose_restriction, release_restriction
from beeledger.sample.farm import Farm

_TOLD, _CAME, _RESULT, _RELEASED = (11, 8), (11, 10), (11, 22), (11, 24)
_AUTHORITY, _INSPECTOR = "Bee inspectorate, Midland region", "M Okoro"


class Authority:
    """What the authority does at one site of the farm, in the autumn before the sample ends."""

    def __init__(self, farm: Farm) -> None:
        self._farm = farm
        self._year = farm.scenario.today.year - 1
        self._site: int | None = None
        self._restriction = self._sample = 0

    def work(self, day: date) -> None:
        """Whatever of it falls on this day."""
        if day.year != self._year:
            return
        at = (day.month, day.day)
        if at == _TOLD:
            self._site = self._standing_site()
        if self._site is None:
            return
        if at == _TOLD:
            self._restrict(self._site, day)
        elif at == _CAME:
            self._visit(self._site, day)
        elif at == _RESULT:
            words = "no spores of Paenibacillus larvae found"
            self._farm.diary.do(record_result, Result(self._sample, day, "clear", words))
        elif at == _RELEASED:
            release = Release(self._restriction, day, "BI/R 118", minute=11 * 60)
            self._farm.diary.do(release_restriction, release)

    def _standing_site(self) -> int | None:
        """An out-apiary where hives stand that day."""
        plans = self._farm.site_plans()
        codes = [code for code, hives in self._farm.hives.items() if hives and plans[code].kind == "out"]
        return self._farm.site_ids[min(codes)] if codes else None

    def _restrict(self, site: int, day: date) -> None:
        self._farm.diary.do(add_party, NewParty(_AUTHORITY, ("authority",)))
        new = NewRestriction(
            "American foul brood suspected in a dead hive", day, 15 * 60, site_id=site, by_whom=_AUTHORITY,
            reference="BI/N 118", note="closed the hive, rang the inspector; nothing has left since",
        )  # fmt: skip
        self._restriction = self._farm.diary.do(impose_restriction, new)

    def _visit(self, site: int, day: date) -> None:
        found = "sunken cappings in one dead hive, no ropiness; all others clear"
        visit = self._farm.diary.do(
            record_visit, NewVisit(site, day, _INSPECTOR, "suspicion told by the farm", found)
        )
        sample = NewSample(
            site, day, "a comb of 8 × 8 cm", "comb", None, visit, "the inspectorate's laboratory", day
        )
        self._sample = self._farm.diary.do(record_sample, sample)
