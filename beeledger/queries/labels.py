"""Batches and their labels: the list, the card, the print run of labels, and the record for paper."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from sqlalchemy import ColumnElement, ScalarSelect, Select, func, select
from sqlalchemy.orm import Session

from beeledger.base.dates import long
from beeledger.base.text import counted
from beeledger.base.units import per_cent, scaled
from beeledger.model.acts import Act, ActRow
from beeledger.model.dispatches import Dispatch
from beeledger.model.honey import Batch, HoneyLot, HoneyTransfer, JarWeight
from beeledger.model.parties import Party
from beeledger.queries.farm import FarmSettings, farm_settings
from beeledger.queries.honey import blend_readings, readings_of
from beeledger.queries.records.batch_card import BatchCard, BatchLine, FromLot, Gone
from beeledger.queries.records.batch_record import (
    BalancePart,
    BatchRecord,
    JarCount,
    ParticularLine,
    WeighingCheck,
)
from beeledger.queries.records.heading import Note
from beeledger.queries.records.label_sheet import LabelRun
from beeledger.queries.records.label_words import LabelWords, words_kept
from beeledger.queries.trace import Ancestry, ancestry, country_shares, origins_of, sources
from beeledger.rules.jars import AT_JARRING, jars_of
from beeledger.rules.label_codes import element_string
from beeledger.rules.label_sheets import load_sheets
from beeledger.rules.labels import DateForm, Label, Market, Origin, date_words, infant_caution, origin_words
from beeledger.rules.lot_marks import read_mark
from beeledger.rules.weighing import check_weights

_WITH_ARTICLE = ("United Kingdom", "Netherlands", "Czech Republic", "United States", "Philippines")


def batches(session: Session, limit: int = 4000) -> tuple[BatchLine, ...]:
    """The batches, newest first: one statement."""
    return tuple(_line(row) for row in session.execute(_lines().limit(limit)).all())


def batch_card(session: Session, batch_id: int) -> BatchCard | None:
    """Everything of one batch; None when there is none. A fixed number of statements."""
    row = session.execute(_lines().where(Batch.id == batch_id)).first()
    if row is None:
        return None
    batch = session.get_one(Batch, batch_id)
    line, farm, known = _line(row), farm_settings(session), ancestry(session, batch.lot_id)
    origins, readings = origins_of(session, known), readings_of(session, list(known.lots))
    moisture = {lot: kinds["moisture"].value for lot, kinds in readings.items() if "moisture" in kinds}
    out, words = _gone(session, batch.lot_id), words_kept(batch.label)
    drawn = sum(known.sources_of(batch.lot_id).values())
    weights = session.scalars(
        select(JarWeight.net_tenths_g).where(JarWeight.batch_id == batch_id).order_by(JarWeight.number)
    )
    return BatchCard(
        line=line, lot_id=batch.lot_id, drawn_g=drawn, drawn_from=_drawn_from(session, known),
        spent=tuple(each for each in out if each.what in AT_JARRING and each.jars is None),
        gone=tuple(each for each in out if each.what not in AT_JARRING or each.jars is not None),
        sources=sources(known, origins, drawn, moisture), readings=blend_readings(known, readings),
        net_tenths=tuple(weights), label=label_of(batch, words, farm, country_shares(known, origins)), words=words,
        sheet=batch.sheet, gtin=batch.gtin or "", used=batch.labels_used, spoiled=batch.labels_spoiled,
        by=_who(session, batch_id),
    )  # fmt: skip


def customers(session: Session) -> tuple[str, ...]:
    """The names of the farm's customers: one statement."""
    return tuple(session.scalars(select(Party.name).where(Party.is_customer).order_by(Party.name)))


def label_run(
    session: Session, batch_id: int, count: int | None = None, first: int = 0, *, outlines: bool = False
) -> LabelRun:
    """The labels of a batch to print: ``count`` of them (one a jar when None), from place ``first`` on."""
    card = batch_card(session, batch_id)
    if card is None:
        raise ValueError(f"there is no batch {batch_id}")
    return run_of(card, count, first, outlines=outlines)


def run_of(card: BatchCard, count: int | None = None, first: int = 0, *, outlines: bool = False) -> LabelRun:
    """The same from a card that is read already."""
    label = card.label
    code = element_string(str(read_mark(label.lot_mark)), label.best_before, label.date_form, label.gtin)
    return LabelRun(
        label, load_sheets()[card.sheet], card.line.jars if count is None else count,
        float(card.words.surface_cm2), code, first, outlines=outlines,
    )  # fmt: skip


