"""Whether what is due was worked out by the rule that this program has: a newer program may know other reasons."""

from __future__ import annotations

from functools import cache
from hashlib import sha256
from pathlib import Path

from sqlalchemy import func, select

import beeledger.queries
import beeledger.rules
from beeledger.base.resources import ROOT
from beeledger.database.ledger import Ledger
from beeledger.model.colonies import Colony
from beeledger.model.due import DueRule
from beeledger.operations.act import perform


def keep_due(ledger: Ledger) -> None:
    """Work out anew what is due everywhere, once, when another version of the program did it last."""
    if not of_this_rule(ledger):
        from beeledger.operations.due import rebuild_all  # noqa: PLC0415  # seldom: not at every start

        perform(ledger, rebuild_all)


def of_this_rule(ledger: Ledger) -> bool:
    """Whether the whole list was last worked out by this rule; an empty farm needs none."""
    with ledger.read() as session:
        words = session.scalar(select(DueRule.words))
        return words == rule_words() or not session.scalar(select(func.count(Colony.id)))


@cache
def rule_words() -> str:
    """A hash over the figures and the code from which what is due follows."""
    rules, queries = (Path(room.__file__ or "").parent for room in (beeledger.rules, beeledger.queries))
    files = [
        *sorted(rules.rglob("*.py")),
        queries / "colony_facts.py",
        *sorted((ROOT / "rules").glob("*.toml")),
    ]
    whole = sha256()
    for file in files:
        whole.update(file.read_bytes().replace(b"\r\n", b"\n"))
    return whole.hexdigest()
