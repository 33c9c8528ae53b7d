"""The licence that lets something out of a restricted place: asked for beforehand, kept with what went out.

Every act that carries hives, supers, honey, combs or bees from one place to another asks ``queries.stopped``,
refuses what it is told unless a licence is typed, and writes the licence here. ``refuse_gone`` is the net
below them all.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from sqlalchemy import select
from sqlalchemy.orm import Session

from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import tidy
from beeledger.database.audit import OpenAct
from beeledger.database.checking.restrictions import Gone, gone_out
from beeledger.database.restricted import laid
from beeledger.model.colonies import ColonyTransfer
from beeledger.model.restrictions import LicenceUse
from beeledger.queries.records.restrictions import Stopped
from beeledger.queries.stopped import CODE, MEND, between_by
from beeledger.rules.restrictions import Goes, Licence
from beeledger.rules.rounds.checks import RESTRICTED

_CARRIES = {"move_id": "move", "take_id": "take", "dispatch_id": "dispatch", "transfer_id": "colony_transfer"}
_LINES = frozenset({"move_line", "take_line", "honey_transfer", "placement"})
_MEND_LATER = "Take that back first, and write it down again after this with its licence"
_OWN_QUESTION = ("impose_restriction", "change_restriction")


def open_stops(stopped: Sequence[Stopped], licence: Licence) -> list[Finding]:
    """What holds for want of a licence: nothing once one is typed. Accepting is no answer."""
    return [] if licence.given else [one.finding for one in stopped]


def write_uses(
    act: OpenAct, stopped: Sequence[Stopped], licence: Licence, *, move_id: int | None = None,
    take_id: int | None = None, dispatch_id: int | None = None, transfer_id: int | None = None,
) -> None:  # fmt: skip
    """Keep the licence with the one thing it let out, once for each restriction."""
    whats: dict[int, list[str]] = {}
    for one in stopped:
        whats.setdefault(one.restriction_id, []).append(one.what)
    act.session.add_all(
        LicenceUse(
            restriction_id=restriction_id, move_id=move_id, take_id=take_id, dispatch_id=dispatch_id,
            transfer_id=transfer_id, what="; ".join(dict.fromkeys(what)), licence=tidy(licence.reference),
            issued_by=tidy(licence.issued_by) or None, issued_on=licence.issued_on,
            reason=tidy(licence.reason) or None,
        )
        for restriction_id, what in whats.items()
    )  # fmt: skip


def forget_uses(act: OpenAct, move_id: int) -> None:
    """Take the licences of a move away: it is dropped, or written over with those typed anew."""
    for row in act.session.scalars(select(LicenceUse).where(LicenceUse.move_id == move_id)):
        act.session.delete(row)
    act.session.flush()


def refuse_gone(act: OpenAct) -> None:
    """Refuse an act by which something went out of a restricted place without a licence, whichever act it is.

    Also what it did not write itself: hives that stood together when a frame was given, and stand apart by a move
    that is written down late.
    """
    if act.kind in _OWN_QUESTION or not act.touched & {*_CARRIES.values(), *_LINES}:
        return
    found = list(gone_out(act.session))
    if not found:
        return
    written = {column: act.images.get(table, {}) for column, table in _CARRIES.items()}
    known = _gone_before(act)
    for gone in found:
        if gone.row_id in written[gone.column]:
            raise Refused([Finding(CODE, Grade.AGAINST, gone.what, MEND, Where(field="licence"))])
        if gone not in known:
            what = f"by this, {gone.what}"
            raise Refused([Finding("restriction.later", Grade.REFUSED, what, _MEND_LATER, Where(field="on"))])


def _gone_before(act: OpenAct) -> set[Gone]:
    """What had gone out before this act: as every other desk still sees the ledger."""
    engine = act.session.connection().engine
    with engine.connect().execution_options(ledger_mode="read") as connection, Session(connection) as session:
        return set(gone_out(session))


def license_transfers(
    act: OpenAct, rows: Sequence[ColonyTransfer], sites: Mapping[int, int | None], reason: str | None
) -> None:
    """Of what an act at the desk gave from hive to hive past a restriction: keep the licence typed as its reason.

    Refused without one, also on the days on which a restriction began or was released: what was given has no time
    of day. ``sites`` says where the colonies stood; called when the transfers are written.
    """
    ones = laid(act.session)
    if not ones:
        return
    act.session.flush()
    for row in rows:
        start, goal = (sites.get(number or 0) for number in (row.from_colony_id, row.to_colony_id))
        comb = row.kind == "frame" or row.brood_tenths or row.stores_tenths
        stopped = between_by(ones, Goes.COMB if comb else Goes.BEES, start, goal, row.on)
        if stopped and not tidy(reason or ""):
            raise Refused(
                [Finding(RESTRICTED, Grade.AGAINST, stopped[0].finding.what, MEND, Where(field="reason"))]
            )
        write_uses(act, stopped, Licence(reason or ""), transfer_id=row.id)
    act.session.flush()


def said_of(gone: Gone) -> str:
    """What went, as a licence names it."""
    return gone.what.removesuffix(" against a restriction")
