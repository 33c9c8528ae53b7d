"""What a contract comes to: the movement report's record, from the log and the checks alone."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from beeledger.base import dates
from beeledger.base.text import counted
from beeledger.base.units import frames, money, per_cent, scaled
from beeledger.model.contracts import Contract
from beeledger.model.parties import Party, PartyContact
from beeledger.model.rounds import RoundEntry
from beeledger.model.sites import SetDownPlace, Site
from beeledger.queries.contract_list import crop_words
from beeledger.queries.contract_stays import CheckMade, Count, CropStay, counts_made, crop_stays, day_counts
from beeledger.queries.farm import farm_settings
from beeledger.queries.hives import treatments_on
from beeledger.queries.records.heading import Note, PartyLines
from beeledger.queries.records.movement_report import (
    Agreed,
    MovementReport,
    OwedLine,
    Stay,
    StrengthResult,
)
from beeledger.rules import contracts as rule
from beeledger.rules.moves import Stay as DayStay
from beeledger.rules.moves import days_on
from beeledger.rules.strength import CountedHive, number_order, strength_result

_WHOLE = 10_000


def build_report(session: Session, contract_id: int, today: date) -> MovementReport:
    """The record of one contract's movement report. KeyError when there is no such contract."""
    contract = session.get(Contract, contract_id)
    if contract is None:
        raise KeyError(f"there is no contract {contract_id}")
    site = session.get_one(Site, contract.site_id)
    stays = crop_stays(session, [contract_id])
    checks, counts = counts_made(session, [contract_id])
    first = min([contract.on_on, *(stay.on for stay in stays)])
    still = any(stay.off is None for stay in stays)
    offs = [stay.off for stay in stays if stay.off is not None]
    last = max([today, *offs] if still else [contract.off_on, *offs])
    places = session.scalars(select(SetDownPlace.name).where(SetDownPlace.site_id == site.id))
    return MovementReport(
        contract=contract.name,
        grower=grower_lines(session, contract.grower_id),
        crop=crop_words(contract.crop),
        site=site.name,
        first=first,
        last=last,
        agreed=_agreed(contract, farm_settings(session).brood_frame),
        stays=_stays(contract, stays, counts, first, today),
        owed=owed_lines(contract, stays, counts, today),
        grid=site.grid or "",
        set_down=tuple(places),
        strength=check_results(contract, checks, counts),
        counts=day_counts(stays),
        health=_health(session, stays, today),
        notes=(*check_notes(checks, counts), *_notes(contract, checks, stays, today)),
    )


def owed_lines(
    contract: Contract, stays: Sequence[CropStay], counts: Sequence[Count], today: date
) -> tuple[OwedLine, ...]:
    """What the grower owes, line by line, by ``rules.contracts.owed``. A hive that came twice counts once.

    A closed contract is reckoned to the day it was closed, whatever stands on its site later.
    """
    closed = contract.closed_on
    if closed is not None and closed < today:
        today = closed
        stays = [replace(stay, off=min(stay.off or closed, closed)) for stay in stays if stay.on <= closed]
    bees = {count.colony_id: count.bees_tenths for count in counts}
    owed = rule.owed(terms_of(contract), _brought(stays, bees), today)
    return tuple(
        OwedLine(
            line.words, line.amount_pence, line.quantity, "hive-days" if "hive-days" in line.words.lower() else "hives",
            line.unit_pence, line.why, contract.tax_code or "",
        )
        for line in owed.lines
    )  # fmt: skip


