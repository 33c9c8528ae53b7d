"""How far a new farm has come."""

from __future__ import annotations

from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.colonies import found_colonies, hives_at
from beeledger.operations.farm import set_farm
from beeledger.operations.rounds import Line, RoundToPost, post_round
from beeledger.operations.sites import NewSite, add_site
from beeledger.queries.first_steps import FirstSteps, first_steps
from beeledger.rules.rounds.entry import Entry, Outcome
from tests.builders.yards import SPRING


def steps_of(ledger: Ledger) -> FirstSteps:
    with ledger.read() as session:
        return first_steps(session)


def test_an_empty_ledger_has_no_step_done(ledger: Ledger):
    assert steps_of(ledger) == FirstSteps("", 0, 0, None, "", posted=False)


def test_each_act_is_a_step_and_the_first_round_is_where_most_hives_stand(ledger: Ledger):
    perform(ledger, set_farm, {"name": "Fen End Farm"})
    small = perform(ledger, add_site, NewSite("Alder Carr")).result
    large = perform(ledger, add_site, NewSite("Kiln Meadow")).result
    perform(ledger, found_colonies, hives_at(small, SPRING, ["1"]))
    (one, *_) = perform(ledger, found_colonies, hives_at(large, SPRING, ["2", "3"])).result
    assert steps_of(ledger) == FirstSteps("Fen End Farm", 2, 3, large, "Kiln Meadow", posted=False)
    line = Line(Entry(outcome=Outcome.LOOKED, eggs=True), colony_id=one)
    perform(ledger, post_round, RoundToPost("first", large, SPRING, (line,)))
    assert steps_of(ledger).posted
