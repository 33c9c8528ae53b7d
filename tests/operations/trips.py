"""A small farm with sites on the map and hives to carry, for tests of moves and contracts."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any

from beeledger.database.ledger import Ledger
from beeledger.model.colonies import Placement
from beeledger.operations.act import perform
from beeledger.operations.colonies import found_colonies, hives_at
from beeledger.operations.contracts import NewContract, add_contract
from beeledger.operations.moves import post_move
from beeledger.operations.parties import NewParty, NewVehicle, add_party, add_vehicle
from beeledger.operations.sites import NewSite, add_site
from beeledger.queries.records.move_desk import NewMove, carried

FOUNDED = date(2026, 3, 1)
EVENING = 20 * 60 + 30
"""Minutes after midnight: after sunset in April."""


@dataclass(slots=True)
class Farm:
    """Ids by their names. The far sites are more than 3 miles apart, the near one is 400 m from home."""

    ledger: Ledger
    sites: dict[str, int]
    hives: dict[str, int]
    van: int
    grower: int

    def move(
        self,
        marks: list[str],
        start: str,
        goal: str,
        on: date,
        left: int = EVENING,
        arrived: int = EVENING + 40,
        **more: Any,
    ) -> NewMove:
        """A trip of hives by their marks."""
        ids = [self.hives[mark] for mark in marks]
        sites = self.sites
        return NewMove(sites[start], sites[goal], on, left, arrived, carried(ids), **more)

    def post(self, marks: list[str], start: str, goal: str, on: date, **more: Any) -> int:
        """The same, posted; returns the move's id."""
        number: int = perform(self.ledger, post_move, self.move(marks, start, goal, on, **more)).result
        return number

    def stands(self, mark: str) -> list[tuple[str, date, date | None]]:
        """Where a hive stood, from and until, sites only."""
        names = {number: name for name, number in self.sites.items()}
        with self.ledger.read() as session:
            rows = session.query(Placement).filter_by(colony_id=self.hives[mark]).order_by(Placement.from_at)
            return [
                (names[row.site_id], row.from_on, row.until_on) for row in rows if row.site_id is not None
            ]

    def contract(self, **more: Any) -> int:
        """Six hives on the orchard from 10 April to 10 May 2026, at £45."""
        said: dict[str, Any] = {
            "name": "Ladder Hill 2026", "grower_id": self.grower, "site_id": self.sites["Ladder Hill"],
            "crop": "apple", "hives": 6, "on": date(2026, 4, 10), "off": date(2026, 5, 10), "price_pence": 4_500,
            "least_bees_tenths": 80, **more,
        }  # fmt: skip
        number: int = perform(self.ledger, add_contract, NewContract(**said)).result
        return number


def _kind(name: str) -> str:
    return {"Home Yard": "home", "Ladder Hill": "crop"}.get(name, "out")


def farm(ledger: Ledger) -> Farm:
    """Home with hives 1 to 8, Far Drove with 21 to 23, an orchard and a field without hives, a van, a grower."""
    places = {
        "Home Yard": "SO400600",
        "Near Bank": "SO404600",
        "Far Drove": "SO500700",
        "Ladder Hill": "SO550500",
    }
    sites = {
        name: perform(ledger, add_site, NewSite(name, grid=grid, capacity=12, kind=_kind(name))).result
        for name, grid in places.items()
    }
    hives: dict[str, int] = {}
    for site, marks in (("Home Yard", [str(n) for n in range(1, 9)]), ("Far Drove", ["21", "22", "23"])):
        ids = perform(ledger, found_colonies, hives_at(sites[site], FOUNDED, marks)).result
        hives |= dict(zip(marks, ids, strict=True))
    van = perform(ledger, add_vehicle, NewVehicle("Blue van", 6, 800_000)).result
    grower = perform(ledger, add_party, NewParty("Ladder Hill Fruit", ("grower",), phone="01234 567")).result
    return Farm(ledger, sites, hives, van, grower)
