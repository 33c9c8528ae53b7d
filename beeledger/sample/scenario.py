"""The scenario: the readable files of ``sample_db`` as frozen records, cut to the size that was asked for."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import product
from pathlib import Path
from typing import Any

_PACKAGE = Path(__file__).resolve().parent.parent
_INSIDE = _PACKAGE / "sample_db"
FOLDER = _INSIDE if _INSIDE.is_dir() else _PACKAGE.parent / "sample_db"
"""In a checkout beside the package, in a wheel inside it."""
MonthDay = tuple[int, int]
_ROOM = 1.15
"""Room in the yards for each colony: they are never all full."""
_MAP = 9_800
"""Tens of metres that the grid references of one square of the map go up to, with something left over."""


@dataclass(frozen=True, slots=True)
class SitePlan:
    """A site as the scenario has it; ``flows`` in hundredths of the year's flows."""

    name: str
    code: str
    grid: str
    capacity: int
    flows: Mapping[str, int]
    kind: str = "out"
    landholder: str = ""
    rent_jars: int | None = None
    rent_pence: int | None = None
    way_in: str = ""
    forage: str = ""


@dataclass(frozen=True, slots=True)
class VisitPlan:
    """A round of all sites: on which day it begins, over how many days it goes, what is done."""

    name: str
    first: MonthDay
    days: int
    work: frozenset[str]
    only: frozenset[str] = frozenset()
    """The codes of the sites it is for; empty: all."""
    but: frozenset[str] = frozenset()
    from_colonies: int = 0
    """The least size of a farm that goes on this round."""

    def is_for(self, site: SitePlan) -> bool:
        """Whether this round goes to a site."""
        return site.code in self.only or (not self.only and site.code not in self.but)


@dataclass(frozen=True, slots=True)
class FlowPlan:
    """A flow of nectar: from day to day, grams that a strong colony gathers on a good day."""

    name: str
    first: MonthDay
    last: MonthDay
    g_per_day: int


@dataclass(frozen=True, slots=True)
class TripPlan:
    """Hives to a crop and home again every year; without ``contract`` for the forage alone."""

    site: str
    hives: int
    on: MonthDay
    off: MonthDay
    contract: str = ""
    grower: str = ""
    crop: str = ""
    price_pence: int = 0
    area_m2: int | None = None
    least_bees_tenths: int | None = None
    least_brood_tenths: int | None = None
    weak_share_hundredths: int = 0
    bonus_frame_pence: int = 0


@dataclass(frozen=True, slots=True)
class Biology:
    """What a colony does by itself; see ``year.toml``."""

    brood_tenths: tuple[int, ...]
    life_days: tuple[int, ...]
    mites_at_opening: tuple[int, int]
    temper_shares: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Scenario:
    """The whole scenario. ``first_day`` opens the record, ``today`` is the evening it is looked at."""

    today: date
    first_day: date
    seasons: int
    colonies: int
    opening_share_hundredths: int
    seed: int
    settings: Mapping[str, Any]
    crew: tuple[str, ...]
    crew_names: Mapping[str, str]
    vehicles: tuple[Mapping[str, Any], ...]
    medicines: tuple[Mapping[str, Any], ...]
    parties: tuple[Mapping[str, Any], ...]
    queen_lines: tuple[str, ...]
    sites: tuple[SitePlan, ...]
    visits: tuple[VisitPlan, ...]
    flows: tuple[FlowPlan, ...]
    trips: tuple[TripPlan, ...]
    biology: Biology
    honey: Mapping[str, Any]

    @property
    def yards(self) -> tuple[SitePlan, ...]:
        """The sites where colonies stand all year."""
        return tuple(site for site in self.sites if site.kind != "crop")


def read_scenario(
    *, colonies: int | None = None, sites: int | None = None, seasons: int | None = None
) -> Scenario:
    """The scenario of ``sample_db``, or one of another size in the same manner.

    ValueError for a farm of no colony, no site or no season.
    """
    farm, places, year, honey = (_read(name) for name in ("farm", "sites", "year", "honey"))
    today: date = farm["today"]
    many = colonies if colonies is not None else int(farm["colonies"])
    years = seasons if seasons is not None else int(farm["seasons"])
    if min(many, years, sites if sites is not None else 1) < 1:
        raise ValueError("a farm has a colony, a site and a season at least")
    scale = many / int(farm["colonies"])
    plans = _roomy(_sites(places, sites), many, scale)
    there = {site.code for site in plans}
    return Scenario(
        today=today,
        first_day=date(today.year - years + 1, *_day(farm["opening"]["day"])),
        seasons=years,
        colonies=many,
        opening_share_hundredths=farm["opening"]["share_hundredths"],
        seed=farm["seed"],
        settings=farm["settings"],
        crew=tuple(row["initials"] for row in farm["crew"]),
        crew_names={row["initials"]: row["name"] for row in farm["crew"]},
        vehicles=tuple(farm["vehicle"]),
        medicines=tuple({**row, "pieces": _more_of(row["pieces"], scale)} for row in farm["medicine"]),
        parties=tuple(farm["party"]),
        queen_lines=tuple(farm["queens"]["lines"]),
        sites=plans,
        visits=tuple(visit for visit in map(_visit, year["visit"]) if many >= visit.from_colonies),
        flows=tuple(_flow(row) for row in year["flow"]),
        trips=tuple(_trip(row, scale) for row in year["crops"]["trip"] if row["site"] in there),
        biology=_biology(year["colony"]),
        honey=_sold(honey, scale),
    )


