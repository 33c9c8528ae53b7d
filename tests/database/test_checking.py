"""The check of a whole ledger: a clean one is clean, and each breach planted behind the program's back is named."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import pytest
from sqlalchemy import Connection, text

from beeledger.database.checking.check import LINES, Line, check_ledger
from beeledger.database.ledger import Ledger
from beeledger.database.schema import TRIGGERS_SQLITE
from tests.builders.filled import WholeFarm, whole_farm


@pytest.fixture
def farm(ledger: Ledger) -> WholeFarm:
    return whole_farm(ledger)


def found(farm: WholeFarm) -> dict[str, list[str]]:
    """Which lines are breached, and with which records."""
    codes: dict[str, list[str]] = {}
    for finding in check_ledger(farm.long.ledger).findings:
        codes.setdefault(finding.code, []).append(finding.where.record)
    return codes


def plant(farm: WholeFarm, *statements: str, **values: Any) -> None:
    """Change rows by raw SQL, with the guards of SQLite's references and CHECKs off where it has them."""
    with farm.long.ledger.engine.connect() as connection:
        if connection.dialect.name == "sqlite":
            driver: Any = connection.connection.driver_connection
            driver.execute("PRAGMA foreign_keys=OFF")
        with connection.begin():
            for statement in statements:
                connection.execute(text(statement), values)
        if connection.dialect.name == "sqlite":
            driver.execute("PRAGMA foreign_keys=ON")


def without_guards(farm: WholeFarm) -> None:
    """Take away what forbids two places, two marks and two hives of a queen."""
    sqlite = farm.long.ledger.is_sqlite
    overlap = [f"DROP TRIGGER {trigger.split()[2]}" for trigger in TRIGGERS_SQLITE] if sqlite else ["ALTER TABLE placement DROP CONSTRAINT ex_placement_overlap"]  # fmt: skip
    plant(farm, *overlap, "DROP INDEX uq_placement_open", "DROP INDEX uq_hive_mark_open", "DROP INDEX uq_tenure_queen_open")  # fmt: skip


def test_a_ledger_kept_by_acts_alone_is_clean(farm: WholeFarm) -> None:
    report = check_ledger(farm.long.ledger)
    assert report.findings == ()
    assert report.clean
    assert [code for code, _, breaches in report.lines if breaches == 0] == [line.code for line in LINES]


def test_an_empty_ledger_is_clean(ledger: Ledger) -> None:
    assert check_ledger(ledger).clean


def test_each_of_the_seven_lines_is_proved() -> None:
    assert {line.rule for line in LINES if line.rule is not None} == set(range(1, 8))
    assert len({line.code for line in LINES}) == len(LINES)


def test_progress_is_told_line_by_line(ledger: Ledger) -> None:
    told: list[tuple[int, int]] = []
    check_ledger(ledger, lambda done, of: told.append((done, of)))
    assert told == [(number, len(LINES)) for number in range(len(LINES))]


@dataclass(frozen=True)
class Breach:
    """What is done behind the program's back, and what the check must name: exactly these lines and records."""

    sql: str
    names: dict[str, str]
    unguarded: bool = False


