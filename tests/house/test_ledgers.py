"""The empty ledgers that the suite hands to every test: of both kinds, migrated, each test with its own."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from sqlalchemy import text


def _dialect(ledger) -> str:
    with ledger.read() as session:
        return session.get_bind().dialect.name


def test_an_empty_ledger_is_open_in_each_kind(ledger, kind):
    assert _dialect(ledger) == kind
    assert ledger.last_act() == 0


def test_a_ledger_of_one_test_is_not_that_of_another(new_target, kind):
    assert new_target(kind) != new_target(kind)


def test_a_database_not_yet_migrated_is_empty(new_target, kind):
    bare = new_target(kind, migrated=False)
    if kind == "sqlite":
        assert not Path(bare).exists()
        return
    import psycopg

    with psycopg.connect(bare) as connection:
        tables = connection.execute("SELECT count(*) FROM pg_tables WHERE schemaname = 'public'").fetchone()
    assert tables == (0,)


def test_both_kinds_have_the_same_tables(new_target, clock):
    from beeledger.database.opening import open_ledger

    ask = {
        "sqlite": "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%'",
        "postgresql": "SELECT tablename FROM pg_tables WHERE schemaname = 'public'",
    }
    tables = {}
    for kind, statement in ask.items():
        ledger = open_ledger(new_target(kind), clock)
        with ledger.read() as session:
            tables[kind] = set(session.scalars(text(statement)))
        ledger.close()
    assert len(tables["sqlite"]) > 10
    assert tables["sqlite"] == tables["postgresql"]


def test_the_clock_of_the_tests_stands_on_a_thursday_in_may(clock):
    assert clock.today() == date(2026, 5, 14)
    assert clock.today().strftime("%A") == "Thursday"


def test_the_desk_of_a_test_is_a_temporary_folder(desk_folder):
    from beeledger.base import paths

    assert paths.desk_folder() == desk_folder
    assert list(desk_folder.iterdir()) == []


def test_the_window_has_the_bundled_face_and_the_light_look(qapp):
    from beeledger.ui.widgets import look

    assert qapp.font().family() == look.FAMILY
    assert qapp.palette().window().color() == look.LIGHT.colour("paper")
