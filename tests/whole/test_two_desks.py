"""Several desks on one ledger, as threads and as processes: acts are serial, nothing is lost, nobody waits for ever."""

from __future__ import annotations

import os
import subprocess
import sys
import threading
from collections.abc import Callable
from pathlib import Path
from uuid import uuid4

import pytest
from sqlalchemy import func, select

from beeledger.base.clock import FixedClock
from beeledger.base.errors import CannotNow, Refused
from beeledger.database import ledger as ledger_module
from beeledger.database.checking.check import check_ledger
from beeledger.database.ledger import Ledger
from beeledger.database.opening import open_ledger
from beeledger.model.acts import Act
from beeledger.model.rounds import Round
from beeledger.model.sites import Site
from beeledger.operations.act import perform, perform_draft
from beeledger.operations.rounds import Line, post_round
from beeledger.operations.sites import NewSite, add_site, change_site
from beeledger.queries.counts import farm_size
from tests.builders.yards import LOOKED, rows, yard


def at_once(*jobs: Callable[[], None]) -> None:
    """Run jobs in threads that start together; what one raises is raised here."""
    barrier, errors = threading.Barrier(len(jobs)), []

    def run(job: Callable[[], None]) -> None:
        barrier.wait()
        try:
            job()
        except BaseException as error:  # noqa: BLE001  # raised again where the test sees it
            errors.append(error)

    threads = [threading.Thread(target=run, args=(job,)) for job in jobs]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    if errors:
        raise errors[0]


def test_desks_that_write_at_once_lose_nothing_and_number_their_acts_without_a_gap(
    target: str, clock: FixedClock
) -> None:
    desks = [open_ledger(target, clock, desk=f"desk {number}") for number in range(3)]

    def write(desk: Ledger) -> Callable[[], None]:
        def job() -> None:
            for turn in range(8):
                perform(desk, add_site, NewSite(f"{desk.desk}, drove {turn}"))

        return job

    at_once(*(write(desk) for desk in desks))
    with desks[0].read() as session:
        acts = session.execute(select(Act.id, Act.desk).order_by(Act.id)).all()
    assert [number for number, _ in acts] == list(range(1, 25))
    assert sorted({desk for _, desk in acts}) == ["desk 0", "desk 1", "desk 2"]
    assert len({site.name for site in rows(desks[1], Site)}) == 24
    assert check_ledger(desks[2]).clean
    for desk in desks:
        desk.close()


def test_two_desks_that_change_one_row_leave_both_changes_in_history(target: str, clock: FixedClock) -> None:
    one, other = open_ledger(target, clock), open_ledger(target, clock)
    site = perform(one, add_site, NewSite("Long Drove", capacity=0)).result

    def count_up(desk: Ledger) -> Callable[[], None]:
        def job() -> None:
            for _ in range(6):
                perform(desk, raise_capacity, site)

        return job

    at_once(count_up(one), count_up(other))
    assert rows(one, Site)[0].capacity == 12  # read within the act, so that none overwrote another's
    assert check_ledger(one).clean
    one.close()
    other.close()


def raise_capacity(act: ledger_module.OpenAct, site_id: int) -> str:
    row = act.session.get_one(Site, site_id)
    return change_site(act, site_id, NewSite(row.name, capacity=(row.capacity or 0) + 1))


def test_two_desks_posting_the_same_round_post_it_once(target: str, clock: FixedClock) -> None:
    one, other = open_ledger(target, clock, desk="office"), open_ledger(target, clock, desk="kitchen")
    drove = yard(one, "Long Drove", "1", "2")
    new, draft, outcomes = drove.round((Line(LOOKED, colony_id=drove.hives["1"]),)), str(uuid4()), []

    def post(desk: Ledger) -> Callable[[], None]:
        def job() -> None:
            try:
                outcomes.append(perform_draft(desk, draft, post_round, new).sentence)
            except Refused as refusal:
                outcomes.append(refusal.findings[0].what)

        return job

    at_once(post(one), post(other))
    assert sorted(outcomes) == [
        "Not done: this draft has been posted already",
        "Posted round, Long Drove, 14 May: 1 hive",
    ]
    assert len(rows(one, Round)) == 1
    assert check_ledger(one).clean
    one.close()
    other.close()


def test_a_round_typed_twice_under_two_drafts_is_known_by_its_own_number(ledger: Ledger) -> None:
    drove = yard(ledger, "Long Drove", "1", "2")
    new = drove.round((Line(LOOKED, colony_id=drove.hives["1"]),))
    perform_draft(ledger, str(uuid4()), post_round, new)
    with pytest.raises(Refused, match="posted already"):
        perform_draft(ledger, str(uuid4()), post_round, new)