def label_of(batch: Batch, words: LabelWords, farm: FarmSettings, shares: Mapping[str, int]) -> Label:
    """What stands on the jars: the words decided, and what follows from batch, farm and honey."""
    market = Market(words.market)
    origins = tuple(Origin(_with_article(country), share) for country, share in shares.items())
    lines = farm.packer_address or farm.address
    return Label(
        name=words.name, net_g=batch.jar_g, origins=origins,
        origin_words=words.origin_words or origin_words(origins, market, batch.jarred_on),
        lot_mark=read_mark(batch.lot_mark).printed(), packed_on=batch.jarred_on, best_before=batch.best_before,
        date_form=DateForm(words.date_form), business=words.business or farm.name,
        address=words.address or ", ".join(lines), product=words.product,
        infant_caution=infant_caution() if words.infant_caution else "", floral=words.floral, region=words.region,
        other_words=words.other_words, imperial=words.imperial, e_mark=words.e_mark, gtin=batch.gtin or "",
        market=market,
    )  # fmt: skip


def batch_record(session: Session, batch_id: int, particulars: Sequence[ParticularLine] = ()) -> BatchRecord:
    """The record for paper. ``particulars`` come from the label as drawn: the law's own look at it."""
    card = batch_card(session, batch_id)
    if card is None:
        raise ValueError(f"there is no batch {batch_id}")
    return record_of(card, particulars)


def record_of(card: BatchCard, particulars: Sequence[ParticularLine] = ()) -> BatchRecord:
    """The same from a card that is read already."""
    line, mean = card.line, scaled(card.jar_mean_tenths, 10, 1)
    parts = [BalancePart("jars", line.jars_g, f"{line.jars:,} × {mean} g")]
    parts += [BalancePart(each.what, each.grams, each.note) for each in card.spent]
    label = card.label
    return BatchRecord(
        lot=label.lot_mark, product=line.product, jarred=line.jarred_on, nominal_g=line.jar_g, jars=line.jars,
        sources=card.sources, in_g=card.drawn_g, parts=tuple(parts),
        best_before=date_words(label.best_before, label.date_form).removeprefix("Best before "), by=card.by,
        readings=card.readings, weighing=weighing_of(card), particulars=tuple(particulars), counts=_counts(card),
        dispatched=tuple(_went(each) for each in card.gone), notes=_notes(card),
    )  # fmt: skip


def weighing_of(card: BatchCard) -> WeighingCheck | None:
    """The weighing check with its verdicts in words; None when nothing was weighed."""
    if not card.net_tenths:
        return None
    check = check_weights(card.line.jar_g, card.net_tenths)
    limits, number = check.tolerance, check.weighed
    t1, t2 = scaled(limits.t1_tenths_g, 10, 1), scaled(limits.t2_tenths_g, 10, 1)
    jars = counted(check.below_t1, "jar")
    verdicts = (
        _verdict(f"Mean {check.mean_g:.1f} g; not below {card.line.jar_g:,} g", met=check.mean_met),
        _verdict(
            f"{jars} of {number} ({per_cent(check.short_share_hundredths)} %) below {t1} g (T1); at most 2.5 %",
            met=check.short_met,
        ),
        _verdict(
            f"{counted(check.below_t2, 'jar')} below {t2} g (T2); none may be", met=check.none_inadequate
        ),
    )
    return WeighingCheck(
        card.line.jar_g, card.net_tenths, limits.t1_tenths_g, limits.t2_tenths_g, "net weights", verdicts,
        check.source,
    )  # fmt: skip


def _verdict(words: str, *, met: bool) -> Note:
    return Note(words, state="met" if met else "late")


def _lines() -> Select[Any]:
    def grams(*conditions: ColumnElement[bool]) -> ScalarSelect[Any]:
        return (
            select(func.coalesce(func.sum(HoneyTransfer.grams), 0))
            .where(*conditions)
            .correlate(Batch)
            .scalar_subquery()
        )

    came = grams(HoneyTransfer.to_lot_id == Batch.lot_id)
    gone = grams(HoneyTransfer.from_lot_id == Batch.lot_id)
    lost = grams(
        HoneyTransfer.from_lot_id == Batch.lot_id, HoneyTransfer.sink.in_(AT_JARRING), HoneyTransfer.jars.is_(None)
    )  # fmt: skip
    weighed = (
        select(func.count(JarWeight.id))
        .where(JarWeight.batch_id == Batch.id)
        .correlate(Batch)
        .scalar_subquery()
    )
    return (
        select(
            Batch.id, Batch.lot_mark, Batch.product, Batch.jar_g, Batch.jars, Batch.jarred_on, Batch.best_before,
            Batch.labels_printed, weighed, came - lost, came - gone, HoneyLot.hold,
        )
        .join(HoneyLot, HoneyLot.id == Batch.lot_id)
        .order_by(Batch.jarred_on.desc(), Batch.id.desc())
    )  # fmt: skip


