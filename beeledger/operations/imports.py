"""An old register taken over into the ledger: sites, hives, queens and each hive's last look, as one act.

What the rows say is read above this floor; here they are checked against the ledger and written.
"""

from __future__ import annotations

import uuid
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from sqlalchemy import select

from beeledger.base import dates
from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import counted, folded, tidy
from beeledger.database.audit import OpenAct
from beeledger.model.acts import Act
from beeledger.model.parties import Party
from beeledger.model.rounds import Round, RoundEntry
from beeledger.model.sites import Site
from beeledger.operations.colonies import Boxes, NewColony, end, found, marks_in_use
from beeledger.operations.parties import NewParty, add_party
from beeledger.operations.queens import NewQueen
from beeledger.operations.rounds import entry_values
from beeledger.operations.sites import NewSite, add_site
from beeledger.rules.rounds.checks import check_entry
from beeledger.rules.rounds.entry import Cause, Entry
from beeledger.rules.rounds.record import HiveRecord

NOWHERE = Where()


@dataclass(frozen=True, slots=True)
class ComingSite:
    """A site of the register; ``where`` is its row, ``landholder`` a name or blank."""

    site: NewSite
    where: Where = NOWHERE
    landholder: str = ""


@dataclass(frozen=True, slots=True)
class ComingHive:
    """A hive of the register. ``look`` is what its row says of the visit on ``seen``; None: never looked at."""

    mark: str
    site: str
    """The name of its site, as in the register's list of sites or as the ledger has it."""
    where: Where = NOWHERE
    seen: date | None = None
    look: Entry | None = None
    boxes: Boxes | None = None
    queen: NewQueen | None = None
    kind: str = "full"
    ended: bool = False
    """The register says that it is no more: it ends on the day it was last seen, of an unknown cause."""


@dataclass(frozen=True, slots=True)
class Register:
    """All that is to be taken over from one file."""

    file: str
    sites: tuple[ComingSite, ...]
    hives: tuple[ComingHive, ...]
    numbers_restart: bool = False
    """Numbers begin again at each site: the code of its site goes before each number."""


@dataclass(frozen=True, slots=True)
class Imported:
    """What an import gives back: the sites it made, and the colony and mark of each hive in the order given."""

    sites: tuple[int, ...]
    colonies: tuple[int, ...]
    marks: tuple[str, ...]


def import_register(act: OpenAct, register: Register) -> str:
    """Take a register over: one act, which can be undone as a whole. ``act.result`` is ``Imported``.

    A site whose name the ledger has already is taken for that site. Refused, each row by its place in the
    file: for hives whose number is on a living hive or twice in the file, for a site nobody named, for a day
    that has not come, for a look that cannot be true.
    """
    codes, made = _bring_sites(act, register)
    hives = _with_own_marks(register, {key: code for key, (_, code) in codes.items()})
    findings = _check_hives(act, hives, codes)
    if findings:
        raise Refused(findings)
    new = _colonies(act, hives, {key: site_id for key, (site_id, _) in codes.items()})
    colonies = found(act, new)
    looks = _write_looks(act, register.file, hives, new, colonies)
    gone = _end_the_gone(act, hives, new, colonies)
    act.result = Imported(tuple(made), tuple(colonies), tuple(hive.mark for hive in hives))
    sites = f"{counted(len(made), 'site')}, " if made else ""
    hives_said = counted(len(colonies), "colony", "colonies")
    ended = f" ({gone} ended)" if gone else ""
    return f"Imported {register.file}: {sites}{hives_said}{ended}, {counted(looks, 'look')}"


def _bring_sites(act: OpenAct, register: Register) -> tuple[dict[str, tuple[int, str]], list[int]]:
    """Id and code of every open site by its folded name, the new ones added; and the ids of the new."""
    known = {
        folded(row.name)
        for row in act.session.execute(select(Site.name, Site.closed_on))
        if row.closed_on is None
    }
    parties = {folded(name): number for number, name in act.session.execute(select(Party.id, Party.name))}
    made: list[int] = []
    for coming in register.sites:
        if folded(coming.site.name) not in known:
            made.append(_add_site(act, coming, parties))
            known.add(folded(coming.site.name))
    rows = act.session.execute(select(Site.name, Site.id, Site.code).where(Site.closed_on.is_(None)))
    return {folded(name): (number, code) for name, number, code in rows}, made


def _add_site(act: OpenAct, coming: ComingSite, parties: dict[str, int]) -> int:
    landholder = tidy(coming.landholder)
    if landholder and folded(landholder) not in parties:
        add_party(act, NewParty(landholder, roles=("landholder",)))
        parties[folded(landholder)] = int(act.result)
    site = replace(coming.site, landholder_id=parties.get(folded(landholder)))
    taken = act.session.scalar(select(Site.id).where(Site.code == tidy(site.code))) if site.code else None
    try:
        add_site(act, replace(site, code="") if taken else site)
    except Refused as refused:
        raise Refused([_at(coming.where, finding) for finding in refused.findings]) from refused
    return int(act.result)


