"""The book of queens: entered, described, mated, put into a colony, and ended with a cause.

What a round says of queens is written by ``round_queens``; here is what the breeder writes down.
"""

from __future__ import annotations

from dataclasses import asdict, dataclass
from datetime import date

from sqlalchemy import select

from beeledger.base import dates
from beeledger.base.errors import Refused
from beeledger.base.findings import Finding
from beeledger.base.text import listed
from beeledger.database.audit import OpenAct
from beeledger.model.queens import Mating, MatingDroneMother, Queen, Tenure
from beeledger.model.sites import Site
from beeledger.operations.queens import (
    NewQueen,
    check_day,
    end_reigns,
    queen_findings,
    queen_refusal,
    refuse_if,
)
from beeledger.queries.hives import marks_on
from beeledger.queries.queens import all_descents
from beeledger.rules.pedigree import MatingKind, descends_from

MOVED = "moved to another colony"


@dataclass(frozen=True, slots=True)
class NewMating:
    """How a queen was mated: openly at a site, to drones of known mothers, to one drone, with pooled semen."""

    kind: MatingKind
    site_id: int | None = None
    on: date | None = None
    drone_mothers: tuple[int, ...] = ()
    note: str | None = None


def add_queen(act: OpenAct, queen: NewQueen) -> str:
    """Enter a queen that heads no colony here: bought, caged, or an ancestor. ``act.result`` is her id."""
    refuse_if(queen_findings(act, queen))
    if not (queen.tag or queen.hatch_year or queen.line):
        raise Refused([queen_refusal("nothing is known of her; type a tag, a year or a line", "tag")])
    row = Queen(**asdict(queen))
    act.session.add(row)
    act.session.flush()
    act.result = row.id
    return f"Entered {queen_name(act, row)}"


def describe_queen(act: OpenAct, queen_id: int, queen: NewQueen) -> str:
    """Write what is known of a queen in place of what was: tag, year, marks, line, origin, dam, note."""
    row = known_queen(act, queen_id)
    findings = queen_findings(act, queen, queen_id)
    if queen.dam_id is not None and descends_from(queen.dam_id, queen_id, all_descents(act.session)):
        findings.append(queen_refusal("she cannot descend from herself", "dam"))
    refuse_if(findings)
    for name, value in asdict(queen).items():
        setattr(row, name, value)
    act.session.flush()
    act.result = queen_id
    return f"Described {queen_name(act, row)}"


def note_mating(act: OpenAct, queen_id: int, mating: NewMating) -> str:
    """Write how a queen was mated, in place of what was written before."""
    queen = known_queen(act, queen_id)
    refuse_if(_mating_findings(act, queen, mating))
    row = act.session.scalars(select(Mating).where(Mating.queen_id == queen_id)).first()
    if row is None:
        row = Mating(queen_id=queen_id)
        act.session.add(row)
    row.kind, row.site_id, row.on, row.note = mating.kind.value, mating.site_id, mating.on, mating.note
    act.session.flush()
    _write_mothers(act, row.id, mating.drone_mothers)
    act.result = queen_id
    return f"{_capital(queen_name(act, queen))} was mated: {_mating_words(act, mating)}"


def introduce_queen(act: OpenAct, queen_id: int, colony_id: int, on: date, why: str = "replaced") -> str:
    """Put a queen of the book at the head of a colony; the one it had ends that day for ``why``."""
    queen = known_queen(act, queen_id)
    hive = check_day(act, colony_id, on)
    last = _last_tenure(act, queen_id)
    refuse_if(_introduction_findings(queen, last, colony_id, on))
    name = queen_name(act, queen)
    if last is not None and last.until_on is None:
        last.until_on, last.why_ended = on, MOVED
        act.session.flush()
    end_reigns(act, [colony_id], on, why)
    act.session.add(Tenure(queen_id=queen_id, colony_id=colony_id, from_on=on))
    act.session.flush()
    act.result = queen_id
    return f"Put {name} into {hive}, {dates.short(on)}"


def retire_queen(act: OpenAct, queen_id: int, on: date, why: str) -> str:
    """End a queen with a cause, and her tenure with her."""
    queen = known_queen(act, queen_id)
    last = _last_tenure(act, queen_id)
    refuse_if(_ending_findings(act, queen, last, on, why))
    name = queen_name(act, queen)
    if last is not None and last.until_on is None:
        last.until_on, last.why_ended = on, why
    queen.ended_on, queen.end_cause = on, why
    act.session.flush()
    act.result = queen_id
    return f"Ended {name}: {why}, {dates.short(on)}"


def known_queen(act: OpenAct, queen_id: int) -> Queen:
    """The row of a queen; Refused when there is none."""
    row = act.session.get(Queen, queen_id)
    if row is None:
        raise Refused([queen_refusal("there is no such queen", "queen")])
    return row