def _line(row: Sequence[Any]) -> BatchLine:
    return BatchLine(
        row[0], row[1], row[2], row[3], row[4], row[5], row[6], row[7], int(row[8]), int(row[9]), int(row[10]),
        row[11],
    )  # fmt: skip


def _gone(session: Session, lot_id: int) -> list[Gone]:
    rows = session.execute(
        select(
            HoneyTransfer.sink, HoneyTransfer.grams, HoneyTransfer.on, Party.name, HoneyTransfer.note,
            HoneyTransfer.jars, Dispatch.note, Dispatch.reference, Dispatch.way,
        )
        .outerjoin(Party, Party.id == HoneyTransfer.party_id)
        .outerjoin(Dispatch, Dispatch.id == HoneyTransfer.dispatch_id)
        .where(HoneyTransfer.from_lot_id == lot_id)
        .order_by(HoneyTransfer.on, HoneyTransfer.id)
    )  # fmt: skip
    return [_one_gone(*row) for row in rows]


def _one_gone(
    sink: str | None, grams: int, on: date, party: str | None, note: str | None, jars: int | None,
    said: str | None, reference: str | None, way: str | None,
) -> Gone:  # fmt: skip
    what = sink or "returned"
    whom = party or ("the public" if way == "public" else "")
    count = counted(jars, "jar") if jars else ""
    words = "; ".join(part for part in (count, note, said, reference) if part)
    return Gone(what, grams, on, whom, words, jars)


def _drawn_from(session: Session, known: Ancestry) -> tuple[FromLot, ...]:
    drawn = known.sources_of(known.target)
    rows = session.execute(
        select(HoneyTransfer.from_lot_id, func.sum(HoneyTransfer.grams))
        .where(HoneyTransfer.from_lot_id.in_(list(drawn)))
        .group_by(HoneyTransfer.from_lot_id)
    )
    gone = {lot_id: int(grams) for lot_id, grams in rows}
    return tuple(
        FromLot(lot, known.lots[lot].kind, known.lots[lot].name, grams, known.came_g(lot) - gone.get(lot, 0))
        for lot, grams in drawn.items()
    )


def _who(session: Session, batch_id: int) -> str:
    first = (
        select(Act.who)
        .join(ActRow, ActRow.act_id == Act.id)
        .where(ActRow.table == "batch", ActRow.row_id == batch_id)
        .order_by(Act.id)
        .limit(1)
    )
    return session.scalar(first) or ""


def _counts(card: BatchCard) -> tuple[JarCount, ...]:
    line = card.line
    loose = sum(each.grams for each in card.gone if each.jars is None)
    jars_out = sum(each.jars or 0 for each in card.gone) + jars_of(loose, line.jars, line.jars_g)
    lost = sum(each.jars or 0 for each in card.gone if each.what in AT_JARRING)
    return (
        JarCount(f"Jars of {line.jar_g:,} g", line.jars, jars_out - lost, lost, line.jars - jars_out),
        JarCount("Labels", line.printed, card.used, card.spoiled, line.printed - card.used - card.spoiled),
    )


def _went(gone: Gone) -> Note:
    whom = f" to {gone.party}" if gone.party else ""
    note = f", {gone.note}" if gone.note else ""
    return Note(f"{gone.what.capitalize()}, {scaled(gone.grams, 1000, 3)} kg{whom}{note}", long(gone.on))


def _notes(card: BatchCard) -> tuple[Note, ...]:
    drawn = [
        Note(f"Drawn {scaled(each.drawn_g, 1000, 3)} kg from {each.name}; {scaled(each.left_g, 1000, 3)} kg left in it")
        for each in card.drawn_from
    ]  # fmt: skip
    return (*drawn, *([Note(f"Held: {card.line.hold}", state="held")] if card.line.hold else []))


def _with_article(country: str) -> str:
    return f"the {country}" if country in _WITH_ARTICLE else country
