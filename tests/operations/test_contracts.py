"""Contracts, looks at the bloom and strength checks as the office writes them."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from beeledger.base.errors import Refused
from beeledger.database.ledger import Ledger
from beeledger.model.contracts import BloomLook, Contract, StrengthCheck, StrengthLine
from beeledger.model.parties import Party, PartyContact, Vehicle
from beeledger.operations.act import perform
from beeledger.operations.contracts import (
    Counted,
    NewCheck,
    NewContract,
    add_contract,
    change_contract,
    close_contract,
    record_bloom,
    record_strength_check,
)
from beeledger.operations.parties import (
    NewParty,
    NewVehicle,
    add_party,
    add_vehicle,
    change_party,
    change_vehicle,
)
from beeledger.operations.undo import undo
from tests.operations.trips import Farm, farm

APRIL = date(2026, 4, 9)
CHECKED = date(2026, 4, 20)


@pytest.fixture
def yard(ledger: Ledger) -> Farm:
    return farm(ledger)


def agreed(yard: Farm, **more: Any) -> NewContract:
    whole = NewContract(
        "Ladder Hill 2026", yard.grower, yard.sites["Ladder Hill"], "apple", 6, date(2026, 4, 10),
        date(2026, 5, 10), 4_500, least_bees_tenths=80,
    )  # fmt: skip
    return replace(whole, **more)


def codes(refusal: pytest.ExceptionInfo[Refused]) -> list[str]:
    return [finding.code for finding in refusal.value.findings]


def row(ledger: Ledger, number: int) -> Contract:
    with ledger.read() as session:
        return session.get_one(Contract, number)


def counts(yard: Farm, *pairs: tuple[str, int]) -> tuple[Counted, ...]:
    return tuple(Counted(yard.hives[mark], bees) for mark, bees in pairs)


def on_the_crop(yard: Farm) -> int:
    number = yard.contract()
    yard.post(["1", "2", "3"], "Home Yard", "Ladder Hill", APRIL, contract_id=number)
    return number


def test_a_contract_is_written_with_the_crop_by_its_code(yard: Farm) -> None:
    done = perform(yard.ledger, add_contract, agreed(yard, crop="Sweet  Cherry"))
    assert done.sentence == "Added the contract Ladder Hill 2026: 6 hives, 10 Apr to 10 May 2026"
    written = row(yard.ledger, done.result)
    assert (written.crop, written.hives, written.state) == ("cherry", 6, "agreed")


def test_a_crop_no_list_knows_is_kept_in_words(yard: Farm) -> None:
    number = perform(yard.ledger, add_contract, agreed(yard, crop="Phacelia for seed", offered=True)).result
    assert (row(yard.ledger, number).crop, row(yard.ledger, number).state) == ("Phacelia for seed", "offer")


@pytest.mark.parametrize(
    ("wrong", "code"),
    [
        ({"name": " "}, "contract.name"),
        ({"grower_id": 99}, "contract.grower"),
        ({"site_id": 99}, "contract.site"),
        ({"crop": ""}, "contract.crop"),
        ({"hives": 0}, "contract.hives"),
        ({"off": date(2026, 4, 10)}, "contract.off"),
        ({"price_pence": -1}, "contract.price"),
        ({"late_day_pence": -1}, "contract.price"),
        ({"area_m2": 0}, "contract.area"),
        ({"least_bees_tenths": 1_001}, "contract.least"),
        ({"weak_share_hundredths": 10_001}, "contract.weak"),
    ],
)
def test_a_contract_that_cannot_be_is_refused_beside_the_field(
    yard: Farm, wrong: dict[str, Any], code: str
) -> None:
    with pytest.raises(Refused) as refusal:
        perform(yard.ledger, add_contract, agreed(yard, **wrong))
    assert codes(refusal) == [code]
    assert refusal.value.findings[0].where.field == code.removeprefix("contract.")


def test_two_contracts_never_share_a_name(yard: Farm) -> None:
    number = yard.contract()
    with pytest.raises(Refused) as refusal:
        perform(yard.ledger, add_contract, agreed(yard, name="ladder hill  2026"))
    assert codes(refusal) == ["contract.name-used"]
    perform(yard.ledger, change_contract, number, agreed(yard, hives=8))
    assert row(yard.ledger, number).hives == 8


def test_a_contract_is_closed_when_the_hives_are_home_and_then_stays_as_it_is(yard: Farm) -> None:
    number = on_the_crop(yard)
    perform(yard.ledger, change_contract, number, agreed(yard, off=date(2026, 5, 20)))
    with pytest.raises(Refused) as refusal:
        perform(yard.ledger, close_contract, number)
    assert refusal.value.findings[0].what == "3 hives still stand on the crop, agreed until 20 May"
    yard.post(["1", "2", "3"], "Ladder Hill", "Home Yard", date(2026, 5, 10))
    closed = perform(yard.ledger, close_contract, number)
    with pytest.raises(Refused) as refusal:
        perform(yard.ledger, change_contract, number, agreed(yard, hives=8))
    assert codes(refusal) == ["contract.closed"]
    undo(yard.ledger, closed.act)
    assert row(yard.ledger, number).state == "agreed"


def test_a_second_look_at_the_bloom_on_a_day_replaces_the_first(yard: Farm) -> None:
    number = yard.contract()
    perform(yard.ledger, record_bloom, number, CHECKED, 400)
    done = perform(yard.ledger, record_bloom, number, CHECKED, 1_000)
    assert done.sentence == "Ladder Hill 2026: 10 % in flower on 20 Apr"
    with yard.ledger.read() as session:
        assert [look.share_hundredths for look in session.query(BloomLook)] == [1_000]
    with pytest.raises(Refused) as refusal:
        perform(yard.ledger, record_bloom, number, date(2026, 5, 15), 10_001)
    assert codes(refusal) == ["contract.future", "bloom.share"]


def test_a_strength_check_is_written_with_how_many_stood_there(yard: Farm) -> None:
    number = on_the_crop(yard)
    new = NewCheck(number, CHECKED, "RH", 7, counts(yard, ("1", 85), ("3", 70)), weather="bright")
    done = perform(yard.ledger, record_strength_check, new)
    assert done.sentence == "Ladder Hill 2026: strength check of 2 hives on 20 Apr"
    with yard.ledger.read() as session:
        check = session.get_one(StrengthCheck, done.result)
        assert (check.on_site, check.share_hundredths, check.seed) == (3, 1_000, 7)
        assert [line.bees_tenths for line in session.query(StrengthLine)] == [85, 70]


def test_a_hive_that_did_not_stand_there_is_not_counted(yard: Farm) -> None:
    number = on_the_crop(yard)
    new = NewCheck(number, CHECKED, "RH", 7, counts(yard, ("21", 85)))
    with pytest.raises(Refused) as refusal:
        perform(yard.ledger, record_strength_check, new)
    assert refusal.value.findings[0].what == "21 did not stand on the crop on 20 Apr"


def test_a_check_with_a_hive_twice_too_many_frames_or_nobody_is_refused(yard: Farm) -> None:
    number = on_the_crop(yard)
    for lines in (counts(yard, ("1", 85), ("1", 85)), counts(yard, ("1", 1_001)), counts(yard, ("1", -1))):
        with pytest.raises(Refused) as refusal:
            perform(yard.ledger, record_strength_check, NewCheck(number, CHECKED, "RH", 7, lines))
        assert codes(refusal) == ["check.count"]
    with pytest.raises(Refused) as refusal:
        perform(yard.ledger, record_strength_check, NewCheck(number, CHECKED, " ", 7, (), 0))
    assert codes(refusal) == ["check.by", "check.share", "check.empty"]


def test_what_identifies_a_grower_is_kept_apart_from_the_name(ledger: Ledger) -> None:
    number = perform(
        ledger, add_party, NewParty("Pomona Fruit", ("grower",), "A. Pear", "Mill\nNorton", "01", "a@b")
    ).result
    with ledger.read() as session:
        assert session.get_one(Party, number).is_grower
        contact = session.query(PartyContact).one()
        assert (contact.person, contact.address, contact.phone) == ("A. Pear", "Mill\nNorton", "01")
    perform(ledger, change_party, number, NewParty("Pomona Fruit", ("grower", "customer")))
    with ledger.read() as session:
        assert session.get_one(Party, number).is_customer
        assert session.query(PartyContact).one().person is None


def test_two_parties_or_two_vehicles_never_share_a_name(ledger: Ledger) -> None:
    perform(ledger, add_party, NewParty("Pomona Fruit", ("grower",)))
    with pytest.raises(Refused) as refusal:
        perform(ledger, add_party, NewParty("pomona fruit", ("king",)))
    assert codes(refusal) == ["party.role", "party.name-used"]
    van = perform(ledger, add_vehicle, NewVehicle("Van", 12)).result
    with pytest.raises(Refused) as refusal:
        perform(ledger, add_vehicle, NewVehicle("van", 0, -1))
    assert codes(refusal) == ["vehicle.places", "vehicle.payload", "vehicle.name-used"]
    perform(ledger, change_vehicle, van, NewVehicle("Van", 20, 900_000, "AB12 CDE"))
    with ledger.read() as session:
        row = session.get_one(Vehicle, van)
        assert (row.places, row.payload_g, row.registration) == (20, 900_000, "AB12 CDE")
