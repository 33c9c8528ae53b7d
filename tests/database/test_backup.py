"""Backups: sound copies while others work, thinned out with age, put back without losing what stood there."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from beeledger.base.clock import FixedClock
from beeledger.base.errors import CannotNow
from beeledger.database import backup as room
from beeledger.database.backup import (
    backup,
    backups_of,
    check_copy,
    folder_for,
    last_backup,
    place_of,
    restore,
    restore_on_server,
    thin,
)
from beeledger.database.checking.check import check_ledger
from beeledger.database.ledger import Ledger
from beeledger.database.opening import open_ledger
from beeledger.database.papers import bytes_of, take_in
from beeledger.model.sites import Site
from beeledger.operations.act import perform
from beeledger.operations.attachments import NewPaper, attach_file
from beeledger.operations.sites import NewSite, add_site
from tests.builders.foreign import folder_bytes, other_program
from tests.builders.yards import LOOKED, whole, yard

NOW = datetime(2026, 5, 14, 18, 0, tzinfo=UTC)


@pytest.fixture
def drove(sqlite_ledger: Ledger) -> Ledger:
    yard(sqlite_ledger, "Long Drove", "1", "2", "3").post(h1=LOOKED, h2=LOOKED)
    return sqlite_ledger


@pytest.fixture
def file(drove: Ledger) -> Path:
    assert drove.file is not None
    return drove.file


def content(path: Path, clock: FixedClock) -> dict[str, list[object]]:
    with closing(open_ledger(path, clock, create=False)) as ledger:
        assert check_ledger(ledger).clean
        return whole(ledger)


def test_a_backup_is_one_whole_file_and_says_what_the_ledger_says(
    drove: Ledger, file: Path, clock: FixedClock
) -> None:
    copy = backup(drove)
    assert copy == folder_for(file) / "20260514-180000.db"
    assert [path.name for path in copy.parent.iterdir()] == [copy.name]
    assert content(copy, clock) == whole(drove)
    assert last_backup(file) == NOW


def test_a_backup_taken_while_another_desk_is_writing_is_of_one_moment(
    drove: Ledger, clock: FixedClock
) -> None:
    before = whole(drove)
    with drove.act("half_done") as act:
        act.session.add(Site(code="A", name="Not yet"))
        act.session.flush()
        copy = backup(drove)
    assert content(copy, clock) == before
    assert whole(drove) != before


def test_a_backup_into_a_folder_with_an_odd_name(drove: Ledger, tmp_path: Path) -> None:
    assert backup(drove, tmp_path / "50% safe? #1").exists()


def test_a_ledger_on_a_server_is_backed_up_into_one_file_while_others_write(
    new_target: Callable[..., str], clock: FixedClock, desk_folder: Path
) -> None:
    server = open_ledger(new_target("postgresql"), clock)
    yard(server, "Long Drove", "1", "2", "3").post(h1=LOOKED, h2=LOOKED)
    before = whole(server)
    written: list[int] = []

    def meanwhile(done: int, total: int) -> None:
        if not written:
            written.append(perform(server, add_site, NewSite("Meanwhile")).act)

    copy = backup(server, progress=meanwhile)
    assert copy.parent.parent == desk_folder
    assert copy.name == "20260514-180000.db"
    assert [copy] == backups_of(place_of(server))
    assert last_backup(place_of(server)) == NOW
    assert content(copy, clock) == before
    assert written
    server.close()


def test_a_servers_backup_is_restored_into_an_empty_database(
    new_target: Callable[..., str], clock: FixedClock, drove: Ledger
) -> None:
    copy, target = backup(drove), new_target("postgresql", migrated=False)
    assert restore_on_server(copy, target, clock) > 0
    with closing(open_ledger(target, clock, create=False)) as server:
        assert whole(server) == whole(drove)
        assert check_ledger(server).clean
    with pytest.raises(CannotNow, match="not empty"):
        restore_on_server(copy, target, clock)


def test_a_copy_that_lacks_rows_is_not_called_a_backup(
    drove: Ledger, file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    copied = room._copy_pages

    def less(source: Path, part: Path) -> dict[str, int]:
        held = copied(source, part)
        with closing(sqlite3.connect(part)) as new:
            new.execute("DELETE FROM due")
            new.execute("DELETE FROM round_entry WHERE id = 1")
            new.commit()
        return held

    monkeypatch.setattr(room, "_copy_pages", less)
    with pytest.raises(CannotNow, match="rows of the ledger: due and round_entry"):
        backup(drove)
    assert backups_of(file) == []


def test_papers_go_with_a_backup_to_another_disk_and_come_back_with_it(
    drove: Ledger, file: Path, tmp_path: Path, clock: FixedClock
) -> None:
    photograph = tmp_path / "hive.jpg"
    photograph.write_bytes(b"a photograph of a hive")
    taken = take_in(drove, photograph)
    perform(drove, attach_file, NewPaper(taken, ("site", 1)))
    copy = backup(drove, tmp_path / "stick")
    drove.close()
    elsewhere = tmp_path / "new computer" / file.name
    elsewhere.parent.mkdir()
    restore(copy, elsewhere, clock)
    with closing(open_ledger(elsewhere, clock)) as ledger, ledger.read() as session:
        assert bytes_of(session, taken.sha256) == photograph.read_bytes()
        assert check_ledger(ledger).clean


@pytest.mark.parametrize("what", ["missing", "text", "other program", "empty"])
def test_only_a_sound_ledger_is_restored_and_the_present_one_stays(
    what: str, drove: Ledger, file: Path, tmp_path: Path, clock: FixedClock
) -> None:
    given = tmp_path / "given.db"
    if what == "text":
        given.write_text("hive;queen;brood " * 99)
    elif what == "other program":
        other_program(given)
    elif what == "empty":
        given.touch()
    drove.close()
    before = folder_bytes(file.parent)
    with pytest.raises(CannotNow):
        restore(given, file, clock)
    assert folder_bytes(file.parent) == before


def test_restoring_puts_the_backup_in_place_and_the_present_aside(
    drove: Ledger, file: Path, clock: FixedClock
) -> None:
    old = whole(drove)
    copy = backup(drove)
    perform(drove, add_site, NewSite("Far Drove"))
    newer = whole(drove)
    drove.close()
    aside = restore(copy, file, clock)
    assert aside is not None
    assert aside.name == f"{file.stem} aside 20260514-180000{file.suffix}"
    assert content(file, clock) == old
    assert content(aside, clock) == newer
    assert not [path for path in file.parent.iterdir() if path.suffix == ".part"]


def test_restoring_twice_in_a_second_loses_neither(drove: Ledger, file: Path, clock: FixedClock) -> None:
    copy = backup(drove)
    drove.close()
    first, second = restore(copy, file, clock), restore(copy, file, clock)
    assert first != second
    assert first is not None
    assert second is not None
    assert first.exists()
    assert second.exists()


def test_a_damaged_ledger_is_put_aside_as_it_is_and_replaced(
    drove: Ledger, file: Path, clock: FixedClock
) -> None:
    old = whole(drove)
    copy = backup(drove)
    drove.close()
    damaged = b"not a database any more" * 500
    file.write_bytes(damaged)
    aside = restore(copy, file, clock)
    assert aside is not None
    assert aside.read_bytes() == damaged
    assert content(file, clock) == old


def test_what_only_the_log_held_goes_aside_with_the_ledger(
    drove: Ledger, file: Path, clock: FixedClock
) -> None:
    copy = backup(drove)
    perform(drove, add_site, NewSite("Far Drove"))
    newer = whole(drove)
    crashed = {name: data for name, data in folder_bytes(file.parent).items() if name.startswith(file.name)}
    assert len(crashed[f"{file.name}-wal"]) > 0
    drove.close()
    for name, data in crashed.items():  # as a power cut leaves it: the last act stands in the log alone
        (file.parent / name).write_bytes(data)
    aside = restore(copy, file, clock)
    assert aside is not None
    assert content(aside, clock) == newer


def test_nothing_is_restored_under_a_desk_that_has_the_ledger_open(
    drove: Ledger, file: Path, clock: FixedClock
) -> None:
    copy = backup(drove)
    perform(drove, add_site, NewSite("Far Drove"))
    before = whole(drove)
    with pytest.raises(CannotNow, match="open at a desk"):
        restore(copy, file, clock)
    assert whole(drove) == before


def test_a_backup_is_restored_where_there_is_no_ledger(
    drove: Ledger, file: Path, tmp_path: Path, clock: FixedClock
) -> None:
    copy = backup(drove)
    new = tmp_path / "elsewhere.beeledger"
    assert restore(copy, new, clock) is None
    assert content(new, clock) == content(file, clock)


def test_a_full_disk_while_restoring_leaves_the_ledger_in_its_place(
    drove: Ledger, file: Path, clock: FixedClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    copy = backup(drove)
    before = whole(drove)
    drove.close()

    def full(source: Path, part: Path) -> None:
        part.write_bytes(b"half")
        raise sqlite3.OperationalError("database or disk is full")

    monkeypatch.setattr(room, "_copy_pages", full)
    with pytest.raises(CannotNow, match="disk is full"):
        restore(copy, file, clock)
    assert content(file, clock) == before
    assert [path for path in file.parent.iterdir() if "part" in path.name or "aside" in path.name] == []


def _kept(file: Path, ages: list[timedelta]) -> list[str]:
    folder = folder_for(file)
    folder.mkdir(exist_ok=True)
    for age in ages:
        (folder / f"{NOW - age:%Y%m%d-%H%M%S}.db").touch()
    thin(file, NOW)
    return [path.stem for path in backups_of(file)]


def test_backups_thin_out_with_age(tmp_path: Path) -> None:
    file = tmp_path / "farm.beeledger"
    every_ten_minutes = [timedelta(minutes=10 * step) for step in range(6 * 24 * 120)]  # 120 days
    kept = _kept(file, every_ten_minutes)
    ages = [(NOW - datetime.strptime(name, "%Y%m%d-%H%M%S").replace(tzinfo=UTC)).days for name in kept]
    assert ages.count(0) in {24, 25}  # one an hour for a day
    assert sum(1 <= age < 7 for age in ages) in {6, 7}  # one a day for a week
    assert sum(7 <= age < 31 for age in ages) in {4, 5}  # one a week for a month
    assert sum(age >= 31 for age in ages) in {3, 4}  # one a month ever after
    assert kept[0] == "20260514-180000"  # the newest always stays


def test_thinning_again_removes_nothing_more(tmp_path: Path) -> None:
    file = tmp_path / "farm.beeledger"
    once = _kept(file, [timedelta(hours=5 * step) for step in range(300)])
    assert thin(file, NOW) == []
    assert [path.stem for path in backups_of(file)] == once


def test_backups_before_a_step_and_files_of_others_are_never_thinned(tmp_path: Path) -> None:
    file = tmp_path / "farm.beeledger"
    folder = folder_for(file)
    folder.mkdir()
    for name in (
        "20240101-100000-before-0001.db",
        "20240101-100001-before-0002.db",
        "kept by hand.db",
        "zebra.db",
    ):
        (folder / name).touch()
    assert _kept(file, [timedelta(minutes=1), timedelta(minutes=2)]) == [
        "zebra", "kept by hand", "20260514-175900", "20240101-100001-before-0002", "20240101-100000-before-0001",
    ]  # fmt: skip
    assert last_backup(file) == NOW - timedelta(minutes=1)


def test_a_ledger_never_backed_up_says_so(tmp_path: Path) -> None:
    assert last_backup(tmp_path / "farm.beeledger") is None
    with pytest.raises(CannotNow, match="There is no backup"):
        check_copy(tmp_path / "none.db")