def terms_of(contract: Contract) -> rule.Terms:
    """The contract's terms as the rule takes them; what late leaving costs is owed by the grower."""
    weak = (contract.price_pence * contract.weak_share_hundredths + _WHOLE // 2) // _WHOLE
    return rule.Terms(
        hives=contract.hives,
        price_pence=contract.price_pence,
        on=contract.on_on,
        off=contract.off_on,
        least_tenths=contract.least_bees_tenths,
        weak_price_pence=weak,
        bonus_from_tenths=contract.least_bees_tenths,
        bonus_pence=contract.bonus_frame_pence,
        late_off_pence=-contract.late_day_pence,
        tax_code=contract.tax_code or "",
    )


def check_results(
    contract: Contract, checks: Sequence[CheckMade], counts: Sequence[Count]
) -> tuple[StrengthResult, ...]:
    """Each strength check judged by ``rules.strength``."""
    return tuple(
        _result(contract, check, [count for count in counts if count.check_id == check.id])
        for check in checks
    )


def grower_lines(session: Session, party_id: int) -> PartyLines:
    """A party as it stands on paper."""
    party = session.get_one(Party, party_id)
    contact = session.scalar(select(PartyContact).where(PartyContact.party_id == party_id))
    if contact is None:
        return PartyLines(party.name)
    address = tuple(line.strip() for line in (contact.address or "").splitlines() if line.strip())
    reach = ", ".join(part for part in (contact.person, contact.phone, contact.email) if part)
    return PartyLines(party.name, address, reach)


def _agreed(contract: Contract, frame: str) -> Agreed:
    terms = [contract.terms] if contract.terms else []
    if contract.least_bees_tenths is not None:
        paid = "are not paid" if not contract.weak_share_hundredths else _paid(contract)
        terms.append(f"Hives under the least strength {paid}")
    if contract.bonus_frame_pence:
        terms.append(f"{money(contract.bonus_frame_pence)} a hive for each frame of bees above it")
    if contract.late_day_pence:
        terms.append(f"{money(contract.late_day_pence)} a hive and day when hives cannot leave as agreed")
    asks = contract.least_bees_tenths is not None or contract.least_brood_tenths is not None
    return Agreed(
        contract.hives, contract.on_on, contract.off_on, contract.least_bees_tenths,
        contract.least_brood_tenths, frame_words(frame) if asks else "", contract.price_pence,
        contract.area_m2, tuple(terms),
    )  # fmt: skip


def frame_words(frame: str) -> str:
    """A frame's size by its name in the rounds rule file, as people say it."""
    return frame.replace("_", " ")


def _paid(contract: Contract) -> str:
    return f"are paid {per_cent(contract.weak_share_hundredths, 0)} % of the price"


def _stays(
    contract: Contract, stays: Sequence[CropStay], counts: Sequence[Count], first: date, today: date
) -> tuple[Stay, ...]:
    counted_last = {count.colony_id: count for count in counts}
    made = [_stay(contract, stay, counted_last.get(stay.colony_id), first, today) for stay in stays]
    return tuple(sorted(made, key=lambda stay: (number_order(stay.hive), stay.on)))


def _stay(contract: Contract, stay: CropStay, count: Count | None, first: date, today: date) -> Stay:
    inside = count if count and stay.on <= count.on and (stay.off is None or count.on <= stay.off) else None
    return Stay(
        hive=stay.mark,
        came_from=stay.came_from,
        on=stay.on,
        off=stay.off,
        days=days_on(DayStay(stay.mark, stay.on, stay.off), first, max(today, stay.on)),
        went_to=stay.went_to,
        bees_tenths=inside.bees_tenths if inside else None,
        brood_tenths=inside.brood_tenths if inside else None,
        checked=inside.on if inside else None,
        shortfall=_shortfall(contract, stay, inside),
    )


def _shortfall(contract: Contract, stay: CropStay, count: Count | None) -> str:
    words = []
    if (late := (stay.on - contract.on_on).days) > 0:
        words.append(f"came {counted(late, 'day')} late")
    if stay.off is not None and (early := (contract.off_on - stay.off).days) > 0:
        words.append(f"left {counted(early, 'day')} early")
    if count is not None:
        for least, had, what in (
            (contract.least_bees_tenths, count.bees_tenths, "of bees"),
            (contract.least_brood_tenths, count.brood_tenths, "of brood"),
        ):
            if least is not None and had is not None and had < least:
                less = least - had
                words.append(f"{frames(less)} {'frame' if less == 10 else 'frames'} {what} short")
    return "; ".join(words)


def _brought(stays: Sequence[CropStay], bees: Mapping[int, int]) -> list[rule.Brought]:
    """One line a hive: from the first day it came to the last it left."""
    by_colony: dict[int, list[CropStay]] = {}
    for stay in stays:
        by_colony.setdefault(stay.colony_id, []).append(stay)
    brought = []
    for colony_id, own in by_colony.items():
        offs = [stay.off for stay in own]
        off = None if None in offs else max(day for day in offs if day is not None)
        brought.append(rule.Brought(own[0].mark, min(s.on for s in own), off, bees.get(colony_id)))
    return brought


def check_notes(checks: Sequence[CheckMade], counts: Sequence[Count]) -> tuple[Note, ...]:
    """How far each check holds for all hives: the 95 % interval of the mean, where two or more were opened."""
    notes = []
    for check in checks:
        hives = _counted(check, counts)
        judged = strength_result(hives, max(check.on_site, len(hives)), 0)
        if judged.mean_low_hundredths is not None and judged.mean_high_hundredths is not None:
            ends = (judged.mean_low_hundredths, judged.mean_high_hundredths)
            low, high = (scaled(end, 100, 1) for end in ends)
            words = f"Mean of all {judged.placed}: {low} to {high} frames of bees (95 %)"
            notes.append(Note(words, dates.long(check.on)))
    return tuple(notes)


def _counted(check: CheckMade, counts: Sequence[Count]) -> list[CountedHive]:
    own = [count for count in counts if count.check_id == check.id]
    return [CountedHive(str(count.colony_id), count.bees_tenths, count.brood_tenths) for count in own]


def _result(contract: Contract, check: CheckMade, counts: Sequence[Count]) -> StrengthResult:
    least = contract.least_bees_tenths
    hives = _counted(check, counts)
    judged = strength_result(hives, max(check.on_site, len(hives)), least or 0)
    brood = [count.brood_tenths for count in counts if count.brood_tenths is not None]
    return StrengthResult(
        on=check.on,
        by=check.by,
        counted=judged.opened,
        of=judged.placed,
        mean_bees_tenths=_mean([hive.bees_tenths for hive in hives]),
        least_bees_tenths=judged.least_tenths,
        mean_brood_tenths=_mean(brood) if brood else None,
        below=judged.under if least is not None else None,
        how=f"{per_cent(check.share_hundredths, 0)} % by lot {check.seed}",
    )


def _mean(tenths: Sequence[int]) -> int:
    """Half up, and from the counts themselves: rounded twice, 7.945 would be said to be 8.0."""
    return (2 * sum(tenths) + len(tenths)) // (2 * len(tenths))


def _health(session: Session, stays: Sequence[CropStay], today: date) -> tuple[Note, ...]:
    """What is on record of the hives that stand there: last looks, and medicines in place."""
    ids = sorted({stay.colony_id for stay in stays})
    if not ids:
        return ()
    off = max(stay.off or today for stay in stays)
    looked = (
        select(RoundEntry.colony_id, func.max(RoundEntry.on))
        .where(RoundEntry.colony_id.in_(ids), RoundEntry.outcome == "looked", RoundEntry.on <= off)
        .group_by(RoundEntry.colony_id)
    )
    looks = dict(session.execute(looked).all())
    notes = []
    if looks:
        span = dates.span(min(looks.values()), max(looks.values()))
        notes.append(Note(f"Last looked into: {len(looks)} of {counted(len(ids), 'hive')}", span))
    inside = treatments_on(session, ids, off)
    if inside:
        products = sorted({each.product for courses in inside.values() for each in courses})
        words = f"Under treatment or withdrawal: {counted(len(inside), 'hive')} ({', '.join(products)})"
        notes.append(Note(words, dates.long(off), "odd"))
    return tuple(notes)


def _notes(
    contract: Contract, checks: Sequence[CheckMade], stays: Sequence[CropStay], today: date
) -> tuple[Note, ...]:
    notes = []
    if contract.least_bees_tenths is not None and stays and not checks:
        notes.append(
            Note("No strength check was made, so no hive is held to be under strength.", state="odd")
        )
    late = any((stay.off or today) > contract.off_on for stay in stays)
    if contract.late_day_pence and late:
        words = "Days past the day agreed are charged as kept by the grower; where the farm came late they are not owed."
        notes.append(Note(words, state="odd"))
    if any(stay.off is None for stay in stays):
        notes.append(Note("Hives still stand on the crop: days and sums run to this day.", dates.long(today)))
    return tuple(notes)
