"""What is due, worked out anew where another version of the program did it last."""

from __future__ import annotations

from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.queries.due_rule import of_this_rule


def keep_due(ledger: Ledger) -> None:
    """Work out anew what is due everywhere, once, when another version of the program did it last."""
    with ledger.read() as session:
        if of_this_rule(session):
            return
    from beeledger.operations.due import rebuild_all  # noqa: PLC0415  # seldom: not at every start

    perform(ledger, rebuild_all)
