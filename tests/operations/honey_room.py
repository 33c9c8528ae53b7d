"""A farm with two sites in harvest, and its honey on the way from supers to jars; all names invented."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.colonies import found_colonies, hives_at
from beeledger.operations.farm import set_farm
from beeledger.operations.honey import Filled, NewBlend, NewExtraction, blend, extract_run
from beeledger.operations.honey_lots import Draw, Spent
from beeledger.operations.labels import NewBatch, jar_batch
from beeledger.operations.sites import NewSite, add_site
from beeledger.operations.takes import NewTake, NewTakeLine, NewWeighing, Weighed, record_take, weigh_take

SPRING, TAKEN, RUN, JARRED = date(2026, 4, 1), date(2026, 5, 4), date(2026, 5, 6), date(2026, 5, 12)


@dataclass(frozen=True)
class Room:
    """The numbers of what was written."""

    sites: tuple[int, int]
    takes: tuple[int, int]
    supers: tuple[int, int]
    drums: tuple[int, ...] = ()
    tank: int = 0


def farm(ledger: Ledger) -> tuple[int, int]:
    """Two sites, two hives each, and the farm's own words for labels."""
    settings = {
        "name": "Sallow Bees", "address": ["Sallow Barn", "Nether Hay", "HR9 0ZZ"], "lot_prefix": "SB",
        "gtins": [[340, "5012345678900"]],
    }  # fmt: skip
    perform(ledger, set_farm, settings)
    sites = []
    for name, marks in (("Long Drove", ["1", "2"]), ("Low Dyke", ["3", "4"])):
        site = perform(ledger, add_site, NewSite(name)).result
        perform(ledger, found_colonies, hives_at(site, SPRING, marks))
        sites.append(site)
    return sites[0], sites[1]


def weighed(ledger: Ledger) -> Room:
    """30 kg of supers from Long Drove and 10 kg from Low Dyke have stood on the scale."""
    sites = farm(ledger)
    takes, supers = [], []
    for site, nets in zip(sites, ((18_000, 12_000), (10_000,)), strict=True):
        take = perform(ledger, record_take, NewTake(site, TAKEN, (NewTakeLine(len(nets)),))).result
        turns = tuple(Weighed(net + 7_500, 7_500) for net in nets)
        supers.append(perform(ledger, weigh_take, NewWeighing(take, TAKEN, turns)).result)
        takes.append(take)
    return Room(sites, (takes[0], takes[1]), (supers[0], supers[1]))


def extracted(ledger: Ledger, moisture: int | None = 1_760) -> Room:
    """The 40 kg are in two drums of 20 and 19 kg, less wax, and what was not found again."""
    room = weighed(ledger)
    filled = (
        Filled("drum 7", 31_500, 11_500, moisture_hundredths=moisture),
        Filled("drum 8", 30_500, 11_500, moisture_hundredths=moisture),
    )
    run = NewExtraction(RUN, room.supers, filled, (Spent("wax", 600),))
    drums = perform(ledger, extract_run, run).result
    return Room(room.sites, room.takes, room.supers, tuple(drums))


def blended(ledger: Ledger) -> Room:
    """All of both drums is in one tank: 39 kg."""
    room = extracted(ledger)
    draws = (Draw(room.drums[0], 20_000), Draw(room.drums[1], 19_000))
    tank = perform(ledger, blend, NewBlend(RUN, draws, "tank 1")).result
    return Room(room.sites, room.takes, room.supers, room.drums, tank)


def jarred(ledger: Ledger, jars: int = 100, **more: object) -> tuple[Room, int]:
    """Jars of 340 g from the tank; 1.5 g over in each, foam and one sample."""
    room = blended(ledger)
    spent = (Spent("foam", 120), Spent("sample", 342))
    drawn = jars * 340 + jars * 3 // 2 + 462
    values = {"product": "Summer 340", "drawn_g": drawn, "spent": spent} | more
    new = NewBatch(room.tank, JARRED, 340, jars, **values)  # type: ignore[arg-type]  # whatever the test names
    return room, perform(ledger, jar_batch, new).result


def weigh(ledger: Ledger, take: int, net_g: int) -> int:
    """The supers of a take on the scale."""
    return perform(ledger, weigh_take, NewWeighing(take, TAKEN, (Weighed(net_g + 7_500, 7_500),))).result


def extract(ledger: Ledger, lots: list[int], net_g: int, name: str = "drum 9") -> int:
    """One drum of these lots."""
    run = NewExtraction(RUN, tuple(lots), (Filled(name, net_g + 11_500, 11_500),))
    return perform(ledger, extract_run, run).result[0]


def tank_of(ledger: Ledger, grams: dict[int, int], name: str = "tank 1") -> int:
    """A blend."""
    draws = tuple(Draw(lot, each) for lot, each in grams.items())
    return perform(ledger, blend, NewBlend(RUN, draws, name)).result
