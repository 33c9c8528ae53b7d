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
from beeledger.operations.imported_looks import ComingLook, ComingQueen, known_marks, post_looks, put_queens
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
    first_site: str = ""
    """Where its first look has it, when that is another site."""
    last_seen: date | None = None
    """The day of its last look, when older ones come with it."""


@dataclass(frozen=True, slots=True)
class Register:
    """All that is to be taken over from one file."""

    file: str
    sites: tuple[ComingSite, ...]
    hives: tuple[ComingHive, ...]
    numbers_restart: bool = False
    """Numbers begin again at each site: the code of its site goes before each number."""
    looks: tuple[ComingLook, ...] = ()
    queens: tuple[ComingQueen, ...] = ()
    leave_out: bool = False
    """Rows that cannot be written are left out and named in ``Imported.left``; otherwise they hold the whole act."""
    found_unknown: bool = False
    """A hive that only looks speak of is founded on the day of its first look; otherwise it is asked about."""


@dataclass(frozen=True, slots=True)
class Imported:
    """What an import gives back: the sites it made, and the colony and mark of each hive in the order given."""

    sites: tuple[int, ...]
    colonies: tuple[int, ...]
    marks: tuple[str, ...]
    looks: int = 0
    queens: int = 0
    left: tuple[Finding, ...] = ()
    """The rows that were left out, each with its reason."""


def import_register(act: OpenAct, register: Register) -> str:
    """Take a register over: one act, which can be undone as a whole. ``act.result`` is ``Imported``.

    A site whose name the ledger has already is taken for that site. Refused, each row by its place in the
    file: for hives whose number is on a living hive or twice in the file, for a site nobody named, for a day
    that has not come, for a look that cannot be true.
    """
    codes, made = _bring_sites(act, register)
    sites = {key: site_id for key, (site_id, _) in codes.items()}
    register = _with_unknown(act, _marked(register, {key: code for key, (_, code) in codes.items()}), sites)
    findings = _check_hives(act, register.hives, codes)
    hives, left = _kept(register, findings)
    hives, looks = _first_seen(hives, register.looks)
    coming: list[ComingLook | ComingQueen] = [*looks, *register.queens]
    marks = [one.mark for one in coming]
    used = marks_in_use(act, marks)
    new = _colonies(act, hives, sites)
    colonies = found(act, new)
    of_mark = {hive.mark: number for hive, number in zip(hives, colonies, strict=True)}
    known = known_marks(act, marks, of_mark, used)
    posted, more = post_looks(
        act, register.file, [(one, known[one.mark]) for one in looks if one.mark in known], sites
    )
    queens, others = put_queens(act, [(one, known[one.mark]) for one in register.queens if one.mark in known])
    left += [*more, *others, *(_unknown(one) for one in coming if one.mark not in known)]
    if left and not register.leave_out:
        raise Refused(left)
    posted += _write_looks(act, register.file, hives, new, colonies)
    gone = _end_the_gone(act, hives, new, colonies)
    act.result = Imported(
        tuple(made), tuple(colonies), tuple(hive.mark for hive in hives), posted, queens, tuple(left)
    )
    return _sentence(register.file, act.result, gone, with_queens=bool(register.queens))


def _sentence(file: str, made: Imported, gone: int, *, with_queens: bool) -> str:
    sites = f"{counted(len(made.sites), 'site')}, " if made.sites else ""
    ended = f" ({gone} ended)" if gone else ""
    queens = f", {counted(made.queens, 'queen')}" if with_queens else ""
    hives = counted(len(made.colonies), "colony", "colonies")
    return f"Imported {file}: {sites}{hives}{ended}, {counted(made.looks, 'look')}{queens}"


def _kept(register: Register, findings: Sequence[Finding]) -> tuple[list[ComingHive], list[Finding]]:
    """The hives that nothing speaks against, and one finding for each row left out."""
    if findings and not register.leave_out:
        raise Refused(list(findings))
    bad = {(one.where.sheet, one.where.row) for one in findings}
    first = {(one.where.sheet, one.where.row): one for one in reversed(findings)}
    hives = [hive for hive in register.hives if (hive.where.sheet, hive.where.row) not in bad]
    return hives, [one for one in findings if first[one.where.sheet, one.where.row] is one]


def _first_seen(
    hives: Sequence[ComingHive], looks: Sequence[ComingLook]
) -> tuple[list[ComingHive], list[ComingLook]]:
    """Hives with older looks: founded at the first of them, their last look among them, where it is not yet."""
    of_mark: dict[str, list[ComingLook]] = {}
    for look in looks:
        of_mark.setdefault(look.mark, []).append(look)
    kept, more = [], list(looks)
    for hive in hives:
        older = of_mark.get(hive.mark)
        if not older:
            kept.append(hive)
            continue
        if hive.seen and hive.look and all(look.on != hive.seen for look in older):
            more.append(ComingLook(hive.mark, hive.site, hive.seen, hive.look, hive.where))
        first = min(older, key=lambda look: look.on)
        early = hive.seen is None or first.on < hive.seen
        kept.append(
            replace(
                hive, look=None, seen=first.on if early else hive.seen, first_site=first.site if early else "",
                last_seen=max([look.on for look in older] + ([hive.seen] if hive.seen else [])),
            )
        )  # fmt: skip
    return kept, more


def _with_unknown(act: OpenAct, register: Register, sites: Mapping[str, int]) -> Register:
    """Hives that only looks speak of, founded on the day of the first, where the person wants it."""
    if not register.found_unknown:
        return register
    there = {hive.mark for hive in register.hives}
    there |= set(known_marks(act, [look.mark for look in register.looks], {}, {}))
    first: dict[str, ComingLook] = {}
    for look in sorted(register.looks, key=lambda look: look.on):
        if look.mark not in there and folded(look.site) in sites:
            first.setdefault(look.mark, look)
    made = tuple(ComingHive(look.mark, look.site, look.where, look.on) for look in first.values())
    return replace(register, hives=register.hives + made)


def _unknown(one: ComingLook | ComingQueen) -> Finding:
    what = f"hive {one.mark} is neither in the ledger nor in the file"
    mend = (
        "Bring it in from its first look, or correct the number"
        if isinstance(one, ComingLook)
        else "Correct the number"
    )
    return Finding("import.unknown-hive", Grade.REFUSED, what, mend, one.where)


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


def _marked(register: Register, codes: Mapping[str, str]) -> Register:
    """The rows with their hives' own marks: the code of the site before it where numbers begin again."""

    def mark(one: ComingHive | ComingLook | ComingQueen) -> str:
        bare = tidy(one.mark)
        code = codes.get(folded(one.site), "")
        return _own_mark(code, bare) if register.numbers_restart and one.site else bare

    return replace(
        register,
        hives=tuple(replace(one, mark=mark(one)) for one in register.hives),
        looks=tuple(replace(one, mark=mark(one)) for one in register.looks),
        queens=tuple(replace(one, mark=mark(one)) for one in register.queens),
    )


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
        site_id = sites.get(folded(hive.first_site)) or sites[folded(hive.site)]
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
            by_day.setdefault(hive.last_seen or colony.on, []).append(colony_id)
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
