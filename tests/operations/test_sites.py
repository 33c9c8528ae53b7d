"""Sites as the office adds, changes and gives them up."""

from __future__ import annotations

from datetime import date

import pytest

from beeledger.base.errors import Refused
from beeledger.database.ledger import Ledger
from beeledger.model.sites import Site
from beeledger.operations.act import perform
from beeledger.operations.colonies import end_colonies, found_colonies, hives_at
from beeledger.operations.sites import NewSite, add_site, change_site, close_site
from beeledger.operations.undo import undo

DAY = date(2026, 5, 14)


def site(ledger: Ledger, site_id: int) -> Site:
    with ledger.read() as session:
        return session.get_one(Site, site_id)


def codes(refusal: pytest.ExceptionInfo[Refused]) -> list[str]:
    return [finding.code for finding in refusal.value.findings]


def test_a_site_with_a_grid_reference_gets_its_degrees(ledger: Ledger) -> None:
    # Caister water tower, TG 51409 13177, is at 52°39′28.73″ N 1°42′57.79″ E on WGS84:
    # Ordnance Survey, "A guide to coordinate systems in Great Britain"; within 5 m by the one-step change of datum.
    number = perform(ledger, add_site, NewSite("Long Drove", grid="tg5140913177")).result
    row = site(ledger, number)
    assert (row.easting_m, row.northing_m, row.grid) == (651409, 313177, "TG 51409 13177")
    assert row.latitude_e6 == pytest.approx(52_657_979, abs=60)
    assert row.longitude_e6 == pytest.approx(1_716_053, abs=90)


def test_a_site_with_degrees_gets_its_grid_reference(ledger: Ledger) -> None:
    new = NewSite("Long Drove", latitude=52.657979, longitude=1.716053)
    row = site(ledger, perform(ledger, add_site, new).result)
    assert row.easting_m == pytest.approx(651409, abs=6)
    assert row.northing_m == pytest.approx(313177, abs=6)


def test_a_site_abroad_keeps_its_degrees_alone(ledger: Ledger) -> None:
    row = site(
        ledger, perform(ledger, add_site, NewSite("Les Tilleuls", latitude=43.1, longitude=5.9)).result
    )
    assert (row.latitude_e6, row.longitude_e6, row.grid) == (43_100_000, 5_900_000, None)


def test_a_grid_reference_with_odd_figures_is_refused(ledger: Ledger) -> None:
    with pytest.raises(Refused) as refusal:
        perform(ledger, add_site, NewSite("Long Drove", grid="SO39275"))
    assert codes(refusal) == ["site.grid"]


def test_two_open_sites_never_share_a_name(ledger: Ledger) -> None:
    first = perform(ledger, add_site, NewSite("Long Drove")).result
    with pytest.raises(Refused) as refusal:
        perform(ledger, add_site, NewSite("long  drove"))
    assert codes(refusal) == ["site.name-used"]
    perform(ledger, close_site, first, DAY)
    assert perform(ledger, add_site, NewSite("Long Drove")).result != first


def test_a_code_is_made_of_the_name_and_never_twice(ledger: Ledger) -> None:
    made = [
        site(ledger, perform(ledger, add_site, NewSite(name)).result).code
        for name in ("Long Drove", "Low Dyke", "Orchard")
    ]
    assert made == ["LD", "LD1", "ORC"]


def test_a_changed_site_moves_on_the_map_and_back_by_undo(ledger: Ledger) -> None:
    number = perform(ledger, add_site, NewSite("Long Drove", grid="TG514131", capacity=20)).result
    done = perform(ledger, change_site, number, NewSite("Long Drove North", grid="TG520131", capacity=24))
    assert done.sentence == "Changed the site Long Drove, now Long Drove North"
    assert (site(ledger, number).easting_m, site(ledger, number).capacity) == (652000, 24)
    undo(ledger, done.act)
    assert (site(ledger, number).easting_m, site(ledger, number).name) == (651400, "Long Drove")


def test_a_site_where_hives_stand_is_not_given_up(ledger: Ledger) -> None:
    number = perform(ledger, add_site, NewSite("Long Drove")).result
    ids = perform(ledger, found_colonies, hives_at(number, DAY, ["7"])).result
    with pytest.raises(Refused) as refusal:
        perform(ledger, close_site, number, DAY)
    assert refusal.value.findings[0].what == "1 colony stands at Long Drove"
    perform(ledger, end_colonies, ids, DAY, "sold")
    perform(ledger, close_site, number, DAY)
    assert site(ledger, number).closed_on == DAY
