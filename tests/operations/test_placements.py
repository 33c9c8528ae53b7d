"""Chains written: whatever the rules make of a chain, the database takes at every step."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from hypothesis import HealthCheck, given, settings

from beeledger.database.audit import OpenAct
from beeledger.database.checking.check import check_ledger
from beeledger.database.ledger import Ledger
from beeledger.model.colonies import Colony
from beeledger.operations.act import perform
from beeledger.operations.colonies import found_colonies, hives_at
from beeledger.operations.parties import NewVehicle, add_vehicle
from beeledger.operations.placements import chains, end_stays, place, rewrite, stay_of
from beeledger.operations.sites import NewSite, add_site
from beeledger.operations.undo import undo
from beeledger.rules.placements import Stay
from tests.builders.yards import SPRING, whole
from tests.rules.chains import START, Life, Step, at, day, some_steps


def yard_of_four(ledger: Ledger) -> None:
    """Four sites and a van, by the numbers that the random trips name."""
    if ledger.last_act() == 0:
        for name in ("One", "Two", "Three", "Four"):
            perform(ledger, add_site, NewSite(name))
        perform(ledger, add_vehicle, NewVehicle("Blue van", 6, 800_000))


def new_colonies(act: OpenAct, how_many: int) -> str:
    colonies = [Colony(founded_on=START.date(), founded_how="swarm") for _ in range(how_many)]
    act.session.add_all(colonies)
    act.session.flush()
    for colony in colonies:
        place(act, colony.id, 1, START, START.date())
    act.result = [colony.id for colony in colonies]
    return "Founded"


def without_lines(chain: Sequence[Stay]) -> list[Stay]:
    return [replace(stay, move_line_id=None) for stay in chain]


def write(act: OpenAct, wanted: dict[int, Sequence[Stay]], ended: bool) -> str:
    rewrite(act, wanted)
    for colony_id in wanted:
        colony = act.session.get_one(Colony, colony_id)
        colony.ended_on, colony.end_cause = (max(day(60), START.date()), "unknown") if ended else (None, None)
    return "Rewritten"


def standing(ledger: Ledger, ids: list[int]) -> dict[int, list[Stay]]:
    with ledger.act("look") as act:
        return {colony_id: [stay_of(row) for row in rows] for colony_id, rows in chains(act, ids).items()}


@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(first=some_steps, second=some_steps)
def test_the_database_takes_every_chain_that_the_rules_make(
    ledger: Ledger, first: list[Step], second: list[Step]
) -> None:
    yard_of_four(ledger)
    ids = perform(ledger, new_colonies, 2).result
    lives = (Life(), Life())
    for one, other in zip(_padded(first, second), _padded(second, first), strict=True):
        for life, step in zip(lives, (one, other), strict=True):
            if step is not None:
                life.take(step)
        alive = {life.ended is None for life in lives}
        if len(alive) == 1 and all(life.chain for life in lives):
            wanted = {number: without_lines(life.chain) for number, life in zip(ids, lives, strict=True)}
            perform(ledger, write, wanted, alive == {False})
            assert standing(ledger, ids) == wanted
    if len({life.ended is None for life in lives}) == 1:
        assert check_ledger(ledger).clean


def _padded(steps: list[Step], other: list[Step]) -> list[Step | None]:
    return [*steps, *([None] * max(0, len(other) - len(steps)))]


def test_rows_that_stay_as_they_are_are_not_touched(ledger: Ledger) -> None:
    yard_of_four(ledger)
    (number,) = perform(ledger, new_colonies, 1).result
    (home,) = standing(ledger, [number])[number]
    chain = [
        replace(home, until_at=at(10), until_on=day(10)),
        Stay("site", at(10), day(10), at(20), day(20), site_id=2),
        Stay("site", at(20), day(20), site_id=3),
    ]
    perform(ledger, rewrite_as, number, chain)
    done = perform(ledger, rewrite_as, number, [*chain[:2], replace(chain[2], site_id=4)])
    with ledger.act("look") as act:
        versions = [row.version for row in chains(act, [number])[number]]
    assert versions == [done.act - 1, done.act - 1, done.act]
    same = perform(ledger, rewrite_as, number, [*chain[:2], replace(chain[2], site_id=4)])
    assert same.touched == frozenset()


def rewrite_as(act: OpenAct, number: int, chain: Sequence[Stay]) -> str:
    rewrite(act, {number: chain})
    return "Rewritten"


def test_a_rewritten_chain_is_taken_back_as_it_was(ledger: Ledger) -> None:
    yard_of_four(ledger)
    (number,) = perform(ledger, new_colonies, 1).result
    (home,) = standing(ledger, [number])[number]
    chain = [replace(home, until_at=at(10), until_on=day(10)), Stay("site", at(10), day(10), site_id=2)]
    perform(ledger, rewrite_as, number, chain)
    before = whole(ledger)
    for wanted in (
        [home],
        [replace(home, until_at=at(5), until_on=day(5)), Stay("site", at(5), day(5), site_id=3)],
        [replace(home, until_at=at(30), until_on=day(30)), Stay("vehicle", at(30), day(30), vehicle_id=1)],
        [
            chain[0],
            replace(chain[1], until_at=at(11), until_on=day(11)),
            Stay("unaccounted", at(11), day(11)),
        ],
    ):
        done = perform(ledger, rewrite_as, number, wanted)
        assert whole(ledger) != before
        undo(ledger, done.act)
        assert whole(ledger) == before


def test_ends_of_several_hives_close_their_chains(ledger: Ledger) -> None:
    yard_of_four(ledger)
    ids = perform(ledger, found_colonies, hives_at(1, SPRING, ["1", "2", "3"])).result

    def end(act: OpenAct) -> str:
        end_stays(act, ids[:2], at(900), day(900))
        return "Ended"

    perform(ledger, end)
    ends = [standing(ledger, ids)[number][-1].until_at for number in ids]
    assert ends == [at(900), at(900), None]
