"""A farm to which anything may happen in any order: random acts of every room, taken back and brought again."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any
from uuid import UUID

from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, precondition, rule
from sqlalchemy import select

from beeledger.base.clock import FixedClock
from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade
from beeledger.database.audit import OpenAct
from beeledger.database.ledger import Ledger
from beeledger.database.opening import open_ledger
from beeledger.model.base import Base
from beeledger.model.colonies import Colony, HiveMark
from beeledger.model.honey import Batch, HoneyLot, Take
from beeledger.model.moves import Move
from beeledger.model.rounds import Round
from beeledger.model.sites import Site
from beeledger.operations.act import Done, perform
from beeledger.operations.checking import check_whole
from beeledger.operations.colonies import NewColony, end_colonies, found_colonies, give_mark
from beeledger.operations.hive_marks import swap_marks
from beeledger.operations.hiving import hive_up
from beeledger.operations.honey import Filled, NewBlend, NewExtraction, blend, extract_run
from beeledger.operations.honey_lots import Draw, NewLot, NewSink, open_lot, sink_honey
from beeledger.operations.labels import NewBatch, jar_batch
from beeledger.operations.moves import correct_move, post_move
from beeledger.operations.parties import NewVehicle, add_vehicle
from beeledger.operations.queens import NewQueen, end_queen, put_queen
from beeledger.operations.rounds import Line, RoundToPost, correct_round, post_round
from beeledger.operations.sites import NewSite, add_site, change_site, close_site
from beeledger.operations.takes import NewTake, NewTakeLine, NewWeighing, Weighed, record_take, weigh_take
from beeledger.operations.undo import undo
from beeledger.queries.move_checks import finding_key
from beeledger.queries.records.move_desk import Carried, NewMove
from beeledger.rules.rounds.entry import (
    Entry,
)
from tests.builders.yards import strips, whole, yard
from tests.servers import memory_folder
from tests.whole.farm_facts import days, entries, marks, minutes, picks

KEPT = Path(tempfile.gettempdir()) / "failed-farms"
"""Where a farm that failed is left, so that it can be opened and looked at."""


class Farm(RuleBasedStateMachine):
    """One ledger in one file; every rule is one act of a person."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp(prefix="farm-", dir=memory_folder()))
        self.clock = FixedClock(datetime(2026, 5, 14, 18, 0, tzinfo=UTC), "Europe/London")
        self.ledger: Ledger = open_ledger(self.folder / "farm.beeledger", self.clock)
        self.done = self.refused = self.numbers = 0
        self.sound = False
        yard(self.ledger, "Long Drove", "1", "2", "3")
        yard(self.ledger, "Far Drove", "4", "5")
        perform(self.ledger, add_vehicle, NewVehicle("Blue van", 6, 800_000))
        strips(self.ledger)
        self.sound = True

    def teardown(self) -> None:
        """Closed and opened the ledger says the same; a farm that failed is kept."""
        try:
            if self.sound:
                self.sound = False
                before = whole(self.ledger)
                self.ledger.close()
                self.ledger = open_ledger(self.folder / "farm.beeledger", self.clock, create=False)
                assert whole(self.ledger) == before
                self.sound = True
        finally:
            self.ledger.close()
            if not self.sound:
                shutil.copytree(self.folder, KEPT / self.folder.name)
            shutil.rmtree(self.folder)

    def act(self, operation: Callable[..., str], *said: Any, again: bool = False) -> Done | None:
        """Do it; what is refused has changed nothing, what is done leaves every line true and can be taken back."""
        self.sound = False
        before = whole(self.ledger)
        try:
            done = perform(self.ledger, operation, *said)
        except Refused:
            self.refused += 1
            assert whole(self.ledger) == before
            self.sound = True
            return None
        self.done += 1
        self._all_true()
        if again:
            after = whole(self.ledger)
            back = undo(self.ledger, done.act)
            assert whole(self.ledger) == before
            undo(self.ledger, back.act)
            assert whole(self.ledger) == after
        self.sound = True
        return done

    def settle(
        self, operation: Callable[..., str], make: Callable[[list[Finding]], tuple[Any, ...]], again: bool
    ) -> None:
        """The same where questions may be asked: they are accepted, with a reason, as the office would."""
        said = make([])
        try:
            perform(self.ledger, _only_asked, operation, said)
        except Asked:
            pass
        except Refused as refusal:
            said = make([found for found in refusal.findings if found.grade is Grade.AGAINST])
        self.act(operation, *said, again=again)

    def _all_true(self) -> None:
        found = [finding.sentence() for finding in check_whole(self.ledger).findings]
        assert found == [], found

    def ids(self, model: type[Base], *conditions: Any) -> list[Any]:
        """The numbers of the rows there are."""
        with self.ledger.read() as session:
            key: Any = model
            return list(session.scalars(select(key.id).where(*conditions).order_by(key.id)))

    def pick(self, which: int, model: type[Base], *conditions: Any) -> int:
        """One of them, or a number that none has."""
        numbers = self.ids(model, *conditions)
        return numbers[which % len(numbers)] if numbers else 10_000

    def next_uid(self) -> str:
        self.numbers += 1
        return str(UUID(int=self.numbers))

    @rule(
        name=st.sampled_from(["Long Drove", "Near Drove", "Low Dyke"]),
        capacity=st.none() | st.integers(-1, 9),
        again=st.booleans(),
    )
    def add_a_site(self, name: str, capacity: int | None, again: bool) -> None:
        self.act(add_site, NewSite(name, capacity=capacity), again=again)

    @rule(which=picks, name=st.sampled_from(["Long Drove", "High Drove"]), again=st.booleans())
    def change_a_site(self, which: int, name: str, again: bool) -> None:
        self.act(change_site, self.pick(which, Site), NewSite(name), again=again) if self.ids(Site) else None

    @rule(which=picks, on=days, again=st.booleans())
    def give_up_a_site(self, which: int, on: date, again: bool) -> None:
        self.act(close_site, self.pick(which, Site), on, again=again)

    @rule(
        site=picks,
        on=days,
        mark=st.none() | marks,
        kind=st.sampled_from(["full", "nucleus"]),
        queen=st.booleans(),
        minute=minutes,
        again=st.booleans(),
    )
    def found_a_colony(
        self, site: int, on: date, mark: str | None, kind: str, queen: bool, minute: int, again: bool
    ) -> None:
        new = NewColony(
            mark, self.pick(site, Site), on, kind=kind, queen=NewQueen(2025) if queen else None, minute=minute
        )
        self.act(found_colonies, [new], again=again)

    @rule(
        which=st.lists(picks, min_size=1, max_size=2),
        on=days,
        cause=st.sampled_from(["starvation", "sold"]),
        minute=minutes,
        again=st.booleans(),
    )
    def end_some_colonies(self, which: list[int], on: date, cause: str, minute: int, again: bool) -> None:
        numbers = sorted({self.pick(one, Colony) for one in which})
        self.act(end_colonies, numbers, on, cause, minute, again=again)

    @rule(which=picks, mark=marks | st.just(""), on=days, again=st.booleans())
    def give_a_number(self, which: int, mark: str, on: date, again: bool) -> None:
        self.act(give_mark, self.pick(which, Colony, Colony.ended_on.is_(None)), mark, on, again=again)

    @rule(mark=marks, other=marks, since=days, again=st.booleans())
    def swap_numbers(self, mark: str, other: str, since: date, again: bool) -> None:
        self.act(swap_marks, mark, other, since, again=again)

    @rule(which=picks, on=days, again=st.booleans())
    def give_a_queen(self, which: int, on: date, again: bool) -> None:
        self.act(put_queen, self.pick(which, Colony), NewQueen(2026), on, again=again)

    @rule(which=picks, on=days, again=st.booleans())
    def end_a_queen(self, which: int, on: date, again: bool) -> None:
        self.act(end_queen, self.pick(which, Colony), on, "failed", again=again)

    @rule(which=picks, on=days, again=st.booleans())
    def hive_up_a_nucleus(self, which: int, on: date, again: bool) -> None:
        self.act(hive_up, [self.pick(which, Colony, Colony.kind == "nucleus")], on, again=again)

    @rule(
        which=st.lists(picks, min_size=1, max_size=3),
        start=picks,
        goal=picks,
        on=days,
        left=minutes,
        took=st.integers(-5, 300),
        outcome=st.sampled_from(["delivered", "delivered", "lost", "left behind"]),
        old=st.none() | picks,
        again=st.booleans(),
    )
    def move_hives(
        self,
        which: list[int],
        start: int,
        goal: int,
        on: date,
        left: int,
        took: int,
        outcome: str,
        old: int | None,
        again: bool,
    ) -> None:
        numbers = sorted({self.pick(one, Colony) for one in which})
        hives = tuple(
            Carried(number, outcome=outcome if number == numbers[0] else "delivered") for number in numbers
        )
        move = NewMove(
            self.pick(start, Site),
            self.pick(goal, Site),
            on,
            left,
            (left + took) % 1440,
            hives,
            vehicle_id=1,
            exempt=True,
        )
        moves = self.ids(Move)
        if old is None or not moves:
            self.settle(post_move, lambda asked: (_accepting(move, asked),), again)
        else:
            self.settle(correct_move, lambda asked: (moves[old % len(moves)], _accepting(move, asked)), again)

    @rule(
        site=picks,
        on=days,
        lines=st.lists(st.tuples(picks, entries), min_size=1, max_size=3),
        old=st.none() | st.none() | picks,
        again=st.booleans(),
    )
    def post_a_round(
        self, site: int, on: date, lines: list[tuple[int, Entry]], old: int | None, again: bool
    ) -> None:
        by_colony = {self.pick(which, Colony): entry for which, entry in lines}
        new = RoundToPost(
            self.next_uid(),
            self.pick(site, Site),
            on,
            tuple(Line(entry, colony_id=number) for number, entry in by_colony.items()),
        )
        rounds = self.ids(Round)
        if old is None or not rounds:
            self.settle(post_round, lambda asked: (_answered(new, asked),), again)
            return
        number = rounds[old % len(rounds)]
        with self.ledger.read() as session:
            was = session.get_one(Round, number)
            new = replace(new, site_id=was.site_id, uid=was.uid)
        self.settle(correct_round, lambda asked: (number, _answered(new, asked)), again)

    @rule(site=picks, on=days, which=st.none() | picks, supers=st.integers(1, 3), again=st.booleans())
    def take_supers(self, site: int, on: date, which: int | None, supers: int, again: bool) -> None:
        line = NewTakeLine(supers, None if which is None else self.pick(which, Colony))

        def make(asked: list[Finding]) -> tuple[NewTake]:
            reason = "marked as feed" if asked else None
            accepted = frozenset(found.code for found in asked)
            return (NewTake(self.pick(site, Site), on, (replace(line, reason=reason),), accepted=accepted),)

        self.settle(record_take, make, again)

    @precondition(lambda self: self.ids(Take))
    @rule(which=picks, on=days, net=st.integers(1, 20_000), again=st.booleans())
    def weigh_supers(self, which: int, on: date, net: int, again: bool) -> None:
        self.act(
            weigh_take, NewWeighing(self.pick(which, Take), on, (Weighed(net + 7_500, 7_500),)), again=again
        )

    @rule(on=days, grams=st.integers(0, 30_000), again=st.booleans())
    def open_a_lot(self, on: date, grams: int, again: bool) -> None:
        self.act(open_lot, NewLot("old drum", on, grams), again=again)

    @precondition(lambda self: self.ids(HoneyLot))
    @rule(
        which=st.lists(picks, min_size=1, max_size=2),
        on=days,
        net=st.integers(1, 25_000),
        finish=st.booleans(),
        again=st.booleans(),
    )
    def extract(self, which: list[int], on: date, net: int, finish: bool, again: bool) -> None:
        lots = tuple(sorted({self.pick(one, HoneyLot) for one in which}))
        self.act(
            extract_run,
            NewExtraction(on, lots, (Filled("drum", net + 1_000, 1_000),), finish=finish),
            again=again,
        )

    @precondition(lambda self: self.ids(HoneyLot))
    @rule(which=picks, into=st.none() | picks, on=days, grams=st.integers(1, 9_000), again=st.booleans())
    def blend_honey(self, which: int, into: int | None, on: date, grams: int, again: bool) -> None:
        goal = None if into is None else self.pick(into, HoneyLot)
        new = NewBlend(on, (Draw(self.pick(which, HoneyLot), grams),), "" if goal else "tank", into_id=goal)
        self.settle(
            blend, lambda asked: (replace(new, accepted=frozenset(one.code for one in asked)),), again
        )

    @precondition(lambda self: self.ids(HoneyLot))
    @rule(which=picks, on=days, jars=st.integers(0, 20), again=st.booleans())
    def jar(self, which: int, on: date, jars: int, again: bool) -> None:
        new = NewBatch(self.pick(which, HoneyLot), on, 340, jars)
        self.settle(
            jar_batch, lambda asked: (replace(new, accepted=frozenset(one.code for one in asked)),), again
        )

    @precondition(lambda self: self.ids(HoneyLot))
    @rule(
        which=picks,
        on=days,
        sink=st.sampled_from(["wax", "feed", "dispatch"]),
        grams=st.integers(0, 5_000),
        again=st.booleans(),
    )
    def spend_honey(self, which: int, on: date, sink: str, grams: int, again: bool) -> None:
        self.act(sink_honey, NewSink(self.pick(which, HoneyLot), on, sink, grams), again=again)

    @rule(back=st.integers(0, 6))
    def take_back(self, back: int) -> None:
        """Any of the last acts, whatever it was."""
        self.sound = False
        before = whole(self.ledger)
        try:
            undo(self.ledger, max(1, self.ledger.last_act() - back))
        except Refused:
            assert whole(self.ledger) == before
        else:
            self._all_true()
        self.sound = True

    @rule()
    def look(self) -> None:
        """Numbers are on living hives only, and each lot mark is one."""
        with self.ledger.read() as session:
            open_marks = session.scalars(select(HiveMark.mark).where(HiveMark.until_on.is_(None))).all()
            batches = session.scalars(select(Batch.lot_mark)).all()
        assert len(set(open_marks)) == len(open_marks)
        assert len(set(batches)) == len(batches)


class Asked(Exception):
    """The act was only asked what it would say: nothing is written."""


def _only_asked(act: OpenAct, operation: Callable[..., str], said: tuple[Any, ...]) -> str:
    operation(act, *said)
    raise Asked


def _accepting(move: NewMove, asked: list[Finding]) -> NewMove:
    return replace(move, accepted=frozenset(finding_key(found) for found in asked))


def _answered(new: RoundToPost, asked: list[Finding]) -> RoundToPost:
    codes = frozenset(found.code for found in asked)
    reason = "as the sheet says" if asked else None
    return replace(new, lines=tuple(replace(line, accepted=codes, reason=reason) for line in new.lines))