def _read(name: str) -> dict[str, Any]:
    with (FOLDER / f"{name}.toml").open("rb") as file:
        return tomllib.load(file)


def _day(text: str) -> MonthDay:
    month, day = text.split("-")
    return int(month), int(day)


def _sites(places: Mapping[str, Any], wanted: int | None) -> tuple[SitePlan, ...]:
    named = [SitePlan(**row) for row in places["site"]]
    if wanted is None or wanted == len(named):
        return tuple(named)
    yards = [site for site in named if site.kind != "crop"]
    crops = [site for site in named if site.kind == "crop"]
    crops = crops[: max(min(1, wanted // 2), wanted * len(crops) // len(named))]
    if wanted < len(named):
        return (*yards[: wanted - len(crops)], *crops)
    return (*yards, *_more(yards, places["more"], wanted - len(named)), *crops)


def _roomy(sites: Sequence[SitePlan], colonies: int, scale: float) -> tuple[SitePlan, ...]:
    """Sites with room for so many colonies, where there are more than the yards as written out can hold."""
    yards = sum(site.capacity for site in sites if site.kind != "crop")
    share = max(1.0, colonies * _ROOM / yards)
    return tuple(
        replace(site, capacity=round(site.capacity * (share if site.kind != "crop" else max(1.0, scale))))
        for site in sites
    )


def _more_of(many: int, scale: float) -> int:
    """What a larger farm buys, fills or sells where the one written out has ``many``."""
    return many if scale <= 1 else round(many * scale)


def _sold(honey: Mapping[str, Any], scale: float) -> dict[str, Any]:
    """The honey room's plan for a farm of another size: more drums jarred and sold, more cartons to a shop."""
    sales = honey["sales"]
    return {
        **honey,
        "jarring": [{**row, "drums": _more_of(row["drums"], scale)} for row in honey["jarring"]],
        "sales": {
            **sales,
            "cartons": [_more_of(many, scale) for many in sales["cartons"]],
            "bulk": [{**row, "drums": _more_of(row["drums"], scale)} for row in sales["bulk"]],
        },
    }


def _more(like: Sequence[SitePlan], names: Mapping[str, Any], number: int) -> list[SitePlan]:
    """More sites in the manner of those that are written out, further off on the same map."""
    words = list(product(names["tails"], names["heads"]))
    more = []
    for place in range(max(0, number)):
        tail, head = words[place % len(words)]
        again = place // len(words)
        name = f"{head} {tail}" + (f" {again + 1}" if again else "")
        row, column = divmod(place, 16)
        north = 150 + row * 390 + column * 97 % 4000
        # Off the top of the square it begins again at the bottom, between those that are there.
        grid = f"SK {300 + column * 217 + north // _MAP * 61:04d} {north % _MAP:04d}"
        pattern = like[place % len(like)]
        more.append(replace(pattern, name=name, code=f"M{place + 1}", grid=grid, kind="out"))
    return more


def _visit(row: Mapping[str, Any]) -> VisitPlan:
    work, only, but = (frozenset(row.get(key, ())) for key in ("work", "only", "but"))
    from_colonies = row.get("from_colonies", 0)
    return VisitPlan(row["name"], _day(row["first"]), row["days"], work, only, but, from_colonies)


def _flow(row: Mapping[str, Any]) -> FlowPlan:
    return FlowPlan(row["name"], _day(row["first"]), _day(row["last"]), row["g_per_day"])


def _trip(row: Mapping[str, Any], scale: float) -> TripPlan:
    hives = max(1, round(row["hives"] * scale))
    return TripPlan(**{**row, "hives": hives, "on": _day(row["on"]), "off": _day(row["off"])})


def _biology(row: Mapping[str, Any]) -> Biology:
    return Biology(
        tuple(row["brood_tenths"]),
        tuple(row["life_days"]),
        (row["mites_at_opening"][0], row["mites_at_opening"][1]),
        tuple(row["temper_shares"]),
    )