def _with_own_marks(register: Register, codes: Mapping[str, str]) -> list[ComingHive]:
    hives = [replace(hive, mark=tidy(hive.mark)) for hive in register.hives]
    if not register.numbers_restart:
        return hives
    return [replace(hive, mark=_own_mark(codes.get(folded(hive.site), ""), hive.mark)) for hive in hives]


def _own_mark(code: str, mark: str) -> str:
    """The site's code before the number: "AL12"; parted where the two would run into each other."""
    apart = "-" if code[-1:].isdecimal() or not mark[:1].isdecimal() else ""
    return f"{code}{apart}{mark}"


def _check_hives(
    act: OpenAct, hives: Sequence[ComingHive], sites: Mapping[str, tuple[int, str]]
) -> list[Finding]:
    used = marks_in_use(act, [hive.mark for hive in hives])
    times = Counter(hive.mark for hive in hives)
    findings: list[Finding] = []
    for hive in hives:
        late = hive.seen is not None and hive.seen > act.today
        problems = (
            (not hive.mark, "no-mark", "the hive has no number", "Write the number it is known by"),
            (hive.mark in used, "known", f"hive {hive.mark} is in the ledger already", "Leave the row out, or give it its own number"),
            (times[hive.mark] > 1, "twice", f"hive {hive.mark} comes twice", "Take one of the two out"),
            (folded(hive.site) not in sites, "no-site", f"there is no site {hive.site}", "Add it to the list of sites"),
            (late, "day", f"{dates.long(hive.seen or act.today)} has not come yet", "Correct the date"),
        )  # fmt: skip
        findings += [
            Finding(f"import.{code}", Grade.REFUSED, what, mend, hive.where)
            for wrong, code, what, mend in problems
            if wrong
        ]
        findings += _check_look(hive, act.today)
    return findings


def _check_look(hive: ComingHive, today: date) -> list[Finding]:
    """What logic forbids of the look; what only contradicts a record cannot trip, for there is none yet."""
    if hive.look is None:
        return []
    boxes = hive.boxes
    record = HiveRecord(
        hive.mark,
        colony_id=0,
        brood_boxes=boxes.brood_boxes if boxes else None,
        frames_per_box=boxes.brood_frames if boxes else None,
        frame_type=boxes.brood_frame if boxes else None,
    )
    return [
        _at(hive.where, finding)
        for finding in check_entry(hive.look, record, hive.seen or today)
        if finding.grade is Grade.REFUSED
    ]


def _colonies(act: OpenAct, hives: Sequence[ComingHive], sites: Mapping[str, int]) -> list[NewColony]:
    stands: Counter[int] = Counter()
    new = []
    for hive in hives:
        site_id = sites[folded(hive.site)]
        stands[site_id] += 1
        new.append(
            NewColony(
                hive.mark, site_id, hive.seen or act.today, kind=hive.kind, how="import", queen=hive.queen,
                boxes=hive.boxes, stand=stands[site_id],
            )
        )  # fmt: skip
    return new


def _end_the_gone(
    act: OpenAct, hives: Sequence[ComingHive], new: Sequence[NewColony], colonies: Sequence[int]
) -> int:
    """End what the register says is no more; returns how many. One that nobody saw ends today."""
    by_day: dict[date, list[int]] = {}
    for hive, colony, colony_id in zip(hives, new, colonies, strict=True):
        if hive.ended:
            by_day.setdefault(colony.on, []).append(colony_id)
    for on, ids in by_day.items():
        end(act, ids, on, Cause.UNKNOWN.value)
    return sum(len(ids) for ids in by_day.values())


def _write_looks(
    act: OpenAct, file: str, hives: Sequence[ComingHive], new: Sequence[NewColony], colonies: Sequence[int]
) -> int:
    """The last looks as rounds, one a site and day; returns how many looks."""
    by_day: dict[tuple[int, date], list[tuple[int, Entry]]] = {}
    for hive, colony, colony_id in zip(hives, new, colonies, strict=True):
        if hive.seen is not None and hive.look is not None:
            by_day.setdefault((colony.site_id, hive.seen), []).append((colony_id, hive.look))
    own = uuid.UUID(act.session.get_one(Act, act.id).uid)
    rounds = {
        key: Round(
            uid=str(uuid.uuid5(own, f"{key[0]} {key[1]}")), site_id=key[0], on=key[1], source="import", note=file
        )
        for key in sorted(by_day)
    }  # fmt: skip
    act.session.add_all(rounds.values())
    act.session.flush()
    act.session.add_all(
        RoundEntry(
            round_id=rounds[key].id, colony_id=colony_id, on=key[1], seq=seq, reason=None, **entry_values(look)
        )
        for key in sorted(by_day)
        for seq, (colony_id, look) in enumerate(by_day[key], start=1)
    )  # fmt: skip
    act.session.flush()
    return sum(len(looks) for looks in by_day.values())


def _at(where: Where, finding: Finding) -> Finding:
    return replace(finding, where=replace(where, field=finding.where.field, record=finding.where.record))
