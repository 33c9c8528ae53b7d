"""Any rounds, posted and put right in any order and taken back again, leave the ledger as it was before them.

Drawn at random, with honey weighed from what they took off. A few seconds in the suite;
BEELEDGER_HYPOTHESIS=night draws more and longer.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any
from uuid import UUID

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import select

from beeledger.base.clock import FixedClock
from beeledger.base.errors import Refused
from beeledger.base.findings import Grade
from beeledger.database.audit import OpenAct
from beeledger.database.ledger import Ledger
from beeledger.database.opening import open_ledger
from beeledger.model.acts import Act
from beeledger.model.base import Base
from beeledger.model.honey import Take
from beeledger.model.rounds import Round
from beeledger.operations.act import perform
from beeledger.operations.due import rebuild_all
from beeledger.operations.rounds import Line, RoundToPost, Swap, correct_round, post_round
from beeledger.operations.takes import NewWeighing, Weighed, weigh_take
from beeledger.operations.undo import is_undone, undo
from beeledger.rules.rounds.entry import Entry, Outcome
from tests.builders.yards import rows, sound, strips, whole, yard
from tests.whole.farm_facts import TODAY, days, entries, marks, picks


class Looked(Exception):
    """The ledger was only looked at: nothing is written."""


NIGHT = os.environ.get("BEELEDGER_HYPOTHESIS") == "night"
pytestmark = pytest.mark.timeout(0 if NIGHT else 120)


@dataclass(frozen=True)
class Step:
    """One round, or the weighing of a take."""

    on: date
    lines: tuple[tuple[str, Entry], ...]
    old: int | None
    swap: bool
    weigh: bool
    site: int


steps = st.builds(
    Step,
    days,
    st.lists(st.tuples(marks, entries), min_size=1, max_size=3, unique_by=lambda line: line[0]).map(tuple),
    st.none() | picks,
    st.integers(0, 7).map(lambda drawn: drawn == 0),
    st.integers(0, 4).map(lambda drawn: drawn == 0),
    st.integers(1, 2),
)


@pytest.fixture(scope="module")
def start(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two sites with six hives and a usual medicine."""
    file = tmp_path_factory.mktemp("start") / "farm.beeledger"
    ledger = open_ledger(file, clock())
    yard(ledger, "Long Drove", "1", "2", "3", on=date(2026, 3, 1))
    yard(ledger, "Far Drove", "4", "5", "6", on=date(2026, 3, 1))
    strips(ledger)
    ledger.close()
    return file


def clock() -> FixedClock:
    return FixedClock(datetime(2026, 5, 14, 18, 0, tzinfo=UTC), "Europe/London")


@settings(
    max_examples=300 if NIGHT else 10, deadline=None, database=None, derandomize=not NIGHT,
    suppress_health_check=list(HealthCheck),
)  # fmt: skip
@given(drawn=st.lists(steps, min_size=3, max_size=10 if NIGHT else 7), order=st.lists(picks, max_size=4))
def test_rounds_posted_and_put_right_are_taken_back_to_the_ledger_that_was(
    start: Path, tmp_path_factory: pytest.TempPathFactory, drawn: list[Step], order: list[int]
) -> None:
    file = tmp_path_factory.mktemp("rounds") / "farm.beeledger"
    shutil.copyfile(start, file)
    ledger = open_ledger(file, clock())
    try:
        first, states = ledger.last_act(), [whole(ledger)]
        for number, step in enumerate(drawn):
            if _do(ledger, step, number):
                states.append(whole(ledger))
                assert sound(ledger)
                assert _due_stands(ledger)
        last = first + len(states) - 1
        for act, state in zip(range(last, first, -1), states[-2::-1], strict=True):
            undo(ledger, act)
            assert whole(ledger) == state
        for act in range(ledger.last_act(), last, -1):
            undo(ledger, act)  # all brought again
        assert whole(ledger) == states[-1]
        _take_back_anyhow(ledger, first, order)
        assert whole(ledger) == states[0]
    finally:
        ledger.close()
        shutil.rmtree(file.parent)


def _do(ledger: Ledger, step: Step, number: int) -> bool:
    takes = rows(ledger, Take)
    if step.weigh and takes:
        take = takes[number % len(takes)]
        turn = NewWeighing(take.id, TODAY, (Weighed(20_000, 7_500),))
        return _done(ledger, weigh_take, lambda _codes, _reason: (turn,))
    rounds = rows(ledger, Round)
    if step.old is not None and rounds:
        old = rounds[step.old % len(rounds)]
        new = replace(_round(step, number), uid=old.uid, site_id=old.site_id)
        return _done(ledger, correct_round, lambda *answer: (old.id, _answered(new, *answer)))
    new = _round(step, number)
    return _done(ledger, post_round, lambda *answer: (_answered(new, *answer),))


def _round(step: Step, number: int) -> RoundToPost:
    lines = tuple(Line(entry, mark=mark) for mark, entry in step.lines)
    swaps = (Swap("1", "2", step.on),) if step.swap else ()
    return RoundToPost(str(UUID(int=number)), step.site, step.on, lines, swaps=swaps)


def _answered(new: RoundToPost, codes: frozenset[str], reason: str | None) -> RoundToPost:
    lines = (
        replace(line, accepted=codes, reason=reason)
        if line.entry.outcome is not Outcome.STRANGER
        else replace(line, reason=reason)
        for line in new.lines
    )
    return replace(new, lines=tuple(lines))


def _done(
    ledger: Ledger,
    operation: Callable[..., str],
    said: Callable[[frozenset[str], str | None], tuple[Any, ...]],
) -> bool:
    """Done as the office would: questions are accepted, with a reason; what is refused has changed nothing."""
    before = whole(ledger)
    codes: frozenset[str] = frozenset()
    for _ in range(3):
        try:
            perform(ledger, operation, *said(codes, "as the sheet says" if codes else None))
        except Refused as refusal:
            assert whole(ledger) == before
            codes |= {one.code for one in refusal.findings if one.grade is Grade.AGAINST}
        else:
            return True
    return False


def _due_stands(ledger: Ledger) -> bool:
    """What is due by the table is what the rule makes of the facts."""
    before = whole(ledger)["due"]

    def look(act: OpenAct) -> str:
        rebuild_all(act)
        columns = [column for column in Base.metadata.tables["due"].columns if column.name != "id"]
        assert sorted(map(repr, act.session.execute(select(*columns)))) == before
        raise Looked

    with pytest.raises(Looked):
        perform(ledger, look)
    return True


def _take_back_anyhow(ledger: Ledger, first: int, order: list[int]) -> None:
    """Some in any order, as far as nothing stands on them; then the rest, the last first."""
    last = ledger.last_act()
    for which in order:
        before = whole(ledger)
        try:
            undo(ledger, first + 1 + which % (last - first) if last > first else 0)
        except Refused:
            assert whole(ledger) == before
        assert sound(ledger)
    for act in range(ledger.last_act(), first, -1):
        with ledger.read() as session:
            row = session.get_one(Act, act)
            counts = row.undoes_act_id is None and not is_undone(session, act)
        if counts:
            undo(ledger, act)