FIRST = "(SELECT min(id) FROM placement WHERE colony_id = :c1)"
ITEM = "INSERT INTO stock_item(id, version, name, kind, unit, box, box_state) VALUES (8, 1, 'Supers', 'box', 'piece', 'super', 'wet')"
STORE = "INSERT INTO stock_store(id, version, name, usual) VALUES (8, 1, 'Barn', :yes)"
ENTRY = (
    'INSERT INTO stock_entry(id, version, item_id, "on", quantity, reason, from_kind, from_store_id, to_kind)'
)
HELD = "INSERT INTO stock_balance(item_id, lot_id, kind, number, quantity) VALUES"
BREACHES: dict[str, Breach] = {
    "a living colony without a place": Breach(
        "DELETE FROM placement WHERE colony_id = :c1", {"one-place": "colony {c1}"}
    ),
    "a living colony whose last place has ended": Breach(
        "UPDATE placement SET until_at = '2026-05-01T10:00:00Z', until_on = '2026-05-01' WHERE colony_id = :c1",
        {"one-place": "colony {c1}"},
    ),
    "an ended colony that still stands somewhere": Breach(
        "UPDATE colony SET ended_on = '2026-05-01', end_cause = 'starvation' WHERE id = :c1",
        {"one-place": "colony {c1}"},
    ),
    "a gap between two places": Breach(
        "UPDATE placement SET from_at = '2026-04-20T23:00:00Z' WHERE colony_id = :c3 AND until_at IS NULL",
        {"one-place": "colony {c3}"},
    ),
    "two places at one moment": Breach(
        "UPDATE placement SET from_at = '2026-04-20T12:00:00Z' WHERE colony_id = :c3 AND until_at IS NULL",
        {"one-place": "colony {c3}"},
        unguarded=True,
    ),
    "two open places": Breach(
        "UPDATE placement SET until_at = NULL, until_on = NULL WHERE colony_id = :c3",
        {"one-place": "colony {c3}"},
        unguarded=True,
    ),
    "a move out of a site where the hive was not": Breach(
        "UPDATE move_line SET from_site_id = :far WHERE colony_id = :c3", {"left-from": "move line {line}"}
    ),
    "a move by which the hive stood nowhere": Breach(
        "UPDATE placement SET move_line_id = NULL WHERE colony_id = :c3", {"left-from": "move line {line}"}
    ),
    "one number on two living hives": Breach(
        "UPDATE hive_mark SET mark = '1' WHERE colony_id = :c2",
        {"marks": "hive mark {mark2}"},
        unguarded=True,
    ),
    "one number on two hives in the past": Breach(
        "UPDATE hive_mark SET mark = '1', until_on = '2026-05-01' WHERE colony_id = :c2",
        {"marks": "hive mark {mark2}"},
    ),
    "honey given that was not there": Breach(
        "UPDATE honey_transfer SET grams = 20000 WHERE from_lot_id = :drum",
        {"honey-balance": "honey lot {drum}"},
    ),
    "jars given that were not there": Breach(
        "INSERT INTO honey_transfer(version, \"on\", from_lot_id, sink, grams, jars) VALUES (1, '2026-05-13', :jars, 'gift', 1, 31)",
        {"jars": "honey lot {jars}"},
    ),
    "honey that flows in a circle": Breach(
        "INSERT INTO honey_transfer(version, \"on\", from_lot_id, to_lot_id, grams) VALUES (1, '2026-05-06', :drum, :supers, 1)",
        {"honey-acyclic": "honey transfers"},
    ),
    "a jar of honey of which nothing is known": Breach(
        "UPDATE honey_transfer SET from_lot_id = NULL, origin = 'weighed' WHERE to_lot_id = :drum",
        {"traceable": "honey lot {drum}"},
    ),
    "a jar that leads to no take": Breach(
        "UPDATE honey_lot SET take_id = NULL WHERE id = :supers", {"traceable": "honey lot {supers}"}
    ),
    "a store that gave what it never had": Breach(
        f"{ITEM}; {STORE}; {ENTRY} VALUES (8, 1, 8, '2026-05-01', 3, 'fed', 'store', 8, 'used')",
        {"stock": "stock item 8"},
    ),
    "a balance that no entry bears out": Breach(
        f"{ITEM}; INSERT INTO stock_balance(item_id, lot_id, kind, number, quantity) VALUES (8, 0, 'hives', 0, 4)",
        {"stock": "stock item 8"},
    ),
    "a counter entry of another quantity": Breach(
        f"{ITEM}; {ENTRY} VALUES (8, 1, 8, '2026-05-01', 3, 'fed', 'uncounted', NULL, 'used'); "
        f"{ENTRY.replace('to_kind', 'to_kind, counters_id')} VALUES (9, 1, 8, '2026-05-01', 2, 'fed', 'used', NULL, 'uncounted', 8); "
        f"{HELD} (8, 0, 'used', 0, 1), (8, 0, 'uncounted', 0, -1)",
        {"stock-lots": "entry of stock 9"},
    ),
    "a box that changed its state and is gone": Breach(
        f"{ITEM}; {ENTRY} VALUES (8, 1, 8, '2026-05-01', 3, 'turned', 'uncounted', NULL, 'turned'); "
        f"{HELD} (8, 0, 'turned', 0, 3), (8, 0, 'uncounted', 0, -3)",
        {"stock-turned": "entries of stock"},
    ),
    "a queen in two colonies": Breach(
        "INSERT INTO tenure(version, queen_id, colony_id, from_on) SELECT 1, queen_id, :c2, '2026-05-01' FROM tenure WHERE colony_id = :c1",
        {"one-colony": "tenure {new_tenure}"},
        unguarded=True,
    ),
    "honey under a treatment": Breach(
        "UPDATE treatment SET colony_id = :c1, in_on = '2026-05-02', out_on = NULL",
        {"no-medicated-honey": "take line {take_line}", "no-strips-under-supers": "treatment {treatment}"},
    ),
    "honey within the withdrawal period": Breach(
        "UPDATE treatment SET colony_id = :c1, in_on = '2026-04-01', out_on = '2026-05-03'; UPDATE medicine SET withdrawal_days = 10",
        {"no-medicated-honey": "take line {take_line}"},
    ),
    "honey from supers that were on while it was fed": Breach(
        "UPDATE feeding SET \"on\" = '2026-05-01'", {"no-fed-honey": "take line {take_line}"}
    ),
    "medicine under supers": Breach(
        "UPDATE box_stack SET supers = 1 WHERE colony_id = :c2",
        {"no-strips-under-supers": "treatment {treatment}"},
    ),
    "a hive moved out of a restricted site": Breach(
        "INSERT INTO restriction(version, scope, site_id, begins_at, begins_on, stops_bees, stops_comb, stops_honey, stops_boxes, stops_tools, stops_inward, reason) SELECT 1, 'site', from_site_id, left_at, \"on\", :yes, :no, :no, :no, :no, :no, 'foul brood' FROM move_line JOIN move ON move.id = move_id",
        {"restricted": "move {move}, restriction 1"},
    ),
    "a row changed past the acts": Breach(
        "UPDATE site SET name = 'Elsewhere' WHERE id = :far", {"history": "site {far}"}
    ),
    "a row removed past the acts": Breach("DELETE FROM mite_count", {"history": "mite_count 1"}),
    "a row added past the acts": Breach(
        "INSERT INTO crew_member(version, initials, name, works_here) VALUES (1, 'NN', 'Ned', :yes)",
        {"history": "crew_member 1"},
    ),
    "a version set back": Breach("UPDATE site SET version = 1 WHERE id = :far", {"history": "site {far}"}),
}


