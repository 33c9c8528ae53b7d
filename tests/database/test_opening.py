"""Opening: what is no ledger is refused in words and left as it is, to the byte."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import psycopg
import pytest

from beeledger.base.clock import FixedClock
from beeledger.base.errors import CannotNow
from beeledger.database.checking.check import check_ledger
from beeledger.database.ledger import Ledger
from beeledger.database.opening import open_ledger
from beeledger.operations.act import perform
from beeledger.operations.sites import NewSite, add_site
from beeledger.queries.counts import farm_size
from tests.builders.foreign import folder_bytes, open_folder, ordinary_account, other_program, raw


def refusal(target: Path | str, clock: FixedClock, **how: bool) -> CannotNow:
    with pytest.raises(CannotNow) as caught:
        open_ledger(target, clock, **how).close()
    return caught.value


def test_a_new_ledger_is_made_empty_and_sound(
    kind: str, new_target: Callable[..., str], clock: FixedClock
) -> None:
    target = new_target(kind, migrated=False)
    first = open_ledger(target, clock)
    assert first.last_act() == 0
    assert check_ledger(first).clean
    first.close()
    again = open_ledger(target, clock)
    assert check_ledger(again).clean
    again.close()


def test_an_empty_file_becomes_a_ledger(tmp_path: Path, clock: FixedClock) -> None:
    file = tmp_path / "new.beeledger"
    file.touch()
    open_ledger(file, clock).close()
    open_ledger(file, clock, create=False).close()
    assert file.read_bytes().startswith(b"SQLite format 3")


def test_a_ledger_may_have_any_name(tmp_path: Path, clock: FixedClock) -> None:
    folder = tmp_path / "50% of the farm? #2 & ŵenyn"
    folder.mkdir()
    file = folder / "a+b%20c.beeledger"
    ledger = open_ledger(file, clock)
    perform(ledger, add_site, NewSite("Long Drove"))
    ledger.close()
    assert [path.name for path in folder.iterdir()] == [file.name]
    open_ledger(file, clock, create=False).close()


@pytest.mark.parametrize(
    "content",
    [
        b"hive;queen;brood\n7;2025;8\n",
        b"\x00" * 4096,
        b"PK\x03\x04 a renamed workbook",
        b"SQLite format 3",
        b"S",
    ],
    ids=["text", "noughts", "workbook", "cut short", "one letter"],
)
def test_a_file_that_is_no_database_is_refused_and_left_alone(
    tmp_path: Path, clock: FixedClock, content: bytes
) -> None:
    file = tmp_path / "notes.beeledger"
    file.write_bytes(content)
    assert refusal(file, clock).sentence == "notes.beeledger is no BeeLedger ledger."
    assert folder_bytes(tmp_path) == {file.name: content}


def test_a_header_with_rubbish_behind_it_is_refused_and_left_alone(tmp_path: Path, clock: FixedClock) -> None:
    file = tmp_path / "spoilt.beeledger"
    content = b"SQLite format 3\x00" + b"\xa5" * 8176
    file.write_bytes(content)
    assert refusal(file, clock).sentence == "This file is no BeeLedger ledger."
    assert folder_bytes(tmp_path) == {file.name: content}


def test_a_ledger_with_a_spoilt_page_says_that_it_is_damaged(
    new_target: Callable[..., str], clock: FixedClock
) -> None:
    target = new_target("sqlite")
    content = bytearray(Path(target).read_bytes())
    content[100:4096] = b"\xa5" * 3996  # the page that says which tables there are
    Path(target).write_bytes(content)
    assert refusal(target, clock).sentence == "The ledger's file is damaged."


def test_another_programs_database_is_refused_and_left_alone(tmp_path: Path, clock: FixedClock) -> None:
    file = other_program(tmp_path / "shopping.db")
    before = folder_bytes(tmp_path)
    assert refusal(file, clock).sentence == "This database belongs to another program."
    assert folder_bytes(tmp_path) == before


def test_another_programs_migrations_do_not_make_it_ours(tmp_path: Path, clock: FixedClock) -> None:
    file = other_program(tmp_path / "shopping.db")
    raw(file, "CREATE TABLE alembic_version(version_num TEXT)", "INSERT INTO alembic_version VALUES ('0001')")
    before = folder_bytes(tmp_path)
    assert "another program" in refusal(file, clock).sentence
    assert folder_bytes(tmp_path) == before


def test_another_programs_database_on_a_server_is_refused(
    new_target: Callable[..., str], clock: FixedClock
) -> None:
    target = new_target("postgresql", migrated=False)
    with psycopg.connect(target, autocommit=True) as connection:
        connection.execute("CREATE TABLE shopping(thing TEXT)")
    assert "another program" in refusal(target, clock).sentence
    with psycopg.connect(target) as connection:
        tables = connection.execute("SELECT tablename FROM pg_tables WHERE schemaname = 'public'").fetchall()
    assert tables == [("shopping",)]


def test_a_ledger_of_a_newer_version_is_refused_and_left_alone(
    sqlite_ledger: Ledger, clock: FixedClock
) -> None:
    file = sqlite_ledger.file
    assert file is not None
    sqlite_ledger.close()
    raw(file, "UPDATE alembic_version SET version_num = '0999'", "PRAGMA journal_mode=DELETE")
    before = folder_bytes(file.parent)
    found = refusal(file, clock)
    assert "newer BeeLedger (schema 0999" in found.sentence
    assert "newer version" in found.remedy
    assert folder_bytes(file.parent) == before


def test_a_newer_ledger_on_a_server_is_refused(new_target: Callable[..., str], clock: FixedClock) -> None:
    target = new_target("postgresql")
    with psycopg.connect(target, autocommit=True) as connection:
        connection.execute("UPDATE alembic_version SET version_num = '0999'")
    assert "newer BeeLedger" in refusal(target, clock).sentence


def test_a_newer_ledger_that_a_desk_has_open_is_refused_too(sqlite_ledger: Ledger, clock: FixedClock) -> None:
    perform(sqlite_ledger, add_site, NewSite("Long Drove"))
    assert sqlite_ledger.file is not None
    raw(sqlite_ledger.file, "UPDATE alembic_version SET version_num = '0999'")
    assert "newer BeeLedger" in refusal(sqlite_ledger.file, clock).sentence


def test_folders_and_missing_places_are_named(tmp_path: Path, clock: FixedClock) -> None:
    assert refusal(tmp_path, clock).sentence == f"{tmp_path} is a folder."
    nowhere = tmp_path / "not" / "there.beeledger"
    assert refusal(nowhere, clock).sentence == f"There is no folder {nowhere.parent}."
    assert refusal(tmp_path / "none.beeledger", clock, create=False).sentence.startswith(
        "There is no ledger at"
    )
    assert list(tmp_path.iterdir()) == []


def test_a_ledger_that_may_only_be_read_is_read_and_says_so_when_written(clock: FixedClock) -> None:
    with open_folder() as folder:
        file = folder / "farm.beeledger"
        made = open_ledger(file, clock)
        perform(made, add_site, NewSite("Long Drove"))
        made.close()
        before = file.read_bytes()
        file.chmod(0o444)
        with ordinary_account():
            ledger = open_ledger(file, clock)
            with ledger.read() as session:
                assert farm_size(session).sites == 1
            with pytest.raises(CannotNow) as caught:
                perform(ledger, add_site, NewSite("Far Drove"))
            ledger.close()
        assert caught.value.sentence == "The ledger can be read but not written."
        assert file.read_bytes() == before


def test_a_ledger_in_a_folder_that_may_not_be_written_is_refused_in_words(clock: FixedClock) -> None:
    with open_folder() as folder:
        file = folder / "farm.beeledger"
        open_ledger(file, clock).close()
        before = folder_bytes(folder)
        file.chmod(0o444)
        folder.chmod(0o555)
        with ordinary_account():
            found = refusal(file, clock)
            new = refusal(folder / "new.beeledger", clock)
        assert found.sentence == "The ledger can be read but not written."
        assert found.remedy == "Make the file and its folder writable, or open a copy."
        assert new.sentence == "The ledger's file could not be opened."
        assert folder_bytes(folder) == before


def test_a_ledger_that_may_not_even_be_read_is_refused_in_words(clock: FixedClock) -> None:
    with open_folder() as folder:
        file = folder / "farm.beeledger"
        open_ledger(file, clock).close()
        file.chmod(0o000)
        with ordinary_account():
            assert "may not be read or written" in refusal(file, clock).sentence


def test_a_server_that_is_not_there_is_said(clock: FixedClock) -> None:
    found = refusal("postgresql://nobody@127.0.0.1:1/farm", clock)
    assert found.sentence == "The database server does not answer."


def test_a_database_that_the_server_does_not_have_is_said(
    new_target: Callable[..., str], clock: FixedClock
) -> None:
    address = new_target("postgresql").rsplit("/", 1)[0] + "/no_such_farm"
    assert refusal(address, clock).sentence == "There is no such database on the server."