def queen_name(act: OpenAct, queen: Queen) -> str:
    """What a person calls her: by her tag, else by the hive she heads, else by her year."""
    if queen.tag:
        return f"queen {queen.tag}"
    last = _last_tenure(act, queen.id)
    mark = marks_on(act.session, [last.colony_id], act.today).get(last.colony_id) if last else None
    if mark:
        return f"the queen of hive {mark}"
    return f"a queen of {queen.hatch_year}" if queen.hatch_year else "a queen without a tag"


def _last_tenure(act: OpenAct, queen_id: int) -> Tenure | None:
    query = (
        select(Tenure).where(Tenure.queen_id == queen_id).order_by(Tenure.from_on.desc(), Tenure.id.desc())
    )
    return act.session.scalars(query.limit(1)).first()


def _introduction_findings(queen: Queen, last: Tenure | None, colony_id: int, on: date) -> list[Finding]:
    if queen.ended_on is not None:
        return [queen_refusal(f"she ended on {dates.long(queen.ended_on)}: {queen.end_cause}", "queen")]
    if last is None:
        return []
    if last.until_on is None and last.colony_id == colony_id:
        return [queen_refusal("she heads this colony already", "hive")]
    if on < (last.until_on or last.from_on):
        since = dates.long(last.until_on or last.from_on)
        return [queen_refusal(f"she was in another colony until {since}", "on")]
    return []


def _ending_findings(act: OpenAct, queen: Queen, last: Tenure | None, on: date, why: str) -> list[Finding]:
    if queen.ended_on is not None:
        return [queen_refusal(f"she ended already on {dates.long(queen.ended_on)}", "on")]
    if on > act.today:
        return [queen_refusal(f"{dates.long(on)} has not come yet", "on")]
    if last is not None and on < last.from_on:
        return [queen_refusal(f"she came into her colony only on {dates.long(last.from_on)}", "on")]
    if not why.strip():
        return [queen_refusal("an end needs its cause", "why")]
    return []


def _mating_findings(act: OpenAct, queen: Queen, mating: NewMating) -> list[Finding]:
    found = []
    if mating.on is not None and mating.on > act.today:
        found.append(queen_refusal(f"{dates.long(mating.on)} has not come yet", "on"))
    if mating.on is not None and queen.hatch_year is not None and mating.on.year < queen.hatch_year:
        found.append(queen_refusal(f"she hatched only in {queen.hatch_year}", "on"))
    if mating.site_id is not None and act.session.get(Site, mating.site_id) is None:
        found.append(queen_refusal("there is no such site", "site"))
    mothers = mating.drone_mothers
    if mothers and mating.kind is MatingKind.OPEN:
        found.append(queen_refusal("of an open mating the mothers of the drones are not known", "mothers"))
    if len(set(mothers)) > 1 and mating.kind is MatingKind.SINGLE:
        found.append(queen_refusal("one drone has one mother", "mothers"))
    descents = all_descents(act.session)
    for mother in dict.fromkeys(mothers):
        if act.session.get(Queen, mother) is None:
            found.append(queen_refusal("there is no such queen", "mothers"))
        elif mother != queen.id and descends_from(mother, queen.id, descents):
            found.append(queen_refusal("a mother of the drones is her own descendant", "mothers"))
    return found


def _write_mothers(act: OpenAct, mating_id: int, mothers: tuple[int, ...]) -> None:
    rows = act.session.scalars(
        select(MatingDroneMother).where(MatingDroneMother.mating_id == mating_id)
    ).all()
    had = {row.queen_id: row for row in rows}
    for number in had.keys() - set(mothers):
        act.session.delete(had[number])
    act.session.flush()
    new = [number for number in dict.fromkeys(mothers) if number not in had]
    act.session.add_all(MatingDroneMother(mating_id=mating_id, queen_id=number) for number in new)
    act.session.flush()


def _mating_words(act: OpenAct, mating: NewMating) -> str:
    words = {
        MatingKind.OPEN: "openly",
        MatingKind.DRONES: "drones of known mothers",
        MatingKind.SINGLE: "one drone",
        MatingKind.POOLED: "pooled semen",
    }[mating.kind]
    mothers = [queen_name(act, known_queen(act, number)) for number in dict.fromkeys(mating.drone_mothers)]
    if mothers:
        words = f"{'one drone' if mating.kind is MatingKind.SINGLE else 'drones'} of {listed(mothers)}"
    if mating.site_id is not None:
        words += f", at {act.session.get_one(Site, mating.site_id).name}"
    return f"{words}, {dates.short(mating.on)}" if mating.on else words


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
