"""How the sample farm stood when its record began: settings, people, sites, and the hives on them."""

from __future__ import annotations

from random import Random

from beeledger.base.units import share_out
from beeledger.operations.colonies import Boxes, NewColony, found_colonies
from beeledger.operations.crew import add_crew_member
from beeledger.operations.farm import set_farm
from beeledger.operations.medicines import NewMedicine, add_medicine
from beeledger.operations.parties import NewParty, NewVehicle, add_party, add_vehicle
from beeledger.operations.queens import NewQueen
from beeledger.operations.sites import NewSite, add_site
from beeledger.sample.farm import Farm
from beeledger.sample.hive import Hive
from beeledger.sample.scenario import Scenario, SitePlan

NATIONAL = Boxes("National", 1, 11, "national_brood", 0, 10)


def open_farm(farm: Farm) -> None:
    """Write the farm as it was on the first day of its record."""
    scenario, do = farm.scenario, farm.diary.do
    do(set_farm, dict(scenario.settings))
    for row in scenario.parties:
        party = NewParty(row["name"], roles=tuple(row["roles"]), address=row.get("address", ""))
        farm.parties[row["name"]] = do(add_party, party)
    for initials in scenario.crew:
        do(add_crew_member, initials, scenario.crew_names[initials])
    for row in sorted(scenario.vehicles, key=lambda row: -int(row["places"])):
        vehicle = NewVehicle(row["name"], row["places"], row["payload_g"], row["registration"])
        farm.vehicles.append((do(add_vehicle, vehicle), row["places"]))
    for site in scenario.sites:
        farm.site_ids[site.code] = _open_site(farm, site)
        farm.hives[site.code] = []
    buy_medicines(farm)
    farm.breeder.enter_mothers(farm.diary, scenario.queen_lines)
    _bring_hives(farm)


def buy_medicines(farm: Farm) -> None:
    """The packs of a year, each with its batch and expiry."""
    year = farm.diary.clock.today().year
    supplier = next(row for row in farm.scenario.parties if "supplier" in row["roles"])
    for number, row in enumerate(farm.scenario.medicines, start=1):
        bought = farm.diary.clock.today()
        pack = NewMedicine(
            row["product"], row["active"], batch=f"{year % 100}{number}{farm.dice.randint(1000, 9999)}",
            expires_on=bought.replace(year=year + 2, month=6, day=30), acquired_on=bought, pieces=row["pieces"],
            withdrawal_days=row["withdrawal_days"], supplier=supplier["name"], supplier_address=supplier["address"],
            proof=f"invoice {year}-{farm.dice.randint(100, 999)}", usual=row["usual"],
        )  # fmt: skip
        farm.diary.do(add_medicine, pack)


def _open_site(farm: Farm, site: SitePlan) -> int:
    landholder = None
    if site.landholder:
        if site.landholder not in farm.parties:
            party = NewParty(site.landholder, roles=("landholder",))
            farm.parties[site.landholder] = farm.diary.do(add_party, party)
        landholder = farm.parties[site.landholder]
    new = NewSite(
        site.name, code=site.code, kind=site.kind, grid=site.grid, landholder_id=landholder,
        rent_jars=site.rent_jars, rent_pence=site.rent_pence, capacity=site.capacity, way_in=site.way_in or None,
        forage=site.forage or None,
    )  # fmt: skip
    return int(farm.diary.do(add_site, new))


def _bring_hives(farm: Farm) -> None:
    scenario = farm.scenario
    yards = scenario.yards
    number = max(1, scenario.colonies * scenario.opening_share_hundredths // 10_000)
    shares = share_out(number, [site.capacity for site in yards])
    for site, many in zip(yards, shares, strict=True):
        if not many:
            continue
        hives = [_hive(farm, site) for _ in range(many)]
        new = [_founding(farm, hive, stand) for stand, hive in enumerate(hives, start=1)]
        for hive, colony_id in zip(hives, farm.diary.do(found_colonies, new), strict=True):
            hive.id = colony_id
        farm.hives[site.code] = hives


def _hive(farm: Farm, site: SitePlan) -> Hive:
    dice, day = farm.dice, farm.scenario.first_day
    year = day.year - dice.choices((1, 2, 3), (56, 36, 8))[0]
    low, high = farm.scenario.biology.mites_at_opening
    return Hive(
        id=0, mark=farm.next_mark(day), site=site, vigour=max(0.6, dice.gauss(1, 0.11)),
        temper=draw_temper(farm.scenario, dice), mite_pace=max(0.4, dice.gauss(1, 0.11)), hoard=max(4.0, dice.gauss(9, 2.2)), queen_year=year, bees=max(2.5, dice.gauss(5.5, 1.4)),
        brood=max(0.8, dice.gauss(2.4, 0.7)), stores=max(3.0, dice.gauss(8.5, 2.5)),
        mites=dice.uniform(low, high), marked=dice.random() < 0.86, known_year=year, since=day,
    )  # fmt: skip


def draw_temper(scenario: Scenario, dice: Random) -> int:
    """How a colony is to work with, from 1 to 5."""
    return dice.choices((1, 2, 3, 4, 5), scenario.biology.temper_shares)[0]


def _founding(farm: Farm, hive: Hive, stand: int) -> NewColony:
    clipped = hive.marked and farm.dice.random() < 0.2
    line = farm.dice.choice(farm.scenario.queen_lines) if farm.dice.random() < 0.6 else None
    tag, dam = farm.breeder.opening(hive.queen_year, line if hive.marked else None)
    queen = NewQueen(hive.queen_year, hive.marked, clipped, tag, line, dam_id=dam)
    site_id = farm.site_ids[hive.site.code]
    return NewColony(
        hive.mark, site_id, farm.scenario.first_day, queen=queen, boxes=NATIONAL, stand=stand, minute=6 * 60
    )
