"""What cannot wait in the morning, and where to go."""

from __future__ import annotations

from datetime import date

import pytest

from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.colonies import found_colonies, hives_at
from beeledger.operations.contracts import NewContract, add_contract
from beeledger.operations.parties import NewParty, add_party
from beeledger.operations.sites import NewSite, add_site
from beeledger.queries.pressing import Morning, Pressing, morning
from beeledger.rules.rounds.entry import CellStage, Entry, Outcome
from tests.builders.yards import DAY, Yard, strips, yard
from tests.queries.counting import statements

MARCH, MAY_4 = date(2026, 3, 24), date(2026, 5, 4)


@pytest.fixture
def drove(ledger: Ledger) -> Yard:
    return yard(ledger, "Long Drove", "3", "7", "12")


def at(ledger: Ledger, day: date = DAY) -> Morning:
    with ledger.read() as session:
        return morning(session, day, ledger.clock.now())


def titles(ledger: Ledger, day: date = DAY) -> list[str]:
    return [one.title for one in at(ledger, day).pressing]


def contract(ledger: Ledger, site: int, hives: int, on: date) -> int:
    grower = perform(ledger, add_party, NewParty(f"Grower {on}", ("grower",))).result
    new = NewContract(
        name=f"Apple {on.day}", grower_id=grower, site_id=site, crop="apple", hives=hives, on=on,
        off=date(2026, 6, 30), price_pence=4_000,
    )  # fmt: skip
    return int(perform(ledger, add_contract, new).result)


def test_a_new_farm_has_nothing_pressing(ledger: Ledger):
    found = at(ledger)
    assert (found.sites, found.pressing, found.home) == ((), (), None)


def test_strips_past_their_day_are_named_with_their_site(drove: Yard):
    strips(drove.ledger)
    course = Entry(outcome=Outcome.LOOKED, medicine_in="Fen strips", medicine_in_count=2)
    drove.post(MARCH, h3=course, h7=course)
    (one,) = [one for one in at(drove.ledger).pressing if one.title.startswith("Strips")]
    # Six weeks from 24 March are over on 5 May.
    assert one == Pressing(
        "late", "Strips still in, Long Drove", "2 colonies; no supers for harvest until they are out",
        date(2026, 5, 5), "rounds", "Long Drove",
    )  # fmt: skip


def test_strips_within_their_course_do_not_press(drove: Yard):
    strips(drove.ledger)
    drove.post(MARCH, h3=Entry(outcome=Outcome.LOOKED, medicine_in="Fen strips", medicine_in_count=2))
    assert not [title for title in titles(drove.ledger, date(2026, 5, 5)) if title.startswith("Strips")]


def test_sealed_cells_with_nothing_done_press(drove: Yard):
    drove.post(MAY_4, h3=Entry(outcome=Outcome.LOOKED, cells_stage=CellStage.SEALED))
    assert "Queen cells with nothing done, Long Drove" in titles(drove.ledger)


def nuclei(ledger: Ledger) -> None:
    """Nuclei have no swarm check: what falls due at one nobody opens is the look itself."""
    site = perform(ledger, add_site, NewSite("Low Dyke")).result
    perform(ledger, found_colonies, hives_at(site, MARCH, ["31", "32"], kind="nucleus"))


def test_hives_nobody_looked_at_for_long_are_odd_and_not_late(ledger: Ledger):
    nuclei(ledger)
    (one,) = [one for one in at(ledger).pressing if one.title.startswith("No one")]
    assert (one.grade, one.title) == ("odd", "No one has looked, Low Dyke")
    assert one.why.startswith("2 colonies")


def test_a_contract_near_with_hives_short_is_named_and_one_far_off_is_not(drove: Yard):
    crop = perform(drove.ledger, add_site, NewSite("Orchard", kind="crop")).result
    near = contract(drove.ledger, crop, 24, date(2026, 5, 18))
    contract(drove.ledger, crop, 24, date(2026, 6, 20))
    (one,) = [one for one in at(drove.ledger).pressing if one.place == "pollination"]
    assert (one.title, one.when_on, one.what, one.grade) == (
        "Apple 18: 24 hives short", date(2026, 5, 18), near, "late",
    )  # fmt: skip


def test_a_permission_that_ended_presses_only_while_hives_stand_there(ledger: Ledger):
    place = yard(ledger, "Long Drove", "3")
    from beeledger.operations.sites import change_site

    perform(ledger, change_site, place.site, NewSite("Long Drove", permission_until=date(2026, 5, 1)))
    perform(ledger, add_site, NewSite("Low Dyke", permission_until=date(2026, 5, 1)))
    (one,) = [one for one in at(ledger).pressing if one.place == "sites"]
    assert (one.title, one.grade) == ("Permission ended, Long Drove", "late")


def test_what_is_late_comes_before_what_is_due_and_what_is_odd(drove: Yard):
    drove.post(MAY_4, h3=Entry(outcome=Outcome.LOOKED, cells_stage=CellStage.SEALED))
    nuclei(drove.ledger)
    grades = [one.grade for one in at(drove.ledger).pressing]
    assert grades == sorted(grades, key=("late", "today", "odd").index)
    assert {"late", "odd"} <= set(grades)


def test_home_and_quiet_sites_are_there_for_the_map(drove: Yard):
    perform(drove.ledger, add_site, NewSite("Home", grid="SO 400 600", kind="home"))
    quiet = perform(drove.ledger, add_site, NewSite("Low Dyke", grid="SO 430 640")).result
    found = at(drove.ledger, MARCH)
    assert found.home == ("Home", 340_000, 260_000)
    assert found.places == ((quiet, "Low Dyke", 343_000, 264_000),)


def test_the_morning_of_one_site_and_of_three_is_asked_for_alike(ledger: Ledger):
    said = []
    for number in (1, 2, 3):
        place = yard(ledger, f"Site {number}", str(number))
        contract(ledger, place.site, 10, date(2026, 5, 14 + number))
        place.post(MAY_4, **{f"h{number}": Entry(outcome=Outcome.LOOKED, cells_stage=CellStage.SEALED)})
        with statements(ledger) as asked, ledger.read() as session:
            morning(session, DAY, ledger.clock.now())
        said.append(len(asked))
    assert len(set(said)) == 1