@pytest.mark.parametrize("what", BREACHES)
def test_a_breach_is_named_with_its_line_and_record(farm: WholeFarm, what: str) -> None:
    breach = BREACHES[what]
    numbers = numbers_of(farm)
    if breach.unguarded:
        without_guards(farm)
    for statement in breach.sql.split(";"):
        plant(farm, statement, **{name: value for name, value in numbers.items() if f":{name}" in statement})
    numbers |= after_numbers(farm)
    expected = {code: record.format(**numbers) for code, record in breach.names.items()}
    codes = found(farm)
    also = {"history"} | (
        {"sound"} if breach.unguarded else set()
    )  # rows changed past the acts; guards taken away
    assert {code: set(records) for code, records in codes.items() if code not in also - set(expected)} == {
        code: {record} for code, record in expected.items()
    }
    assert "history" in codes
    assert ("sound" in codes) is breach.unguarded


def numbers_of(farm: WholeFarm) -> dict[str, Any]:
    hives = {f"c{mark}": number for mark, number in farm.long.hives.items()}
    with farm.long.ledger.engine.connect() as connection:
        return {
            **hives, "far": farm.far.site, "drum": farm.drum, "supers": farm.supers,
            "yes": 1 if farm.long.ledger.is_sqlite else True,
            "no": 0 if farm.long.ledger.is_sqlite else False,
            "line": one(connection, "SELECT id FROM move_line"),
            "move": one(connection, "SELECT id FROM move"),
            "mark2": one(connection, f"SELECT id FROM hive_mark WHERE colony_id = {hives['c2']}"),
            "take_line": one(connection, "SELECT id FROM take_line"),
            "jars": one(connection, "SELECT lot_id FROM batch"),
            "treatment": one(connection, "SELECT id FROM treatment"),
        }  # fmt: skip


