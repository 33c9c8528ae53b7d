"""The route card of a plan: where the vans go, with ways in and whom to call."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from beeledger.base.errors import CannotNow
from beeledger.base.resources import table
from beeledger.model.due import Due
from beeledger.model.parties import Party, PartyContact
from beeledger.model.sites import Site
from beeledger.queries.day_plan import day_problem
from beeledger.queries.due import due_by_site
from beeledger.queries.parties import list_vehicles
from beeledger.queries.records.route_card import RouteCard, RouteStop, RouteVan
from beeledger.rules.day_load import cautions, take_along
from beeledger.rules.day_plan import Lanes, Problem, Tour, Van, left_out, tours, why_left
from beeledger.rules.day_tours import proposed
from beeledger.rules.due import default_settings


def route_card(session: Session, on: date, problem: Problem, lanes: Lanes) -> RouteCard:
    """The card of a plan as it stands: five statements. Vans that stay at home are not on it."""
    keys = [stop.key for stop in problem.stops]
    sites = {row.id: row for row in session.execute(_sites(keys))}
    words = {line.site_id: line.words for line in due_by_site(session, on)}
    reasons = _reasons(session, on, keys)
    vans = [_van(problem, each, sites, words, reasons) for each in tours(problem, lanes) if each.visits]
    left = [(problem.stops[at].name, why_left(problem, lanes, at)) for at in left_out(problem, lanes)]
    return RouteCard(on, tuple(vans), tuple(left))


def proposed_card(session: Session, on: date) -> RouteCard:
    """The card of a day to every site where something is due, with every van at the usual hours.

    CannotNow where there is no van, no home, or no site to go to.
    """
    hours = table("rules", "day_plan.toml")["hours"]
    starts, ends = hours["starts_minute"] * 60, hours["ends_minute"] * 60
    vans = [
        Van(each.name, starts, ends, each.payload_g)
        for each in list_vehicles(session)
        if each.retired_on is None
    ]
    if not vans:
        raise CannotNow("No van is in the record.", "Add one in Settings, under Vehicles.")
    due = [line.site_id for line in due_by_site(session, on)]
    problem = day_problem(session, on, due, vans)
    if not problem.stops:
        raise CannotNow("No site with a grid reference has anything due on that day.")
    return route_card(session, on, problem, proposed(problem))


def _sites(keys: Sequence[int]) -> Any:
    return (
        select(
            Site.id,
            Site.grid,
            Site.way_in,
            Party.name.label("holder"),
            PartyContact.person,
            PartyContact.phone,
        )
        .outerjoin(Party, Party.id == Site.landholder_id)
        .outerjoin(PartyContact, PartyContact.party_id == Party.id)
        .where(Site.id.in_(keys))
    )


def _reasons(session: Session, on: date, keys: Sequence[int]) -> dict[int, Counter[str]]:
    """How often each reason is due at each site, as far ahead as Today looks."""
    until = on + timedelta(days=default_settings().soon_days)
    query = (
        select(Due.site_id, Due.code, func.count())
        .where(Due.due_on <= until, Due.site_id.in_(keys))
        .group_by(Due.site_id, Due.code)
    )
    found: dict[int, Counter[str]] = {key: Counter() for key in keys}
    for site_id, code, count in session.execute(query):
        if site_id is not None:
            found[site_id][code] = count
    return found


def _van(
    problem: Problem,
    made: Tour,
    sites: Mapping[int, Any],
    words: Mapping[int, str],
    reasons: Mapping[int, Counter[str]],
) -> RouteVan:
    van = problem.vans[made.van]
    stops, load = [], Counter[str]()
    for visit in made.visits:
        stop = problem.stops[visit.stop]
        site = sites[stop.key]
        load.update(reasons[stop.key])
        stops.append(
            RouteStop(
                stop.name, site.grid or "", site.way_in or "",
                ", ".join(part for part in (site.person or site.holder, site.phone) if part),
                visit.begin_s, visit.leave_s, visit.metres, words.get(stop.key, ""),
            )
        )  # fmt: skip
    return RouteVan(
        van.name,
        van.crew,
        made.start_s,
        made.home_s,
        made.metres,
        tuple(stops),
        take_along(load),
        cautions(load),
    )
