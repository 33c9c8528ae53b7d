"""Who works on the farm."""

from __future__ import annotations

import pytest

from beeledger.base.errors import Refused
from beeledger.database.ledger import Ledger
from beeledger.model.parties import CrewMember
from beeledger.operations.act import perform
from beeledger.operations.crew import add_crew_member, change_crew_member
from tests.builders.yards import rows


def test_somebody_is_taken_on_by_initials_and_leaves(ledger: Ledger) -> None:
    member = perform(ledger, add_crew_member, "AB", "Alba Brand").result
    done = perform(ledger, change_crew_member, member, "Alba Brand", works_here=False)
    assert done.sentence == "Alba Brand left the crew"
    assert [(row.initials, row.works_here) for row in rows(ledger, CrewMember)] == [("AB", False)]


def test_no_two_of_the_crew_share_their_initials(ledger: Ledger) -> None:
    perform(ledger, add_crew_member, "AB", "Alba Brand")
    for initials, why in (("ab", "Alba Brand has the initials AB"), (" ", "needs initials")):
        with pytest.raises(Refused, match=why):
            perform(ledger, add_crew_member, initials, "Ann Bell")
