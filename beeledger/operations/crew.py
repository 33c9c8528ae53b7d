"""The crew: known by their initials on the sheets."""

from __future__ import annotations

from sqlalchemy import select

from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import folded, tidy
from beeledger.database.audit import OpenAct
from beeledger.model.parties import CrewMember


def add_crew_member(act: OpenAct, initials: str, name: str) -> str:
    """Take somebody on; ``act.result`` is the id. Refused without initials or with somebody else's."""
    short = tidy(initials)
    if not short:
        raise Refused([_refusal("a member of the crew needs initials")])
    for other in act.session.scalars(select(CrewMember)):
        if folded(other.initials) == folded(short):
            raise Refused([_refusal(f"{other.name} has the initials {other.initials} already")])
    row = CrewMember(initials=short, name=tidy(name) or short)
    act.session.add(row)
    act.session.flush()
    act.result = row.id
    return f"Took on {row.name}"


def change_crew_member(act: OpenAct, member_id: int, name: str, *, works_here: bool) -> str:
    """Write somebody's name, and whether they still work here; old rounds keep their initials."""
    row = act.session.get_one(CrewMember, member_id)
    left = row.works_here and not works_here
    row.name, row.works_here = tidy(name) or row.name, works_here
    return f"{row.name} left the crew" if left else f"Changed {row.name}"


def _refusal(what: str) -> Finding:
    return Finding("crew.initials", Grade.REFUSED, what, where=Where(field="initials"))