def after_numbers(farm: WholeFarm) -> dict[str, Any]:
    with farm.long.ledger.engine.connect() as connection:
        return {"new_tenure": one(connection, "SELECT max(id) FROM tenure")}


def one(connection: Connection, query: str) -> Any:
    return connection.execute(text(query)).scalar()


def test_every_line_has_been_seen_broken(new_target: Callable[..., str]) -> None:
    planted = {code for breach in BREACHES.values() for code in breach.names}
    elsewhere = {"sound", "papers"}  # files gone and changed: tests/operations/test_attachments.py
    assert planted | elsewhere == {line.code for line in LINES}
    assert {type(line) for line in LINES} == {Line}


SQLITE_GUARDS = ("DROP TRIGGER placement_no_overlap_INSERT", "DROP INDEX uq_hive_mark_open")
SERVER_GUARDS = (
    "ALTER TABLE placement DROP CONSTRAINT ex_placement_overlap", "DROP INDEX uq_hive_mark_open",
    "ALTER TABLE site DROP CONSTRAINT ck_site_capacity_least", "ALTER TABLE act DROP CONSTRAINT uq_act_draft_uid",
)  # fmt: skip


def test_a_guard_that_is_gone_is_named(farm: WholeFarm) -> None:
    for statement in SQLITE_GUARDS if farm.long.ledger.is_sqlite else SERVER_GUARDS:
        plant(farm, statement)
    said = [finding.what for finding in check_ledger(farm.long.ledger).findings]
    gone = {"placement_no_overlap_INSERT", "uq_hive_mark_open"} if farm.long.ledger.is_sqlite else {"ex_placement_overlap", "uq_hive_mark_open", "ck_site_capacity_least", "uq_act_draft_uid"}  # fmt: skip
    assert set(said) == {f"the guard {name} is missing" for name in gone}


def test_a_table_of_a_file_that_lost_its_checks_is_named(sqlite_ledger: Ledger) -> None:
    farm = whole_farm(sqlite_ledger)
    plant(
        farm,
        "CREATE TABLE bare(id INTEGER PRIMARY KEY, version INTEGER, on_ TEXT, contract_id INTEGER, share_hundredths INTEGER)",
        "DROP TABLE bloom_look",
        'ALTER TABLE bare RENAME COLUMN on_ TO "on"',
        "ALTER TABLE bare RENAME TO bloom_look",
    )
    findings = check_ledger(sqlite_ledger).findings
    assert {(finding.where.record, finding.what) for finding in findings} == {
        ("bloom_look", "the guard ck_bloom_look_share_hundredths_range is missing"),
        ("bloom_look", "it no longer refuses values of another type"),
    }


def test_a_row_that_points_nowhere_is_named(sqlite_ledger: Ledger) -> None:
    farm = whole_farm(sqlite_ledger)
    plant(farm, "UPDATE task SET site_id = 1", "UPDATE mite_count SET entry_id = 999")
    assert ("sound", "mite_count 1") in {
        (one.code, one.where.record) for one in check_ledger(sqlite_ledger).findings
    }


def test_a_written_reason_is_an_answer(farm: WholeFarm) -> None:
    plant(farm, "UPDATE treatment SET colony_id = :c1, in_on = '2026-05-02', out_on = NULL, reason = 'comb honey for the bees'", c1=farm.long.hives["1"])  # fmt: skip
    plant(farm, "UPDATE feeding SET \"on\" = '2026-05-01'")
    assert {"no-medicated-honey", "no-fed-honey"} <= set(found(farm))
    assert "no-strips-under-supers" not in found(farm)
    plant(farm, "UPDATE take_line SET reason = 'kept for feed, marked so'")
    assert set(found(farm)) == {"history"}
