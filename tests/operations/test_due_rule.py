"""A newer program may know other reasons: what is due is worked out anew, once, when it opens the ledger."""

from __future__ import annotations

from sqlalchemy import delete, update

from beeledger.model.due import Due, DueRule
from beeledger.operations.checking import check_whole
from beeledger.operations.due_rule import keep_due
from beeledger.queries.acts import acts
from beeledger.queries.due_rule import of_this_rule
from tests.builders.yards import LOOKED, yard


def test_what_another_version_worked_out_is_worked_out_anew_once(ledger):
    drove = yard(ledger, "Long Drove", "1", "2")
    drove.post(h1=LOOKED, h2=LOOKED)
    with ledger.read() as session:
        assert of_this_rule(session)
    with ledger.engine.connect().execution_options(ledger_mode="write") as raw, raw.begin():
        raw.execute(delete(Due))
        raw.execute(update(DueRule), {"words": "another rule"})
    assert [finding.where.record for finding in check_whole(ledger).findings] != []
    keep_due(ledger)
    assert check_whole(ledger).clean
    with ledger.read() as session:
        before = [line.kind for line in acts(session)]
    keep_due(ledger)
    with ledger.read() as session:
        assert [line.kind for line in acts(session)] == before
    assert before[0] == "rebuild_all"


def test_an_empty_farm_needs_no_working_out(ledger):
    keep_due(ledger)
    with ledger.read() as session:
        assert not list(acts(session))
