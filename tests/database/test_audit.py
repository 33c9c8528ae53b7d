"""The audit cannot be forgotten: no write without an act, and images that tell exactly what was and is."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta, timezone
from typing import Any

import pytest
from sqlalchemy import delete, insert, select, text, update
from sqlalchemy.exc import DBAPIError

from beeledger.base.errors import CannotNow
from beeledger.database.audit import OpenAct, columns_of, pack, plain, unpack
from beeledger.database.checking.check import check_ledger
from beeledger.database.ledger import Ledger
from beeledger.model.acts import Act, ActImage
from beeledger.model.base import Base, Kept
from beeledger.model.colonies import Colony, Placement
from beeledger.model.parties import Party, PartyContact
from beeledger.model.sites import Site
from beeledger.operations.act import perform
from beeledger.operations.parties import NewParty, add_party
from beeledger.operations.sites import NewSite, add_site, change_site
from tests.builders.yards import rows, whole, yard


def images(ledger: Ledger, act: int) -> dict[str, list[Any]]:
    with ledger.read() as session:
        found = session.execute(select(ActImage.table, ActImage.image).where(ActImage.act_id == act))
        return {table: unpack(image) for table, image in found}


def test_nothing_is_written_outside_an_act(ledger: Ledger) -> None:
    with ledger.read() as session:
        session.add(Site(code="A", name="Long Drove"))
        with pytest.raises(RuntimeError, match="nothing is written outside an act"):
            session.flush()


def test_a_reading_session_could_not_write_even_past_the_audit(ledger: Ledger) -> None:
    with pytest.raises((CannotNow, DBAPIError), match=r"(?i)not written|read-only"), ledger.read() as session:
        session.connection().execute(insert(Site), [{"code": "A", "name": "B", "kind": "out", "version": 1}])
    assert rows(ledger, Site) == []


@pytest.mark.parametrize(
    "statement",
    [
        insert(Site).values(code="A", name="B", kind="out", version=1),
        update(Site).values(name="C"),
        delete(Site),
        text("DELETE FROM site"),
        text("  update site set name = 'C'"),
        text("DROP TABLE site"),
        text("WITH gone AS (DELETE FROM site RETURNING id) SELECT * FROM gone"),
    ],
)
def test_a_statement_past_the_session_is_refused(ledger: Ledger, statement: Any) -> None:
    perform(ledger, add_site, NewSite("Long Drove"))

    def sneak(act: OpenAct) -> str:
        act.session.execute(statement)
        return "never"

    with pytest.raises(RuntimeError, match="so that the audit sees them"):
        perform(ledger, sneak)
    assert [site.name for site in rows(ledger, Site)] == ["Long Drove"]


def test_an_act_left_by_an_error_has_not_happened(ledger: Ledger) -> None:
    before = whole(ledger)

    def fails(act: OpenAct) -> str:
        act.session.add(Site(code="A", name="Long Drove"))
        act.session.flush()
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        perform(ledger, fails)
    assert whole(ledger) == before
    assert ledger.last_act() == 0


def test_every_row_carries_the_number_of_the_act_that_last_changed_it(ledger: Ledger) -> None:
    first = perform(ledger, add_site, NewSite("Long Drove"))
    second = perform(ledger, add_site, NewSite("Far Drove"))
    third = perform(ledger, change_site, first.result, NewSite("Longer Drove"))
    assert {site.name: site.version for site in rows(ledger, Site)} == {
        "Longer Drove": third.act,
        "Far Drove": second.act,
    }


def test_images_tell_exactly_what_was_and_what_is(ledger: Ledger) -> None:
    site = perform(ledger, add_site, NewSite("Long Drove", capacity=20, permission_until=date(2026, 9, 30)))
    change = perform(ledger, change_site, site.result, NewSite("Long Drove", capacity=24))
    ((row_id, before, after),) = images(ledger, change.act)["site"]
    assert row_id == site.result
    assert images(ledger, site.act)["site"] == [(site.result, None, before)]
    assert {name: (before[name], after[name]) for name in before if before[name] != after[name]} == {
        "capacity": (20, 24),
        "permission_until": ("2026-09-30", None),
        "version": (site.act, change.act),
    }


def test_an_image_is_the_row_as_the_database_gives_it_back(ledger: Ledger) -> None:
    summer = timezone(timedelta(hours=1))
    odd = datetime(2026, 5, 1, 9, 30, 15, 999_999, tzinfo=summer)

    def placed(act: OpenAct) -> str:
        site, colony = (
            Site(code="A", name="Long Drove"),
            Colony(founded_on=date(2026, 5, 1), founded_how="swarm"),
        )
        act.session.add_all([site, colony])
        act.session.flush()
        act.session.add(
            Placement(colony_id=colony.id, site_id=site.id, from_at=odd, from_on=date(2026, 5, 1))
        )
        return "Placed"

    done = perform(ledger, placed)
    ((_, _, image),) = images(ledger, done.act)["placement"]
    assert image["from_at"] == "2026-05-01T08:30:15+00:00"
    assert check_ledger(ledger).clean


def test_a_row_forgotten_by_the_session_keeps_its_before(ledger: Ledger) -> None:
    site = perform(ledger, add_site, NewSite("Long Drove", capacity=20)).result

    def forgetful(act: OpenAct) -> str:
        row = act.session.get_one(Site, site)
        act.session.expire(row)
        row.capacity = 24
        return "Changed"

    done = perform(ledger, forgetful)
    ((_, before, after),) = images(ledger, done.act)["site"]
    assert (before["capacity"], after["capacity"]) == (20, 24)
    assert before["name"] == after["name"] == "Long Drove"
    assert check_ledger(ledger).clean


def test_changes_of_one_row_in_one_act_are_one_change(ledger: Ledger) -> None:
    site = perform(ledger, add_site, NewSite("Long Drove", capacity=20)).result

    def twice(act: OpenAct) -> str:
        row = act.session.get_one(Site, site)
        for capacity in (21, 22, 23):
            row.capacity = capacity
            act.session.flush()
        return "Changed"

    done = perform(ledger, twice)
    ((_, before, after),) = images(ledger, done.act)["site"]
    assert (before["capacity"], after["capacity"]) == (20, 23)


def test_a_row_that_came_and_went_within_one_act_leaves_nothing(ledger: Ledger) -> None:
    def come_and_go(act: OpenAct) -> str:
        row = Site(code="A", name="Long Drove")
        act.session.add(row)
        act.session.flush()
        act.session.delete(row)
        return "Nothing"

    done = perform(ledger, come_and_go)
    assert [(before, after) for _, before, after in images(ledger, done.act)["site"]] == [(None, None)]
    assert check_ledger(ledger).clean


def test_setting_what_is_there_already_is_no_change(ledger: Ledger) -> None:
    site = perform(ledger, add_site, NewSite("Long Drove")).result

    def same(act: OpenAct) -> str:
        act.session.get_one(Site, site).name = "Long Drove"
        return "Nothing"

    done = perform(ledger, same)
    assert done.touched == frozenset()
    assert images(ledger, done.act) == {}
    assert rows(ledger, Site)[0].version == done.act - 1


def test_what_identifies_a_person_never_goes_into_history(ledger: Ledger) -> None:
    perform(ledger, add_party, NewParty("Ladder Hill Fruit", ("grower",), phone="01234 567", person="Mair"))
    assert rows(ledger, PartyContact)[0].phone == "01234 567"
    with ledger.read() as session:
        packed = session.scalars(select(ActImage.image)).all()
        sentences = session.scalars(select(Act.sentence)).all()
    said = " ".join([*(repr(unpack(image)) for image in packed), *sentences])
    assert "Ladder Hill Fruit" in said
    assert "01234" not in said
    assert "Mair" not in said
    assert set(columns_of(PartyContact)) == {"id", "version", "party_id"}


def test_every_table_is_audited_but_those_of_the_memory_itself_and_what_is_derived() -> None:
    plain_tables = {mapper.class_ for mapper in Base.registry.mappers if not mapper.class_.audited}
    assert {table.__tablename__ for table in plain_tables} == {
        "act", "act_image", "act_row", "due", "due_rule", "paper_bytes", "stock_balance",
    }  # fmt: skip
    assert all(issubclass(mapper.class_, Kept) for mapper in Base.registry.mappers if mapper.class_.audited)
    assert columns_of(Party) == tuple(column.key for column in Party.__table__.columns)


def test_images_come_out_of_the_file_as_they_went_in() -> None:
    changed: dict[int, list[Any]] = {7: [None, {"name": "Tŷ Gwyn <&>", "n": None}], 8: [{"n": 2**60}, None]}
    assert [list(one) for one in unpack(pack(changed))] == [[7, *changed[7]], [8, *changed[8]]]
    assert plain(datetime(2026, 5, 1, 8, 30, tzinfo=UTC)) == "2026-05-01T08:30:00+00:00"
    assert plain(date(2026, 5, 1)) == "2026-05-01"


def test_an_act_tells_who_when_where_and_in_which_zone(ledger: Ledger) -> None:
    done = perform(ledger, add_site, NewSite("Long Drove"))
    with ledger.read() as session:
        act = session.get_one(Act, done.act)
    assert (act.kind, act.sentence, act.who, act.desk) == (
        "add_site",
        "Added the site Long Drove",
        "office",
        "office",
    )
    assert (act.at, act.on, act.zone) == (ledger.clock.now(), date(2026, 5, 14), "Europe/London")
    assert done.touched == {"site"}


def test_an_act_of_many_hives_costs_few_statements(ledger: Ledger) -> None:
    yard(ledger, "Long Drove", *(str(number) for number in range(200)))
    with ledger.read() as session:
        founding = session.get_one(Act, 2)
        packed = session.scalars(select(ActImage.table).where(ActImage.act_id == 2)).all()
    assert founding.sentence == "Founded 200 colonies at Long Drove"
    assert len(packed) == len(set(packed)) <= 6  # one image a table, however many rows
