"""What was typed survives: the draft holds every keystroke whose saving came back, through kills and damage."""

from __future__ import annotations

import os
import random
import sqlite3
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from uuid import uuid4

import pytest

from beeledger.base.clock import FixedClock
from beeledger.base.errors import CannotNow, Refused
from beeledger.database.checking.check import check_ledger
from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform_draft
from beeledger.operations.drafts import DraftStore
from beeledger.operations.rounds import Line, post_round
from beeledger.operations.sites import NewSite, add_site
from beeledger.operations.undo import undo
from tests.builders.yards import LOOKED, yard

KILLS = int(os.environ.get("BEELEDGER_KILLS", "10"))


@pytest.fixture
def store(tmp_path: Path, clock: FixedClock) -> Iterator[DraftStore]:
    drafts = DraftStore(tmp_path, "farm", clock)
    yield drafts
    drafts.close()


def titles(store: DraftStore, kind: str | None = None) -> list[str]:
    return [draft.title for draft in store.drafts(kind)]


def test_a_draft_comes_back_as_it_was_typed(store: DraftStore, clock: FixedClock) -> None:
    body = {"site": 7, "lines": [{"mark": "Tŷ 7", "typed": "b8 <f2l> ?"}, None], "odd": "\u2028\x00"}
    assert store.save("u1", "round", "Long Drove", body) == clock.now()
    draft = store.load("u1")
    assert draft is not None
    assert (draft.kind, draft.title, draft.saved_at, draft.body) == ("round", "Long Drove", clock.now(), body)
    assert store.load("u2") is None


def test_each_keystroke_replaces_the_one_before_and_keeps_its_turn(store: DraftStore) -> None:
    store.save("u1", "round", "first", {"n": 1})
    store.save("u2", "move", "second", {"n": 1})
    store.save("u1", "round", "first, longer", {"n": 2})
    assert titles(store) == ["first, longer", "second"]
    assert titles(store, "move") == ["second"]
    loaded = store.load("u1")
    assert loaded is not None
    assert loaded.body == {"n": 2}


def test_what_is_put_away_can_be_brought_back_and_what_is_forgotten_is_gone(store: DraftStore) -> None:
    store.save("u1", "round", "first", {})
    store.set_aside("u1")
    assert titles(store) == []
    store.bring_back("u1")
    assert titles(store) == ["first"]
    store.forget("u1")
    store.bring_back("u1")
    assert titles(store) == []


def test_drafts_of_another_ledger_are_left_to_it(
    store: DraftStore, tmp_path: Path, clock: FixedClock
) -> None:
    store.save("u1", "round", "of the farm", {})
    with closing(DraftStore(tmp_path, "sample", clock)) as other:
        assert titles(other) == []
        other.save("u2", "round", "of the sample", {})
    assert titles(store) == ["of the farm"]


