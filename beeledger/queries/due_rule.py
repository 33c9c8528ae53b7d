"""Whether what is due was worked out by the rule that this program has: a newer program may know other reasons."""

from __future__ import annotations

from functools import cache
from hashlib import sha256
from pathlib import Path

from sqlalchemy import func, select
from sqlalchemy.orm import Session

import beeledger.rules
from beeledger.base.resources import ROOT
from beeledger.model.colonies import Colony
from beeledger.model.due import DueRule


def of_this_rule(session: Session) -> bool:
    """Whether the whole list was last worked out by this rule; an empty farm needs none."""
    words = session.scalar(select(DueRule.words))
    return words == rule_words() or not session.scalar(select(func.count(Colony.id)))


@cache
def rule_words() -> str:
    """A hash over the figures and the code from which what is due follows."""
    rules, facts = Path(beeledger.rules.__file__ or "").parent, Path(__file__).parent / "colony_facts.py"
    whole = sha256()
    for file in [*sorted(rules.rglob("*.py")), facts, *sorted((ROOT / "rules").glob("*.toml"))]:
        whole.update(file.read_bytes().replace(b"\r\n", b"\n"))
    return whole.hexdigest()
