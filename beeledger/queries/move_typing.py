"""A move as it is being typed: the list of hives read against who stands there, and what is to be said."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from sqlalchemy.orm import Session

from beeledger.base.findings import Finding, Grade, Where, holds
from beeledger.base.text import listed
from beeledger.queries.move_checks import accept_all, check_new_move, finding_key
from beeledger.queries.moves import colonies_marked, hives_at
from beeledger.queries.records.move_desk import Carried, NewMove, carried
from beeledger.queries.stopped import CODE as RESTRICTED
from beeledger.rules.hive_lists import HiveList, read_hive_list
from beeledger.rules.restrictions import NO_LICENCE, Licence

_ALL = re.compile(r"\s*all\b[\s,;]*(.*)", re.IGNORECASE | re.DOTALL)


@dataclass(frozen=True, slots=True)
class TypedMove:
    """The form's fields as far as they are typed; None where nothing can be read yet."""

    from_site_id: int | None
    to_site_id: int | None
    on: date | None
    left_minute: int | None
    arrived_minute: int | None
    hives: str
    """ "12-18, 21, 40x", or "all", or "all not 12, 15"."""
    arrived_on: date | None = None
    vehicle_id: int | None = None
    driver: str = ""
    reason: str = "crop"
    contract_id: int | None = None
    note: str = ""
    exempt: bool = False
    sheet_is_right: bool = False
    """What contradicts the record is accepted, and the record corrected."""
    instead_of: int | None = None
    """The move that this one corrects."""
    licence: Licence = NO_LICENCE
    """That lets it out of a restricted place."""


@dataclass(frozen=True, slots=True)
class ReadMove:
    """What the typing comes to. ``move`` is None while something is missing."""

    move: NewMove | None
    findings: tuple[Finding, ...]
    marks: tuple[str, ...] = ()
    left_behind: tuple[str, ...] = ()
    standing: int = 0
    """How many marked hives stood at the site that day."""
    against: tuple[Finding, ...] = field(default=())
    """What contradicts the record, accepted or not."""


def read_move(session: Session, typed: TypedMove, zone: str, today: date) -> ReadMove:
    """Read what is typed so far, and check it against the record once it is whole."""
    if typed.from_site_id is None or typed.on is None:
        return ReadMove(None, ())
    there = {hive.mark: hive.colony_id for hive in hives_at(session, typed.from_site_id, typed.on)}
    known = read_hives(typed.hives, list(there))
    colonies, findings = _colonies(session, known, there, typed.on)
    said = ReadMove(None, tuple(findings), known.marks, known.left_behind, len(there))
    move = _whole(typed, known, colonies)
    if move is None or holds(findings):
        return said
    checked = check_new_move(session, move, zone, today, typed.instead_of)
    against = tuple(one for one in checked if one.grade is Grade.AGAINST and one.code != RESTRICTED)
    if typed.sheet_is_right:
        move = accept_all(move, against)
        checked = [finding for finding in checked if finding_key(finding) not in move.accepted]
    return replace(said, move=move, findings=(*findings, *checked), against=against)


def read_hives(text: str, standing: Sequence[str]) -> HiveList:
    """A typed list of hives, where "all" stands for all that stand there: "all not 12, 15"."""
    match = _ALL.fullmatch(text)
    if match is None:
        return read_hive_list(text, standing)
    rest = read_hive_list(match[1], standing)
    findings = list(rest.findings)
    if rest.marks:
        what = f"After “all” stands {listed(rest.marks)}: is that left behind?"
        mend = f"Write all not {', '.join(rest.marks)}"
        findings.append(Finding("list.all", Grade.REFUSED, what, mend, Where(field="hives")))
    left = set(rest.left_behind)
    return HiveList(tuple(mark for mark in standing if mark not in left), rest.left_behind, tuple(findings))


def _colonies(
    session: Session, known: HiveList, there: dict[str, int], on: date
) -> tuple[dict[str, int], list[Finding]]:
    """The colony behind each mark; a mark that is elsewhere is said by the check of the move itself."""
    every = (*known.marks, *known.left_behind)
    missing = [mark for mark in every if mark not in there]
    found = there | (colonies_marked(session, missing, on) if missing else {})
    return found, list(_list_findings(known, [mark for mark in missing if mark not in found]))


def _list_findings(known: HiveList, nobody: Sequence[str]) -> Iterator[Finding]:
    for finding in known.findings:
        if finding.code == "list.nobody":
            yield replace(finding, grade=Grade.REFUSED, mend="Write the numbers singly if the sheet is right")
        elif finding.code != "list.unknown":
            yield finding
    if nobody:
        what = (
            f"No hive ever carried {listed(nobody)}" if len(nobody) < 7 else "No hive carried these numbers"
        )
        where = Where(field="hives")
        yield Finding("list.stranger", Grade.REFUSED, what, "Look at the numbers", where)


def _whole(typed: TypedMove, known: HiveList, colonies: dict[str, int]) -> NewMove | None:
    left, arrived = typed.left_minute, typed.arrived_minute
    if typed.from_site_id is None or typed.to_site_id is None or typed.on is None:
        return None
    if left is None or arrived is None:
        return None
    hives: tuple[Carried, ...] = carried(
        [colonies[mark] for mark in known.marks if mark in colonies],
        [colonies[mark] for mark in known.left_behind if mark in colonies],
    )
    return NewMove(
        typed.from_site_id, typed.to_site_id, typed.on, left, arrived, hives, typed.arrived_on,
        typed.vehicle_id, typed.driver, typed.reason, typed.contract_id, typed.note, typed.exempt,
        licence=typed.licence,
    )  # fmt: skip
