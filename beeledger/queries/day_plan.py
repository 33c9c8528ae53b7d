"""A day to plan: the sites with the work, the urgency and the roads between them, as the rules reckon it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from statistics import median

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from beeledger.base.errors import CannotNow
from beeledger.base.resources import table
from beeledger.model.rounds import Round, RoundEntry
from beeledger.model.sites import Site
from beeledger.queries.due import SiteDue, due_by_site
from beeledger.queries.farm import farm_settings
from beeledger.rules.day_plan import Problem, Stop, Van, urgency_s
from beeledger.rules.sites import Spot, distance_m, spot_at

LEARNT = timedelta(days=2 * 365)
"""How far back rounds tell how long a site takes."""


def day_problem(session: Session, on: date, site_ids: Sequence[int], vans: Sequence[Van]) -> Problem:
    """The chosen sites as stops in the order given, with home before them: five statements.

    A site where nothing is due or whose spot is not known is not among the stops. CannotNow without a home.
    """
    due = {line.site_id: line for line in due_by_site(session, on)}
    home = _home(session)
    lines = [(due[number], spot) for number in site_ids if number in due and (spot := _spot(due[number]))]
    a_hive = seconds_a_hive(session, on)
    places = [home, *(spot for _line, spot in lines)]
    factor = farm_settings(session).road_factor_hundredths
    metres = tuple(tuple(distance_m(one, other) * factor // 100 for other in places) for one in places)
    stops = tuple(_stop(line, on, a_hive) for line, _spot in lines)
    return Problem(tuple(vans), stops, metres, table("rules", "haulage.toml")["roads"]["metres_an_hour"])


def seconds_a_hive(session: Session, on: date) -> dict[int | None, int]:
    """How long a hive took at each site: the median of the posted rounds with both clocks; None: of all sites."""
    query = (
        select(Round.site_id, Round.end_minute - Round.start_minute, func.count(RoundEntry.id))
        .join(RoundEntry, RoundEntry.round_id == Round.id)
        .where(Round.end_minute > Round.start_minute, Round.on <= on, Round.on > on - LEARNT)
        .group_by(Round.id, Round.site_id, Round.end_minute, Round.start_minute)
    )
    seen: dict[int | None, list[float]] = defaultdict(list)
    for site_id, minutes, hives in session.execute(query):
        for key in (site_id, None):
            seen[key].append((minutes or 0) * 60 / hives)
    return {key: round(median(each)) for key, each in seen.items()}


def _stop(line: SiteDue, on: date, a_hive: Mapping[int | None, int]) -> Stop:
    """The site's own time a hive, else the farm's, else the shipped minutes of its reasons."""
    learnt = a_hive.get(line.site_id, a_hive.get(None))
    work = line.minutes * 60 if learnt is None else learnt * line.colonies_due
    ahead = (line.earliest_on - on).days
    return Stop(line.site_id, line.site, work, urgency_s(line.late_days, ahead))


def _home(session: Session) -> Spot:
    query = select(Site.easting_m, Site.northing_m, Site.latitude_e6, Site.longitude_e6).where(
        Site.kind == "home", Site.closed_on.is_(None)
    )
    for row in session.execute(query.order_by(Site.id)):
        if spot := spot_at(*row):
            return spot
    raise CannotNow("The vans have no home to start from.", "Give the home site its grid reference.")


def _spot(line: SiteDue) -> Spot | None:
    return spot_at(line.easting_m, line.northing_m, line.latitude_e6, line.longitude_e6)