@pytest.mark.parametrize("damage", ["no database", "empty pages", "cut in half"])
def test_a_damaged_file_is_moved_aside_and_named(tmp_path: Path, clock: FixedClock, damage: str) -> None:
    with closing(DraftStore(tmp_path, "farm", clock)) as before:
        for number in range(300):
            before.save(f"u{number}", "round", "Long Drove", {"n": "x" * 500})
    file = tmp_path / "drafts.db"
    content = file.read_bytes()
    broken = {
        "no database": b"these are no drafts " * 50,
        "empty pages": content[:4096] + b"\xa5" * (len(content) - 4096),
        "cut in half": content[: len(content) // 2],
    }[damage]
    file.write_bytes(broken)
    with closing(DraftStore(tmp_path, "farm", clock)) as after:
        assert after.moved_aside is not None
        assert after.moved_aside.name == "drafts damaged 20260514-180000.db"
        assert after.moved_aside.read_bytes() == broken
        assert titles(after) == []
        after.save("u1", "round", "goes on", {})
        assert titles(after) == ["goes on"]


def test_two_damaged_files_in_one_second_are_both_kept(tmp_path: Path, clock: FixedClock) -> None:
    for content in (b"first " * 99, b"second " * 99):
        (tmp_path / "drafts.db").write_bytes(content)
        DraftStore(tmp_path, "farm", clock).close()
    kept = sorted(path.read_bytes()[:6] for path in tmp_path.glob("drafts damaged*"))
    assert kept == [b"first ", b"second"]


def test_a_folder_that_is_not_there_is_said(tmp_path: Path, clock: FixedClock) -> None:
    with pytest.raises(CannotNow, match="could not be opened"):
        DraftStore(tmp_path / "none", "farm", clock)


def test_what_was_posted_before_a_crash_is_dropped_at_the_next_start(
    ledger: Ledger, store: DraftStore
) -> None:
    drove = yard(ledger, "Long Drove", "1", "2")
    posted, waiting = str(uuid4()), str(uuid4())
    for uid in (posted, waiting):
        store.save(uid, "round", "Long Drove", {})
    new = drove.round((Line(LOOKED, colony_id=drove.hives["1"]),))
    done = perform_draft(ledger, posted, post_round, new)  # the desk dies here, before it forgets the draft
    assert store.drop_posted(ledger) == [posted]
    assert [draft.uid for draft in store.drafts()] == [waiting]
    assert store.drop_posted(ledger) == []
    with pytest.raises(Refused, match="posted already"):
        perform_draft(ledger, posted, post_round, drove.round(new.lines))
    undo(ledger, done.act)
    with pytest.raises(
        Refused, match="posted already"
    ):  # taken back, it is brought again by taking that back
        perform_draft(ledger, posted, post_round, drove.round(new.lines))


def test_two_desks_that_post_one_draft_post_it_once(ledger: Ledger) -> None:
    uid, outcomes, barrier = str(uuid4()), [], threading.Barrier(4)

    def desk(number: int) -> None:
        barrier.wait()
        try:
            perform_draft(ledger, uid, add_site, NewSite(f"Drove {number}"))
            outcomes.append("posted")
        except Refused as refusal:
            outcomes.append(refusal.findings[0].what)

    desks = [threading.Thread(target=desk, args=(number,)) for number in range(4)]
    for thread in desks:
        thread.start()
    for thread in desks:
        thread.join()
    assert sorted(outcomes) == ["Not done: this draft has been posted already"] * 3 + ["posted"]
    assert ledger.last_act() == 1
    assert check_ledger(ledger).clean


def test_two_windows_of_one_desk_share_the_drafts(tmp_path: Path, clock: FixedClock) -> None:
    with (
        closing(DraftStore(tmp_path, "farm", clock)) as one,
        closing(DraftStore(tmp_path, "farm", clock)) as other,
    ):
        for number in range(50):
            one.save(f"a{number}", "round", "one", {"n": number})
            other.save(f"b{number}", "round", "other", {"n": number})
        assert len(one.drafts()) == len(other.drafts()) == 100


def test_a_full_disk_is_said_and_the_last_keystroke_stands(store: DraftStore) -> None:
    store.save("u1", "round", "Long Drove", {"n": 1})
    pages = store._connection.execute("PRAGMA page_count").fetchone()[0]
    store._connection.execute(f"PRAGMA max_page_count={pages}")
    with pytest.raises(CannotNow, match="The disk is full"):
        store.save("u1", "round", "Long Drove", {"n": "x" * 100_000})
    loaded = store.load("u1")
    assert loaded is not None
    assert loaded.body == {"n": 1}


def test_settling_puts_everything_into_the_one_file(store: DraftStore, tmp_path: Path) -> None:
    store.save("u1", "round", "Long Drove", {"n": 1})
    store.settle()
    copy = tmp_path / "copy.db"  # what the disk holds without the log beside it
    copy.write_bytes((tmp_path / "drafts.db").read_bytes())
    with closing(sqlite3.connect(copy)) as connection:
        assert connection.execute("SELECT uid FROM draft").fetchall() == [("u1",)]


TYPIST = """
import sys
from datetime import UTC, datetime
from pathlib import Path
from beeledger.base.clock import FixedClock
from beeledger.operations.drafts import DraftStore

store = DraftStore(Path(sys.argv[1]), "farm", FixedClock(datetime(2026, 5, 14, 18, 0, tzinfo=UTC)))
first = int(sys.argv[2])
for n in range(first, first + 1_000_000):
    uid = f"u{n % 7}"
    store.save(uid, "round", f"Long Drove {n}", {"n": n, "typed": "b8 f11 s2 " * (n % 40)})
    print(uid, n, flush=True)
"""


def kill_while_typing(folder: Path, first: int, after: int) -> dict[str, int]:
    """Let a process type from ``first`` on and kill it after some keystrokes; what it knew to be saved, by draft."""
    typist = subprocess.Popen(
        [sys.executable, "-c", TYPIST, str(folder), str(first)],
        stdout=subprocess.PIPE, text=True, env=os.environ | {"PYTHONPATH": str(Path.cwd())},
    )  # fmt: skip
    assert typist.stdout is not None
    said = [typist.stdout.readline() for _ in range(after)]  # it types on meanwhile, so the moment is any
    typist.kill()
    said += typist.stdout.readlines()
    typist.stdout.close()
    typist.wait()
    whole_lines = [line.split() for line in said if line.endswith("\n")]
    return {uid: int(n) for uid, n in whole_lines}


def test_a_process_killed_at_any_moment_loses_no_keystroke(tmp_path: Path, clock: FixedClock) -> None:
    chance = random.Random(20260514)
    saved: dict[str, int] = {}
    for kill in range(KILLS):
        saved |= kill_while_typing(tmp_path, kill * 1_000_000 + 1, chance.randint(1, 300))
        with closing(DraftStore(tmp_path, "farm", clock)) as store:
            assert store.moved_aside is None
            kept = {draft.uid: int(draft.body["n"]) for draft in store.drafts()}
        # The keystroke on its way when the process died may be there too, and only that one more.
        assert [uid for uid, n in saved.items() if kept[uid] < n] == []
        ahead = [uid for uid, n in kept.items() if n > saved.get(uid, -1)]
        assert len(ahead) <= 1
        saved = kept
    assert max(saved.values()) > (KILLS - 1) * 1_000_000