def test_a_desk_that_waits_too_long_is_told_who_is_in_the_way_and_nothing_is_lost(
    target: str, clock: FixedClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(ledger_module, "WAIT_MS", 100)
    one, other = open_ledger(target, clock), open_ledger(target, clock)
    with one.act("long_act") as act:
        act.session.add(Site(code="A", name="Slow Drove"))
        act.session.flush()
        with pytest.raises(CannotNow) as caught:
            perform(other, add_site, NewSite("Long Drove"))
    assert caught.value.sentence == "Another desk is writing to the ledger just now."
    assert caught.value.remedy == "Wait a moment and try again."
    perform(other, add_site, NewSite("Long Drove"))
    assert [site.name for site in rows(one, Site)] == ["Slow Drove", "Long Drove"]
    one.close()
    other.close()


def test_reading_goes_on_while_another_desk_writes_and_sees_one_moment(
    target: str, clock: FixedClock
) -> None:
    one, other = open_ledger(target, clock), open_ledger(target, clock)
    perform(one, add_site, NewSite("Long Drove"))
    with other.read() as session:
        assert farm_size(session).sites == 1
        perform(one, add_site, NewSite("Far Drove"))
        assert farm_size(session).sites == 1  # this desk's list is of one moment from first to last query
    with one.act("half_done") as act:
        act.session.add(Site(code="A", name="Half Drove"))
        act.session.flush()
        with other.read() as session:
            assert farm_size(session).sites == 2
    one.close()
    other.close()


def test_each_desk_hears_of_the_others_acts_by_their_number(target: str, clock: FixedClock) -> None:
    one, other = open_ledger(target, clock), open_ledger(target, clock)
    assert other.last_act() == 0
    perform(one, add_site, NewSite("Long Drove"))
    assert other.last_act() == 1
    one.close()
    other.close()


def test_two_desks_that_make_a_new_ledger_at_once_make_one(
    kind: str, new_target: Callable[..., str], clock: FixedClock
) -> None:
    target = new_target(kind, migrated=False)
    at_once(*(lambda: open_ledger(target, clock).close() for _ in range(2)))
    ledger = open_ledger(target, clock)
    assert check_ledger(ledger).clean
    ledger.close()


DESK = """
import sys
from datetime import UTC, datetime
from beeledger.base.clock import FixedClock
from beeledger.database.opening import open_ledger
from beeledger.operations.act import perform
from beeledger.operations.colonies import found_colonies, hives_at
from beeledger.operations.sites import NewSite, add_site

clock = FixedClock(datetime(2026, 5, 14, 18, 0, tzinfo=UTC))
ledger = open_ledger(sys.argv[1], clock, desk=sys.argv[2])
for turn in range(int(sys.argv[3])):
    site = perform(ledger, add_site, NewSite(f"{sys.argv[2]} {turn}"))
    print(site.act, flush=True)
    done = perform(ledger, found_colonies, hives_at(site.result, clock.today(), [f"{sys.argv[2]}{turn}-{n}" for n in range(5)]))
    print(done.act, flush=True)
ledger.close()
"""


def desk_process(target: str, desk: str, turns: int) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-c", DESK, target, desk, str(turns)],
        stdout=subprocess.PIPE, text=True, env=os.environ | {"PYTHONPATH": str(Path.cwd())},
    )  # fmt: skip


def test_desks_in_processes_of_their_own_lose_nothing(target: str, clock: FixedClock) -> None:
    desks = [desk_process(target, name, 6) for name in ("a", "b")]
    said = [set(map(int, desk.communicate()[0].split())) for desk in desks]
    assert [desk.returncode for desk in desks] == [0, 0]
    assert said[0] | said[1] == set(range(1, 25))
    ledger = open_ledger(target, clock)
    with ledger.read() as session:
        assert (farm_size(session).sites, farm_size(session).colonies) == (12, 60)
    assert check_ledger(ledger).clean
    ledger.close()


@pytest.mark.parametrize("after", [1, 2, 5, 8])
def test_a_desk_killed_while_posting_leaves_whole_acts_only(
    target: str, clock: FixedClock, after: int
) -> None:
    desk = desk_process(target, "a", 1_000)
    assert desk.stdout is not None
    said = [
        desk.stdout.readline() for _ in range(after)
    ]  # it goes on meanwhile: the moment of the end is any
    desk.kill()
    said += desk.stdout.readlines()
    desk.stdout.close()
    desk.wait()
    told = [int(line) for line in said if line.endswith("\n")]
    ledger = open_ledger(target, clock)
    with ledger.read() as session:
        last = session.scalar(select(func.max(Act.id)))
    assert last in {
        max(told),
        max(told) + 1,
    }  # all it knew to be done is there, and at most the one on its way
    assert check_ledger(ledger).clean
    perform(ledger, add_site, NewSite("Goes on"))
    ledger.close()
