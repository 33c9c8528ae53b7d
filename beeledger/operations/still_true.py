"""What must always hold, looked at again around an act that changes facts which later records rest on.

Most acts ask beforehand, in words of their own. Taking back, correcting and swapping change the past, where no
check written for one act can foresee what the later ones took for granted: there the lines of the whole check
(``database.checking``) are proved for what is touched, before and after.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from contextlib import contextmanager
from dataclasses import replace

from sqlalchemy.orm import Session

from beeledger.base.errors import Refused
from beeledger.base.findings import Finding
from beeledger.database.checking import honey, places, queens, restrictions, treatments

_OF_COLONIES = (
    places.one_place,
    places.left_from_where_it_was,
    treatments.honey_under_treatment,
    treatments.honey_with_feed,
    treatments.medicine_under_supers,
)
_OF_THE_FARM = (
    places.one_mark,
    queens.one_colony,
    honey.balance,
    honey.acyclic,
    honey.traceable,
    restrictions.nothing_out,
)
"""Small tables, or lines that run through all of them."""
MOST = 5_000
"""Colonies named in one statement; above it every colony is looked at."""


@contextmanager
def still_true(session: Session, colony_ids: Collection[int]) -> Iterator[None]:
    """Refused when what happens inside makes a line untrue that was true before.

    ``colony_ids`` are the colonies whose records may change; honey, numbers and queens are looked at whole.
    """
    session.flush()
    before = set(_untrue(session, colony_ids))
    yield
    session.flush()
    new = [finding for finding in _untrue(session, colony_ids) if finding not in before]
    if new:
        raise Refused([_said(finding) for finding in new])


def _untrue(session: Session, colony_ids: Collection[int]) -> Iterator[Finding]:
    only = sorted(colony_ids) if len(colony_ids) <= MOST else None
    for line in _OF_COLONIES if colony_ids else ():
        yield from line(session, only)
    for whole in _OF_THE_FARM:
        yield from whole(session)


def _said(finding: Finding) -> Finding:
    what = f"Later records rest on this: {finding.what}"
    return replace(finding, what=what, mend="Take back or correct what came later first")
