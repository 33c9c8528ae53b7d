"""The rounds of the sample: which sites on which day, and each posted as the crew's sheet says."""

from __future__ import annotations

import uuid
from collections import defaultdict
from collections.abc import Mapping, Sequence
from datetime import date, timedelta

from beeledger.operations.hiving import hive_up
from beeledger.operations.queens import NewQueen, put_queen
from beeledger.operations.rounds import Line, RoundToPost, post_round
from beeledger.queries.rounds import elsewhere
from beeledger.rules.rounds.entry import Outcome
from beeledger.sample.crew import Call, Splits, look_into
from beeledger.sample.farm import Farm
from beeledger.sample.hive import Hive, Reign
from beeledger.sample.opening import draw_temper
from beeledger.sample.scenario import Scenario, SitePlan, VisitPlan

BELIEVED = frozenset({"rounds.queen_in_queenless", "rounds.other_colour", "rounds.out_never_in"})
"""What the office takes over from the sheet when the record says otherwise."""
_LATE = 1.06
"""More colonies than wanted in the end, before each winter."""

Calendar = Mapping[date, Sequence[tuple[SitePlan, VisitPlan]]]
"""Which sites are visited for what, by day."""


def calendar(scenario: Scenario) -> Calendar:
    """Which sites are visited for what, by day, over the whole life of the sample."""
    found: dict[date, list[tuple[SitePlan, VisitPlan]]] = defaultdict(list)
    for year in range(scenario.first_day.year, scenario.today.year + 1):
        for visit in scenario.visits:
            first = date(year, *visit.first)
            sites = [site for site in scenario.sites if visit.is_for(site)]
            for place, site in enumerate(sites):
                day = first + timedelta(days=place * visit.days // len(sites))
                # Nobody drives on a Sunday; the last evening's rounds are still to be typed.
                day += timedelta(days=day.weekday() == 6)
                if scenario.first_day < day < scenario.today:
                    found[day].append((site, visit))
    return found


def visit_site(
    farm: Farm, site: SitePlan, visit: VisitPlan, day: date, start_minute: int, weather: float
) -> int:
    """Visit every hive of a site and post the round; returns the minutes it took."""
    hives = farm.hives[site.code]
    if not hives:
        return 0
    _hive_up(farm, hives, visit, day)
    neighbour = max((h for h in hives if _takes_others(h)), key=lambda h: h.bees, default=None)
    made = 0

    def next_mark() -> str:
        nonlocal made
        made += 1
        return farm.next_mark(day)

    alive = farm.alive
    splits = Splits(lambda: _more_wanted(farm, site, alive, made, day), next_mark)
    calls = [Call(day, visit.work, farm.dice, splits, neighbour) for _ in hives]
    lines = tuple(
        Line(look_into(hive, call), colony_id=hive.id, accepted=BELIEVED)
        for hive, call in zip(hives, calls, strict=True)
    )
    minutes = round(6 + len(hives) * (4.2 if "look" in visit.work else 1.4))
    _post(farm, site, day, lines, start_minute, minutes, weather)
    _take_in(farm, site, hives, calls, lines, day)
    return minutes


def _takes_others(hive: Hive) -> bool:
    return hive.kind == "full" and hive.reign is Reign.RIGHT and not hive.dead and hive.bees > 5


def _more_wanted(farm: Farm, site: SitePlan, alive: int, made: int, day: date) -> bool:
    """Whether one more colony is wanted here: the farm is short of them, and the yard has room."""
    room = site.kind != "crop" and len(farm.hives[site.code]) + made < site.capacity
    last = day.year == farm.scenario.today.year
    return room and alive + made < farm.scenario.colonies * (1 if last else _LATE)


def _post(
    farm: Farm, site: SitePlan, day: date, lines: Sequence[Line], start: int, minutes: int, weather: float
) -> None:
    crew = " ".join(farm.dice.sample(farm.scenario.crew, 2))
    new = RoundToPost(
        uid=str(uuid.UUID(int=farm.dice.getrandbits(128), version=4)), site_id=farm.site_ids[site.code], on=day,
        lines=tuple(lines), start_minute=start, end_minute=min(start + minutes, 23 * 60), crew=crew,
        weather=_weather_words(weather, day), source="sample",
    )  # fmt: skip
    farm.diary.do(post_round, new)
    farm.rounds += 1


def _weather_words(weather: float, day: date) -> str:
    warmth = (4, 5, 8, 12, 15, 18, 20, 20, 16, 12, 8, 5)[day.month - 1] + round(6 * (weather - 0.5))
    sky = (
        "rain about"
        if weather < 0.3
        else "cloudy"
        if weather < 0.55
        else "sunny spells"
        if weather < 0.8
        else "sunny"
    )
    return f"{sky}, {warmth} °C"


def _take_in(
    farm: Farm, site: SitePlan, hives: Sequence[Hive], calls: Sequence[Call], lines: Sequence[Line], day: date
) -> None:
    """What the round changed: colonies split off, united, found dead; queens found and marked."""
    here = farm.hives[site.code] = [
        hive
        for hive, line in zip(hives, lines, strict=True)
        if line.entry.outcome is not Outcome.DEAD and not line.entry.united_into
    ]
    for hive in [hive for hive in hives if hive not in here]:
        farm.free_mark(hive.mark, day)
    made = [(hive, call) for hive, call in zip(hives, calls, strict=True) if call.new is not None]
    if made:
        _split_off(farm, site, made, day)
    for hive, call in zip(hives, calls, strict=True):
        if call.queen_found:
            queen = NewQueen(hatch_year=hive.queen_year, marked=True)
            farm.diary.do(put_queen, hive.id, queen, day, "superseded or swarmed")
        elif hive.reign is Reign.QUEENLESS and hive.known_year is not None and hive in here:
            hive.known_year = None  # the round ended her on the record
    _requeen(farm, here, day)


def _split_off(farm: Farm, site: SitePlan, made: Sequence[tuple[Hive, Call]], day: date) -> None:
    marks = [call.new[0] for _, call in made if call.new]
    with farm.diary.ledger.read() as session:
        known = elsewhere(session, marks)
    for parent, call in made:
        assert call.new is not None
        mark, bees, reign = call.new
        own = reign is Reign.RIGHT  # the old queen went along
        farm.hives[site.code].append(
            Hive(
                id=known[mark].colony_id, mark=mark, site=site, vigour=max(0.6, farm.dice.gauss(1, 0.1)),
                temper=draw_temper(farm.scenario, farm.dice), mite_pace=max(0.4, farm.dice.gauss(1, 0.11)), hoard=max(4.0, farm.dice.gauss(9, 2.2)),
                queen_year=parent.queen_year, bees=bees, brood=bees * 0.6, stores=4.0, mites=parent.mites * 0.2,
                kind="nucleus", marked=own and parent.marked,
                known_year=parent.known_year if own else None, reign=reign, since=day, treated=parent.treated,
            )
        )  # fmt: skip
        if own:
            parent.known_year = None


def _hive_up(farm: Farm, hives: Sequence[Hive], visit: VisitPlan, day: date) -> None:
    if "hive up" not in visit.work:
        return
    ready = [hive for hive in hives if hive.kind == "nucleus" and not hive.dead and hive.bees > 4.4]
    if ready:
        farm.diary.do(hive_up, [hive.id for hive in ready], day)
    for hive in ready:
        hive.kind = "full"


def _requeen(farm: Farm, hives: Sequence[Hive], day: date) -> None:
    """Queens at hand go to some of the hives found without one, while the season lasts."""
    for hive in hives:
        if hive.reign is Reign.QUEENLESS and 5 <= day.month <= 8 and farm.dice.random() < 0.6:
            queen = farm.breeder.at_hand(day, farm.dice.choice(farm.scenario.queen_lines))
            farm.diary.do(put_queen, hive.id, queen, day, "found queenless")
            hive.reign, hive.since, hive.queen_year, hive.known_year, hive.marked = (
                Reign.RIGHT, day, day.year, day.year, True,
            )  # fmt: skip
