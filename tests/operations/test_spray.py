"""Notices of spraying: written, with the sites inside and whom to call, on Today while they run, closed, taken back."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest

from beeledger.base.clock import local_moment
from beeledger.base.errors import Refused
from beeledger.database.ledger import Ledger
from beeledger.operations.act import Done, perform
from beeledger.operations.parties import NewParty, add_party
from beeledger.operations.sites import NewSite, add_site, change_site
from beeledger.operations.spray import NewSpray, SprayDone, close_spray_notice, record_spray_notice
from beeledger.operations.undo import undo
from beeledger.queries.pressing import cannot_wait
from beeledger.queries.spray import NoticeLine, spray_at, spray_running
from beeledger.rules.sites import read_grid
from beeledger.rules.spray import choices, first_call
from tests.builders.yards import DAY, Yard, yard
from tests.queries.counting import statements

NIGHT = NewSpray(
    "Ruth Hall", read_grid("SO 4100 7500"), 1_000, DAY, 20 * 60, DAY + timedelta(days=1), 2 * 60, "an insecticide"
)  # fmt: skip


@pytest.fixture
def drove(ledger: Ledger) -> Yard:
    """Two hives 800 m east of the middle; an empty site 2 km off. Distances by Pythagoras on the grid."""
    made = yard(ledger, "Long Drove", "3", "7")
    perform(ledger, add_party, NewParty("Ruth Hall", ("grower",), phone="01568 000 111"))
    lies = NewSite("Long Drove", grid="SO 4180 7500", landholder="A Tenant")
    perform(ledger, change_site, made.site, lies)
    perform(ledger, add_site, NewSite("Far Bank", grid="SO 4100 7300"))
    return made


def written(ledger: Ledger, new: NewSpray = NIGHT) -> Done:
    return perform(ledger, record_spray_notice, new)


def running(ledger: Ledger, day: date = DAY, hour: int = 12) -> list[NoticeLine]:
    with ledger.read() as session:
        return spray_running(session, local_moment(day, hour * 60, ledger.clock.zone))


def pressing(ledger: Ledger) -> list[str]:
    with ledger.read() as session:
        found = cannot_wait(session, DAY, ledger.clock.now())
        return [f"{one.title}; {one.why}" for one in found if one.title.startswith("Spray")]


def test_a_notice_names_the_sites_inside_and_whom_to_call(drove: Yard) -> None:
    done = written(drove.ledger)
    assert done.sentence == "Spray notice from Ruth Hall, 14 to 15 May 2026, 1.0 km around a place"
    (line,) = running(drove.ledger)
    assert line.call == "Ruth Hall · 01568 000 111"
    assert [(one.site, one.metres, one.hives, one.call) for one in line.sites] == [
        ("Long Drove", 800, 2, "A Tenant")
    ]
    with drove.ledger.read() as session:
        assert spray_at(session, drove.site) == [line]


def test_it_cannot_wait_until_it_is_over_or_closed(drove: Yard) -> None:
    number = written(drove.ledger).result
    what = "an insecticide within 1.0 km, 2 hives inside; ring Ruth Hall · 01568 000 111"
    assert pressing(drove.ledger) == [f"Spray notice: Long Drove; {what}"]
    assert running(drove.ledger, DAY + timedelta(days=1), 2)
    assert not running(drove.ledger, DAY + timedelta(days=1), 3)
    perform(drove.ledger, close_spray_notice, SprayDone(number, "closed at dusk, opened at seven"))
    assert not pressing(drove.ledger)
    with drove.ledger.read() as session:
        assert spray_at(session, drove.site)[0].done == "closed at dusk, opened at seven"
    with pytest.raises(Refused, match="it was closed on"):
        perform(drove.ledger, close_spray_notice, SprayDone(number, "again"))


def test_a_notice_is_taken_back_and_is_gone(drove: Yard) -> None:
    undo(drove.ledger, written(drove.ledger).act)
    assert not running(drove.ledger)


@pytest.mark.parametrize(
    ("field", "more"),
    [
        ("given_by", {"given_by": " "}), ("middle", {"middle": None}), ("radius", {"radius_m": 0}),
        ("until_on", {"until_on": DAY, "until_minute": 20 * 60}), ("from_at", {"from_minute": 1_440}),
    ],
)  # fmt: skip
def test_what_is_missing_is_said_beside_its_field(
    sqlite_ledger: Ledger, field: str, more: dict[str, Any]
) -> None:
    with pytest.raises(Refused) as caught:
        written(sqlite_ledger, replace(NIGHT, **more))
    assert [one.where.field for one in caught.value.findings] == [field]


def test_three_notices_are_read_as_fast_as_one(drove: Yard) -> None:
    written(drove.ledger)
    with statements(drove.ledger) as one:
        running(drove.ledger)
    for _ in range(2):
        written(drove.ledger)
    with statements(drove.ledger) as three:
        assert len(running(drove.ledger)) == 3
    assert len(one) == len(three)


def test_closing_warns_of_heat_and_stings_and_moving_of_dusk() -> None:
    """The words are the farm's own file: common practice, no source."""
    said = {one.key: " ".join(one.cautions) for one in choices()}
    assert set(said) == {"nothing", "close", "move"}
    assert "overheats" in said["close"]
    assert "sting" in said["close"]
    assert "dusk" in said["move"]
    assert "label" in first_call()
