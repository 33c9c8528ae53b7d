"""Honey from the supers to the tank: extracted into drums, blended, and read.

Every act keeps the balance to the gram: what comes out of a lot went into it before, and what is not
found again has a name (wax, foam, spill, loss).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from sqlalchemy import select

from beeledger.base import dates
from beeledger.base.findings import Finding, Where
from beeledger.base.text import counted, listed, tidy
from beeledger.base.units import kilograms, per_cent, share_out
from beeledger.database.audit import OpenAct
from beeledger.model.honey import READINGS, HoneyLot, HoneyTransfer, Reading
from beeledger.operations.honey_lots import (
    Draw,
    Spent,
    check_day,
    check_draws,
    check_scale,
    check_spent,
    free_name,
    left_in,
    lots_of,
    refusal,
    refuse,
    same_or,
    transfer,
)
from beeledger.queries.honey import verdict_of
from beeledger.rules import trace
from beeledger.rules.honey import check_refractometer, moisture_from_ri
from beeledger.rules.honey_composition import Kind, Verdict

BLEND = "blossom"
"""What a mixture of kinds counts as until somebody says otherwise."""


@dataclass(frozen=True, slots=True)
class Filled:
    """A drum, bucket or tank filled, on the scale; its moisture where it was read at once."""

    name: str
    gross_g: int
    tare_g: int
    kind: str = "drum"
    refractive_index_e5: int | None = None
    temperature_tenths: int | None = None
    moisture_hundredths: int | None = None
    """Where the refractometer shows the moisture itself."""

    @property
    def net_g(self) -> int:
        """The honey."""
        return self.gross_g - self.tare_g


@dataclass(frozen=True, slots=True)
class NewExtraction:
    """One run of the extractor: the lots of supers that went in, what was filled, what was spent.

    ``finish``: all of it is extracted; what is not found again is written as loss.
    """

    on: date
    lot_ids: tuple[int, ...]
    filled: tuple[Filled, ...]
    spent: tuple[Spent, ...] = ()
    finish: bool = True
    honey_kind: str | None = None


@dataclass(frozen=True, slots=True)
class NewBlend:
    """Honey of several lots run together. ``into_id``: into a lot that is there already."""

    on: date
    draws: tuple[Draw, ...]
    name: str = ""
    kind: str = "tank"
    into_id: int | None = None
    honey_kind: str | None = None
    accepted: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class NewReading:
    """A reading of a lot. Moisture may be given as what the refractometer showed and its temperature."""

    lot_id: int
    kind: str
    on: date
    value: int | None = None
    """In the unit of the kind, as ``model.honey.Reading`` has it."""
    refractive_index_e5: int | None = None
    temperature_tenths: int | None = None
    source: str | None = None


def extract_run(act: OpenAct, new: NewExtraction) -> str:
    """Write a run of the extractor; ``act.result`` are the ids of what was filled, in order.

    Every drum gets its share of each lot that went in, by what the lot still held. Refused when more came
    out than was weighed in.
    """
    left = left_in(act, new.lot_ids)
    refuse(_check_run(act, new, left))
    lots = list(lots_of(act, new.lot_ids).values())
    remaining = {lot_id: left[lot_id] for lot_id in new.lot_ids}
    ids = []
    for each in new.filled:
        lot = _new_lot(act, new.on, each.name, each.kind, each.tare_g, lots, new.honey_kind)
        transfer(act, new.on, _shares(remaining, each.net_g), lot.id)
        _read_filled(act, new.on, lot, each)
        ids.append(lot.id)
    spent = list(new.spent)
    if new.finish and (rest := sum(remaining.values()) - sum(each.grams for each in spent)):
        spent.append(Spent("loss", rest, "not found again: left in combs, pails and extractor"))
    for one in spent:
        _spend(act, new.on, _shares(remaining, one.grams), one)
    act.result = ids
    filled = sum(each.net_g for each in new.filled)
    names = listed([each.name for each in new.filled]) if len(new.filled) < 4 else f"{len(new.filled)} drums"
    return f"Extracted {kilograms(filled)} kg into {names}"


def blend(act: OpenAct, new: NewBlend) -> str:
    """Write honey of lots run together; ``act.result`` is the id of the lot it went into."""
    findings = check_day(act, new.on) + check_draws(act, new.draws, new.on, new.accepted)
    if new.into_id is not None:
        findings += _check_ring(act, new)
    elif not tidy(new.name):
        findings.append(refusal("lot.name", "say what it is run into", "name"))
    refuse(findings, new.accepted)
    lots = list(lots_of(act, [draw.lot_id for draw in new.draws]).values())
    if new.into_id is not None:
        lot = act.session.get_one(HoneyLot, new.into_id)
        lot.country = same_or([lot.country, *(each.country for each in lots)], "several")
    else:
        lot = _new_lot(act, new.on, new.name, new.kind, None, lots, new.honey_kind)
    transfer(act, new.on, new.draws, lot.id)
    act.result = lot.id
    grams = sum(draw.grams for draw in new.draws)
    return f"Ran {kilograms(grams)} kg of {counted(len(lots), 'lot')} into {lot.name}"


def read_lot(act: OpenAct, new: NewReading) -> str:
    """Write a reading. One outside the limit of the lot's kind puts the lot on hold; one within lifts that.

    A reading written down late changes nothing where a newer one is there.
    """
    lot = act.session.get_one(HoneyLot, new.lot_id)
    refuse(check_day(act, new.on) + _check_reading(new, lot))
    value = new.value
    if value is None:
        assert new.refractive_index_e5 is not None
        value = moisture_from_ri(new.refractive_index_e5, _at(new.temperature_tenths))
    act.session.add(
        Reading(
            lot_id=lot.id, kind=new.kind, on=new.on, value=value, refractive_index_e5=new.refractive_index_e5,
            temperature_tenths=new.temperature_tenths, source=new.source,
        )
    )  # fmt: skip
    newer = act.session.scalars(
        select(Reading.id).where(Reading.lot_id == lot.id, Reading.kind == new.kind, Reading.on > new.on)
    ).first()
    if newer is None:
        _hold_by(lot, verdict_of(new.kind, value, Kind(lot.honey_kind)))
    said = f"Read {lot.name}: {new.kind} " + (
        f"{per_cent(value)} %" if new.kind == "moisture" else f"{value}"
    )
    return f"{said}; held" if lot.hold else said


_ALSO = "; "
"""Between the reasons of a hold: a reading lifts its own and no other."""


def _hold_by(lot: HoneyLot, verdict: Verdict | None) -> None:
    if verdict is None:
        return
    other = [why for why in (lot.hold or "").split(_ALSO) if why and not why.startswith(f"{verdict.name} ")]
    lot.hold = _ALSO.join([*other, *([verdict.sentence()] if verdict.met is False else [])]) or None


def _check_reading(new: NewReading, lot: HoneyLot) -> list[Finding]:
    if new.kind not in READINGS:
        return [refusal("reading.kind", f"{new.kind} is nothing that is read of honey", "kind")]
    if new.on < lot.opened_on:
        return [refusal("honey.too-early", f"{lot.name} was filled on {dates.long(lot.opened_on)}", "on")]
    if new.value is None and (new.kind != "moisture" or new.refractive_index_e5 is None):
        return [refusal("reading.value", "nothing was read", "value")]
    if new.value is not None and new.value < 0:
        return [refusal("reading.value", "a reading is not below nought", "value")]
    if new.refractive_index_e5 is not None:
        where = Where(field="refractive_index_e5")
        return check_refractometer(new.refractive_index_e5, _at(new.temperature_tenths), where)
    return []


def _check_run(act: OpenAct, new: NewExtraction, left: dict[int, int]) -> list[Finding]:
    draws = [Draw(lot_id, max(1, left[lot_id])) for lot_id in new.lot_ids]
    findings = check_day(act, new.on) + check_spent(new.spent) + check_scale(new.filled)
    findings += check_draws(act, draws, new.on)
    names = [tidy(each.name) for each in new.filled]
    if len(set(new.lot_ids)) < len(new.lot_ids):
        findings.append(refusal("honey.twice", "a lot stands twice in the run", "lot_ids"))
    for row, name in enumerate(names, start=1):
        if not name or names.count(name) > 1:
            what = f"{name} is filled twice" if name else "say which drum it is"
            findings.append(refusal("lot.name", what, "name", row=row))
    out = sum(each.net_g for each in new.filled) + sum(each.grams for each in new.spent)
    had = sum(left.values())
    if out > had:
        what = f"{kilograms(out, 3)} kg came out, but {kilograms(had, 3)} kg were weighed in"
        mend = "Weigh the drums again, or correct the weight of the empty supers"
        findings.append(refusal("honey.overdrawn", what, "gross_g", mend))
    return findings


def _check_ring(act: OpenAct, new: NewBlend) -> list[Finding]:
    rows = act.session.execute(
        select(HoneyTransfer.from_lot_id, HoneyTransfer.to_lot_id, HoneyTransfer.grams).where(
            HoneyTransfer.from_lot_id.is_not(None), HoneyTransfer.to_lot_id.is_not(None)
        )
    ).all()
    flows = [trace.Transfer(row[0] or 0, row[1] or 0, row[2]) for row in rows]
    flows += [trace.Transfer(draw.lot_id, new.into_id or 0, max(1, draw.grams)) for draw in new.draws]
    if not trace.find_ring(flows):
        return []
    return [refusal("honey.ring", "that honey came from this lot: it cannot flow back into it", "into_id")]


def _new_lot(
    act: OpenAct, on: date, name: str, kind: str, tare_g: int | None, sources: Sequence[HoneyLot],
    honey_kind: str | None,
) -> HoneyLot:  # fmt: skip
    lot = HoneyLot(
        kind=kind, name=free_name(act, name), opened_on=on, tare_g=tare_g,
        country=same_or((each.country for each in sources), "several"),
        honey_kind=honey_kind or same_or((each.honey_kind for each in sources), BLEND),
    )  # fmt: skip
    act.session.add(lot)
    act.session.flush()
    return lot


def _shares(remaining: dict[int, int], grams: int) -> list[Draw]:
    """Draw ``grams`` from the lots by what each still holds; takes them off ``remaining``."""
    if not grams:
        return []
    parts = share_out(grams, list(remaining.values()))
    draws = [Draw(lot_id, part) for lot_id, part in zip(remaining, parts, strict=True) if part]
    for draw in draws:
        remaining[draw.lot_id] -= draw.grams
    return draws


def _spend(act: OpenAct, on: date, draws: Sequence[Draw], spent: Spent) -> None:
    act.session.add_all(
        HoneyTransfer(on=on, from_lot_id=draw.lot_id, sink=spent.sink, grams=draw.grams, note=spent.note)
        for draw in draws
    )


def _read_filled(act: OpenAct, on: date, lot: HoneyLot, each: Filled) -> None:
    if each.moisture_hundredths is None and each.refractive_index_e5 is None:
        return
    act.session.flush()
    read_lot(
        act,
        NewReading(
            lot.id, "moisture", on, each.moisture_hundredths, each.refractive_index_e5, each.temperature_tenths,
            "own refractometer",
        ),
    )  # fmt: skip


def _at(temperature_tenths: int | None) -> int:
    return 200 if temperature_tenths is None else temperature_tenths
